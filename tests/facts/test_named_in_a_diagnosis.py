"""Work that only a diagnosis names, tools that only lay in a hand, and the size of the probe's own tip.

How such things are told is common practice, no source.
"""

from __future__ import annotations

import pytest

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.record import CaseRecord
from extractor.speech.transcript import Transcript


def _read(text: str) -> CaseRecord:
    return extract(Transcript(text=text), load_grammar())


@pytest.mark.parametrize("heading", ["Preoperative diagnosis", "Diagnosis", "Indication"])
@pytest.mark.parametrize("told", ["after partial lateral meniscectomy", "status post lateral meniscectomy"])
def test_an_operation_in_a_diagnosis_is_not_todays(heading: str, told: str) -> None:
    record = _read(
        f"{heading}: left knee pain {told}.\nProcedure: left lateral meniscus transplant.\n"
        "The lateral meniscus was looked at and the rim was three millimeters."
    )
    assert "partial-meniscectomy" not in {p.code for p in record.procedures if p.status == "performed"}
    assert record.laterality is not None and record.laterality.value == "left"


@pytest.mark.parametrize(
    "told, done",
    [
        ("I had the microfracture awl opened.", False),
        ("A microfracture set was on the table.", False),
        ("Microfracture was done with the awl, holes four millimeters apart.", True),
    ],
)
def test_a_tool_in_hand_is_no_deed(told: str, done: bool) -> None:
    record = _read(f"Right knee arthroscopy. The cartilage of the medial femoral condyle was debrided. {told}")
    assert ("microfracture" in {s.code for s in record.steps if s.status == "performed"}) is done


def test_the_tip_of_the_probe_is_no_tear() -> None:
    lead = "Right knee, medial meniscus repair. The tear was rasped."
    assert not _read(f"{lead} The tip of the probe is four millimeters.").measurements
    found = _read(f"{lead} The tear was four millimeters by the tip of the probe.").measurements
    assert [(m.what, m.value) for m in found] == [("tear.length", 4)]
