"""What was once misread, told in other words: sizes, minutes, pressures and deeds. Common practice, no source."""

from __future__ import annotations

import pytest

from tests.facts.reading import facts

REPAIR = "Right knee arthroscopy, medial meniscus repair. "
GRAFT = "Right knee, segmental medial meniscus transplantation. "
TRIM = "Right knee arthroscopy, partial medial meniscectomy. "

SIZES = [
    (REPAIR + "I sewed it side to side with three 2-0 sutures 5 millimeters apart.", "stitch.spacing", 5),
    (REPAIR + "The 12 millimeter radial tear was closed side to side.", "tear.length", 12),
    (GRAFT + "The defect was 20 millimeters front to back and 9 millimeters side to side.", "defect.width", 9),
    (REPAIR + "The lesion on the condyle measured 12 millimeters front to back and 8 side to side.", "lesion.width", 8),
    (TRIM + "Tourniquet time an hour at five minutes.", "tourniquet.time", 65),
    (TRIM + "Tourniquet for an hour plus ten minutes.", "tourniquet.time", 70),
    (TRIM + "Bleeding was ten.", "blood_loss.volume", 10),
    (TRIM + "Estimated bleeding 25.", "blood_loss.volume", 25),
    (GRAFT + "The rim was trimmed to a margin of two.", "rim.width", 2),
    (GRAFT + "Rim tidied to a margin of two and a half.", "rim.width", 2.5),
]
DEEDS = [
    (REPAIR + "Trephination went unperformed.", "trephination", "declined"),
    (REPAIR + "Microfracture: unperformed.", "microfracture", "declined"),
    (TRIM + "The tourniquet was inflated. No tourniquet complications.", "tourniquet-inflation", "performed"),
    (TRIM + "Leg exsanguinated, tourniquet at 280.", "tourniquet-inflation", "performed"),
    (TRIM + "Done without a tourniquet.", "tourniquet-inflation", "declined"),
]


@pytest.mark.parametrize(("text", "what", "value"), SIZES)
def test_a_size_is_read(text: str, what: str, value: float) -> None:
    assert [m["value"] for m in facts(text, "measurements") if m["what"] == what] == [value]


@pytest.mark.parametrize(("text", "code", "status"), DEEDS)
def test_a_deed_is_told_as_it_was(text: str, code: str, status: str) -> None:
    assert {s["status"] for s in facts(text, "steps") if s["code"] == code} == {status}
