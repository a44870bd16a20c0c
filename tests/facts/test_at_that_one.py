"""What a sentence opens with, of an earlier operation, holds for all that it tells in the past. Our own words."""

from __future__ import annotations

import pytest

from .reading import facts

THEN = (
    "He had a meniscal transplant last year. In that operation the gap was twenty millimeters long, the graft was cut "
    "at nineteen millimeters, and the tourniquet time was eighty-eight minutes.",
    "At the first operation the defect was twenty millimeters long, the graft was cut at nineteen millimeters, and the "
    "tourniquet was up for eighty-eight minutes.",
    "Back then the gap was twenty millimeters long, the graft was cut at nineteen millimeters, and the cuff stayed up "
    "eighty-eight minutes.",
)
SCANNED = (
    "On the scan of last month the lateral meniscus showed extrusion of three millimeters.",
    "The MRI of last week shows the lateral meniscus extruded by three millimeters.",
    "Three weeks ago the scan showed three millimeters of extrusion of the lateral meniscus.",
)


@pytest.mark.parametrize("told", THEN)
def test_all_that_a_sentence_tells_of_an_earlier_operation_is_of_then(told: str) -> None:
    text = f"Right knee, second look. {told} Today a diagnostic arthroscopy, tourniquet thirty minutes."
    now = [m for m in facts(text, "measurements") if m.get("role") != "reference"]
    assert [(m["what"], m["value"]) for m in now] == [("tourniquet.time", 30)]
    assert "graft-cut" not in {s["code"] for s in facts(text, "steps") if s["status"] == "performed"}


def test_what_is_done_behind_a_but_or_by_us_is_of_today() -> None:
    text = "Right knee arthroscopy. At the first operation the rim was trephined, but today it was rasped."
    assert {s["code"] for s in facts(text, "steps") if s["status"] == "performed"} >= {"rim-abrasion"}


@pytest.mark.parametrize("told", SCANNED)
def test_what_a_scan_of_late_showed_is_so(told: str) -> None:
    text = f"Right knee arthroscopy. {told}"
    assert [m["value"] for m in facts(text, "measurements") if m.get("role") != "reference"] == [3]
    assert [f["finding"] for f in facts(text, "findings")] == ["extrusion"]
