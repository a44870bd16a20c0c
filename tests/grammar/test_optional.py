"""A pack from outside: rotator cuff repair, by the guide alone, as data; it changes nothing in notes on a knee.

The notes are invented here.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path
from typing import Any

import pytest
import yaml

from extractor.grammar.limits import load_limits
from extractor.grammar.packs import Grammar, load_grammar, shipped_grammars
from extractor.outputs.examples import chosen, try_examples
from extractor.outputs.ledger import ledger
from extractor.outputs.note import note_text
from extractor.outputs.tables import tables
from extractor.outputs.wording import Wording
from extractor.pipeline import extract
from extractor.record import CaseRecord
from extractor.record.models import LISTS
from extractor.speech.transcript import Transcript

OPTIONAL = shipped_grammars() / "optional"
GOLD = sorted((Path(__file__).resolve().parents[1] / "gold").glob("n*.yaml"))
DICTATED = (
    "Right shoulder arthroscopy with rotator cuff repair, double row. Beach chair, prepped and draped, time out done. "
    "There was a full thickness tear of the supraspinatus. It measured twenty five millimeters from front to back and "
    "eighteen millimeters toward the midline. The tendon was retracted by fifteen millimeters. I released the cuff "
    "above and below. The footprint was abraded with the burr. Two 4.75 millimeter anchors were placed in the medial "
    "row. The sutures were passed through the cuff and tied. Then three 4.75 millimeter anchors were placed in the "
    "lateral row. No acromioplasty was needed. Portals were closed. Blood loss ten cc."
)
RUN_ON = (
    "left shoulder scope and cuff repair um the tear was three by two centimeters it was retracted two centimeters i "
    "freed up the cuff burred the tuberosity then two five millimeter anchors in the medial row passed the sutures "
    "through the cuff and tied them down"
)
TEAR = "cuff_tear"


@pytest.fixture(scope="module")
def ours() -> Grammar:
    return load_grammar([OPTIONAL])


def read(text: str, grammar: Grammar) -> CaseRecord:
    return extract(Transcript(text=text), grammar, case_id="s")


def measured(record: CaseRecord) -> dict[str, float | None]:
    return {m.what: m.value for m in record.measurements}


def devices(record: CaseRecord) -> list[tuple[Any, ...]]:
    return [(d.kind, d.size, d.count, d.site) for d in record.devices]


def test_every_example_of_the_pack_reads(ours: Grammar) -> None:
    tally = try_examples(chosen(ours, ["rotator-cuff"]), ours)
    assert tally.rules > 10 and not [str(failure) for failure in tally.failures]


def test_a_dictated_note_becomes_facts(ours: Grammar) -> None:
    record = read(DICTATED, ours)
    assert record.laterality and (record.laterality.value, record.laterality.joint) == ("right", "shoulder")
    assert [(p.code, p.side) for p in record.procedures] == [("rotator-cuff-repair", "right")]
    assert measured(record) == {
        f"{TEAR}.ap_length": 25, f"{TEAR}.ml_width": 18, f"{TEAR}.retraction": 15, "blood_loss.volume": 10
    }  # fmt: skip
    assert devices(record) == [("anchor", 4.75, 2, "medial-row"), ("anchor", 4.75, 3, "lateral-row")]
    done = [s.code for s in record.steps if s.status == "performed"]
    order = ["cuff-release", "footprint-preparation", "anchor-placement", "cuff-suture-passage", "cuff-tying"]
    assert [code for code in done if code in order] == order and "tourniquet-deflation" not in done
    assert [(s.code, s.status) for s in record.steps if s.code == "acromioplasty"] == [("acromioplasty", "declined")]
    assert not [f for f in record.flags if f.severity == "stop"]


def test_speech_without_punctuation_becomes_facts(ours: Grammar) -> None:
    record = read(RUN_ON, ours)
    assert record.laterality and record.laterality.value == "left"
    assert measured(record) == {f"{TEAR}.ap_length": 30, f"{TEAR}.ml_width": 20, f"{TEAR}.retraction": 20}
    assert devices(record) == [("anchor", 5, 2, "medial-row")]
    assert [p.code for p in record.procedures] == ["rotator-cuff-repair"]


@pytest.mark.parametrize("text", [DICTATED, RUN_ON])
def test_every_number_is_accounted_for(text: str, ours: Grammar) -> None:
    went = {entry.went for entry in ledger(text, ours)}
    assert went == {"fact", "device"}


def test_note_and_tables_are_written_of_it(ours: Grammar) -> None:
    record = read(DICTATED, ours)
    note = note_text(record, Wording.of(load_limits([OPTIONAL])))
    assert "RIGHT shoulder of the patient" in note and "knee" not in note.lower()
    assert "front-to-back length of the cuff tear: 25 mm" in note.lower() and "medial row" in note
    rows = list(csv.DictReader(io.StringIO(tables([record])["measurements"])))
    assert {(r["what"], r["value"], r["unit"]) for r in rows} >= {(f"{TEAR}.retraction", "15", "mm")}


@pytest.mark.parametrize("text", [DICTATED, RUN_ON])
def test_without_the_pack_the_same_note_yields_nothing(text: str, grammar: Grammar) -> None:
    record = read(text, grammar)
    assert record.laterality is None and not record.flags
    assert not any(getattr(record, kind) for kind in LISTS)


def test_the_pack_changes_nothing_in_notes_on_a_knee(ours: Grammar, grammar: Grammar) -> None:
    """Not even where a shoulder is spoken of. Every third note is read with and without it."""
    notes = [yaml.safe_load(path.read_text(encoding="utf-8"))["note"] for path in GOLD[::3]]
    notes.append(
        "Right knee scope, a pad under the left shoulder. The medial meniscus tear was ten millimeters from front "
        "to back, the biceps femoris was retracted by two centimeters. The tourniquet cuff was released."
    )
    assert len(notes) > 50
    for text in notes:
        assert read(text, ours) == read(text, grammar)


def test_nothing_of_the_knee_is_read_in_a_note_on_a_shoulder(ours: Grammar) -> None:
    text = "Left shoulder arthroscopy, cuff repair. Forward flexion was one hundred sixty degrees. Right knee fine."
    record = read(text, ours)
    assert record.laterality and record.laterality.value == "left"
    assert not record.measurements and not record.findings
    assert [f.check for f in record.flags] == ["unread-number"]


def test_of_two_subjects_the_one_most_is_said_of_reads_the_note(ours: Grammar) -> None:
    assert [own.packs for own in ours.subjects][1] == ("common", "rotator-cuff")
    assert ours.packs[-1] == "rotator-cuff" and "rotator-cuff" not in ours.subjects[0].packs
