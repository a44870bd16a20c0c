"""What a note is about: a novel, another joint, a scan and a visit give no facts of an operation on the knee."""

from __future__ import annotations

from pathlib import Path

import pytest

from extractor.facts.case import Case
from extractor.facts.engine import read_facts
from extractor.facts.scope import OPERATED, scope_of
from extractor.grammar.limits import limits_of
from extractor.grammar.packs import Grammar, load_grammar
from extractor.language.annotate import annotate

from .reading import facts, reading

NOVEL = (
    "The harbor lay gray under the morning, and the old pilot turned left along the quay, where eleven boats had been "
    "tied up since the storm. He had left his coat, and the rope he carried was twenty feet long. 'Right,' he said, "
    "'the white one first, then the blue.' Two men on top of the wall laughed; underneath, the water drained away."
)
HIP = (
    "Left hip arthroscopy. A labral tear of fifteen millimeters was seen in the anterior acetabulum. Three 2.3 mm "
    "anchors were placed in the acetabular rim and the labrum was repaired with white and blue suture. The rim was "
    "trimmed. Portals were closed. The hip was put in a brace, zero to ninety degrees."
)
SHOULDER = (
    "Right shoulder arthroscopy. The rotator cuff tear was two centimeters front to back. Two 5.5 mm anchors were "
    "placed in the humerus, the sutures tied. Subacromial bursa resected. The glenoid was intact."
)
SCAN = (
    "MRI of the left knee. Sagittal and coronal T2 and proton density images were obtained. There is a tear of the "
    "medial meniscus, twelve millimeters long. The ACL is intact. Impression: medial meniscus tear."
)
VISIT = (
    "Chief complaint: right knee pain. Physical examination: gait is normal, range of motion is zero to 120 degrees. "
    "Medications: none. Allergies: none. Assessment: medial meniscus tear. Treatment plan: meniscus repair was "
    "discussed; he will be scheduled."
)
REPLACEMENT = (
    "Total knee arthroplasty, left knee. The femoral component and the tibial component were cemented, a 10 mm "
    "polyethylene insert was placed. The meniscus was resected. The patellar component was trialed. Tourniquet time "
    "was eighty minutes."
)


@pytest.mark.parametrize("text", [NOVEL, HIP, SHOULDER], ids=["novel", "hip", "shoulder"])
def test_another_subject_gives_nothing(text: str) -> None:
    assert reading(text).drafts == ()
    assert reading(text).flags == ()


@pytest.mark.parametrize("text", [SCAN, VISIT], ids=["scan", "visit"])
def test_no_operation_gives_no_operative_facts(text: str) -> None:
    found = reading(text)
    assert not [d for d in found.drafts if d.kind in OPERATED and d.fields.get("status") not in ("prior", "planned")]
    assert found.flags == ()


def test_a_scan_keeps_its_findings() -> None:
    assert ("medial-meniscus", "tear") in {
        (d.fields.get("structure"), d.fields.get("finding")) for d in reading(SCAN).drafts
    }


def test_a_replacement_gives_only_what_any_operation_has() -> None:
    kinds = {d.kind for d in reading(REPLACEMENT).drafts}
    assert not kinds & {"sutures", "ties", "devices"}
    procedures = {d.fields["code"] for d in reading(REPLACEMENT).drafts if d.kind == "procedures"}
    assert not procedures & {"meniscus-repair", "partial-meniscectomy", "meniscus-transplant"}
    measured = {d.fields["what"]: d.fields["value"] for d in reading(REPLACEMENT).drafts if d.kind == "measurements"}
    assert measured == {"tourniquet.time": 80}


def test_a_pack_says_what_else_is_measured_in_any_operation(tmp_path: Path) -> None:
    pack = tmp_path / "clinic"
    pack.mkdir()
    limit = '["portal.length"]\ncalled = "length of the portal"\nunit = "mm"\nreplaces = true\n'
    text = REPLACEMENT + " Two portals of eight millimeters had been made."
    found = []
    for more in ("", "any_work = true\n"):
        (pack / "limits.toml").write_text(limit + more, encoding="utf-8")
        limits_of.cache_clear()
        grammar = load_grammar([pack])
        facts = read_facts(annotate(text, grammar)).drafts
        found.append("portal.length" in {d.fields["what"] for d in facts if d.kind == "measurements"})
    limits_of.cache_clear()
    assert found == [False, True]


@pytest.mark.parametrize(
    ("text", "about", "packs", "operation"),
    [
        (NOVEL, False, False, True),
        (SCAN, True, True, False),
        (REPLACEMENT, True, False, True),
        ("Right knee arthroscopy, meniscus repair. The tourniquet was inflated.", True, True, True),
    ],
    ids=["novel", "scan", "replacement", "knee"],
)
def test_scope(text: str, about: bool, packs: bool, operation: bool, grammar: Grammar) -> None:
    scope = scope_of(Case(annotate(text, grammar)))
    assert (scope.about, scope.packs, scope.operation) == (about, packs, operation)


def test_a_word_of_another_joint_does_not_hide_the_knee() -> None:
    text = "Right knee arthroscopy. The hip was flexed. The meniscal rim was rasped, the meniscus repaired."
    assert {d.fields["code"] for d in reading(text).drafts if d.kind == "steps"} >= {"rim-abrasion"}


@pytest.mark.parametrize(
    ("text", "side"),
    [
        ("Left high tibial osteotomy. Corrected by eight degrees.", "left"),
        ("HTO on the left. Eight degrees of correction with the plate.", "left"),
        ("Right distal femoral osteotomy.", "right"),
        ("Right tibial tubercle osteotomy.", "right"),
        ("Left MPFL reconstruction.", "left"),
        ("Right trochleoplasty.", "right"),
    ],
)
def test_work_that_is_only_done_on_a_knee_names_it(text: str, side: str) -> None:
    assert [f["value"] for f in facts(text, "laterality")] == [side]
