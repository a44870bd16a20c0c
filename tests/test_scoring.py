"""The scorer of the annotated notes sees what is right, wrong, missed and invented."""

from __future__ import annotations

from copy import deepcopy
from typing import Any

import pytest

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript

from .scoring import PRIMARY, Score, score

NOTE = (
    "Left knee arthroscopy. The medial meniscus had a tear of fifteen millimeters length. The meniscal rim was rasped, "
    "and not trephined. Native meniscus: posterior superior white, posterior inferior blue. "
    "Posterior superior was tied to posterior inferior."
)
GOLD: dict[str, Any] = {
    "id": "t01",
    "note": NOTE,
    "facts": {
        "laterality": "left",
        "measurements": [{"what": "tear.length", "value": 15, "unit": "mm"}],
        "sutures": [
            {"tissue": "native", "region": "posterior", "surface": "superior", "color": "white"},
            {"tissue": "native", "region": "posterior", "surface": "inferior", "color": "blue"},
        ],
        "ties": [["posterior-inferior", "posterior-superior"]],
        "steps": ["rim-abrasion", "native-suture-passage", "suture-tying"],
        "not_performed": ["trephination"],
        "findings": [{"structure": "medial-meniscus", "finding": "tear"}],
    },
    "not_facts": {"measurements": [{"what": "tear.length", "value": 50}], "laterality": "right"},
    "no_flags": ["side-conflict"],
}


def scored(**changed: Any) -> Score:
    gold = deepcopy(GOLD)
    facts = changed.pop("facts", {})
    gold["facts"].update(facts)
    gold.update(changed)
    return score([(gold, extract(Transcript(text=NOTE), load_grammar()))])


def test_what_agrees_is_right() -> None:
    total = scored()
    assert total.f1(*PRIMARY, "steps", "findings") == 1.0, total.errors
    assert not any(total.bad.values()) and total.of == {"traps": 2, "not_performed": 1, "false_alarms": 1}


@pytest.mark.parametrize(
    ("kind", "annotated"),
    [
        ("laterality", "right"),
        ("measurements", [{"what": "tear.length", "value": 16, "unit": "mm"}]),
        ("measurements", [{"what": "tear.length", "low": 15, "unit": "mm"}]),
        ("measurements", [{"what": "tear.length", "value": 15, "unit": "cm"}]),
        ("sutures", [{"tissue": "graft", "region": "posterior", "surface": "superior"}]),
        ("ties", [["anterior-superior", "anterior-inferior"]]),
        ("steps", ["rim-preparation"]),
        ("findings", [{"structure": "lateral-meniscus", "finding": "tear"}]),
    ],
)
def test_what_differs_is_missed_and_extra(kind: str, annotated: object) -> None:
    total = scored(facts={kind: annotated})
    assert total.missed[kind] and total.extra[kind] and total.right[kind] == 0


def test_what_was_left_out_is_not_scored() -> None:
    total = scored(facts={"sutures": [{"surface": "superior"}, {"surface": "inferior"}]})
    assert total.f1("sutures") == 1.0


def test_the_optional_is_neither_right_nor_wrong() -> None:
    tear = {"what": "tear.length", "value": 15}
    assert scored(facts={"measurements": []}).extra["measurements"] == 1
    assert scored(facts={"measurements": []}, optional={"measurements": [tear]}).extra["measurements"] == 0


@pytest.mark.parametrize(
    ("name", "changed"),
    [
        ("traps", {"not_facts": {"measurements": [{"what": "tear.length", "value": 15}]}}),
        ("traps", {"not_facts": {"laterality": "left"}}),
        ("traps", {"not_facts": {"ties": [["posterior-superior", "posterior-inferior"]]}}),
        ("traps", {"not_facts": {"steps": ["rim-abrasion"]}}),
        ("not_performed", {"facts": {"steps": [], "not_performed": ["rim-abrasion"]}}),
        ("flags", {"flags": ["side-conflict"]}),
    ],
)
def test_untrue_things_are_counted(name: str, changed: dict[str, Any]) -> None:
    assert scored(**changed).bad[name] == 1
