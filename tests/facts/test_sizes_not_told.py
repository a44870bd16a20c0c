"""Sizes that are denied, guessed, or of another time, with the size that was measured beside them."""

from __future__ import annotations

import pytest

from .reading import facts

ASIDES = (
    "There was never a rim of six millimeters.",
    "Not a rim of six millimeters.",
    "The resident guessed a rim of six millimeters.",
    "I had expected a rim of six millimeters.",
    "On the right side, two years back, there was a rim of six millimeters.",
    "We were told of a rim of six millimeters.",
)


@pytest.mark.parametrize("aside", ASIDES)
@pytest.mark.parametrize("first", [True, False])
def test_what_is_only_spoken_of_is_no_size_of_this_case(aside: str, first: bool) -> None:
    own = "The rim measured two millimeters."
    said = f"{aside} {own}" if first else f"{own} {aside}"
    told = facts(f"Left knee, medial meniscus transplant. {said}", "measurements")
    assert [m["value"] for m in told if m["what"] == "rim.width" and m.get("role") != "reference"] == [2]
