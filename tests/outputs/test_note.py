"""The operative note: sections as published, only what the record says, and its cautions."""

from __future__ import annotations

import re

from extractor.grammar.limits import load_limits
from extractor.outputs.note import NOT_DICTATED, note_text
from extractor.outputs.wording import Wording
from extractor.record import CaseRecord

from .builders import Said, whole_case

PUBLISHED = [
    "ANESTHESIA", "COMPLICATIONS", "PREOPERATIVE DIAGNOSIS", "POSTOPERATIVE DIAGNOSIS", "ESTIMATED BLOOD LOSS",
    "FINDINGS", "SPECIMENS TAKEN", "PROCEDURE DESCRIPTION", "IMPLANTS", "FLUIDS", "SURGICAL PROCEDURE", "INDICATIONS",
    "DISPOSITION", "SURGICAL DRAINS",
]  # fmt: skip
"""HL7 C-CDA 2.1, OperativeNote (template 2.16.840.1.113883.10.20.22.1.7): the required sections, then optional ones."""


def written(record: CaseRecord) -> str:
    return note_text(record, Wording.of(load_limits()))


def sections(text: str) -> dict[str, str]:
    parts = re.split(r"^([A-Z][A-Z ]+)$", text, flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def test_sections_stand_in_the_published_order() -> None:
    found = sections(written(whole_case().record()))
    assert [name for name in found if name in PUBLISHED] == PUBLISHED


def test_what_was_not_said_is_shown_as_not_dictated() -> None:
    found = sections(written(Said().say("steps", "rasped", code="rim-abrasion").record()))
    assert all(found[name].strip().startswith(NOT_DICTATED) for name in PUBLISHED if name != "PROCEDURE DESCRIPTION")
    assert "Side:       not dictated" in written(Said().record())


def test_facts_stand_in_their_sections() -> None:
    found = sections(written(whole_case().record()))
    assert "General." in found["ANESTHESIA"]
    assert "about 10 mL" in found["ESTIMATED BLOOD LOSS"]
    assert "ACL: intact" in found["FINDINGS"] and "19 mm" in found["FINDINGS"] and "No loose body" in found["FINDINGS"]
    description = found["PROCEDURE DESCRIPTION"]
    assert description.index("1. Rim abrasion") < description.index("2. Graft cut")
    assert "posterior superior tied to posterior inferior" in description
    assert "graft trimming: not done" in description.split("Spoken of, not done")[1]
    assert "1 mm" in description.split("habit, not of this case")[1]
    assert "Z9901" in found["IMPLANTS"]
    assert "Segmental medial meniscus transplant, left knee" in found["SURGICAL PROCEDURE"]


def test_every_number_in_it_is_in_the_record() -> None:
    """Step numbers apart, the note makes up no figure."""
    record = whole_case().record()
    text = re.sub(r"^\s+\d+\. ", "", written(record), flags=re.MULTILINE)
    known = set(re.findall(r"\d+(?:\.\d+)?", record.model_dump_json())) | {"0"}
    assert set(re.findall(r"\d+(?:\.\d+)?", text)) <= known | {str(int(float(k))) for k in known}


def test_it_is_a_draft_and_shows_its_doubts() -> None:
    text = written(whole_case().record(("value-conflict", "stop", ("m1",)), ("step-order", "review", ("st2",))))
    assert text.startswith("OPERATIVE NOTE - DRAFT, NOT SIGNED")
    assert "19 mm [!!]" in text and "Graft cut (oblique cut) [?]" in text
    assert "to settle: Message 0." in text and '"interior" read as "anterior"' in text


def test_a_rejected_fact_is_left_out() -> None:
    text = written(whole_case().record(rejected=("m1", "side")))
    assert "19 mm" not in text and "Side:       not dictated" in text
