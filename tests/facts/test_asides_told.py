"""What is told beside the case: what a thing holds, how long a cuff may stay up, what stayed away, what was asked for.

The sayings are the project's own; that surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts

HELD = (
    "The rep tells me they hold a hundred newtons, well, he would.",
    "The rep says the screw holds eight hundred newtons.",
    "According to the company the suture breaks at three hundred newtons.",
    "The vendor promises a pull out strength of six hundred newtons.",
    "In the lab these grafts take two thousand newtons.",
)
LIMITS = (
    "120 minutes are in our house the border",
    "allowed are with us 120 minutes",
    "with 120 minutes the bell rings",
    "120 minutes is where we draw the line",
    "120 minutes is the ceiling here",
    "our limit is 120 minutes",
)
AWAY = (
    "The screw of 5 millimeter, the alternative, in the box remained.",
    "A screw of 5 millimeter, just in case, on the table it stayed.",
    "The second screw, 5 millimeter, is in the drawer remained.",
)
OPEN = (
    "He'll ring you and ask about full weight, tell him that's for the X-ray to decide.",
    "He wanted full weight bearing, I said no.",
    "No full weight bearing before the scan.",
    "Full weight bearing is decided on the X-ray.",
    "When full weight comes we'll see.",
    "His wife asks when he may put full weight on it, not before I say so.",
    "Full weight bearing only after I've seen the films.",
)
ALLOWED = (
    "Full weight bearing from today.",
    "I told him full weight bearing, right away.",
    "There is nothing against full weight bearing.",
    "No brace and full weight bearing.",
    "Full weight bearing, the patient was told.",
)


@pytest.mark.parametrize("said", HELD)
def test_what_a_thing_holds_is_no_pull_of_the_case(said: str) -> None:
    told = facts(
        f"Left knee, A C L reconstruction. {said} The graft was tensioned with eighty newtons.", "measurements"
    )
    assert [m["value"] for m in told if m["what"] == "tension.force"] == [80]


@pytest.mark.parametrize("said", LIMITS)
def test_how_long_a_cuff_may_stay_up_is_no_time_of_the_case(said: str) -> None:
    told = facts(f"Right knee, medial root repair. The tourniquet was up 112 minutes, {said}.", "measurements")
    assert [m["value"] for m in told if m["what"] == "tourniquet.time"] == [112]


@pytest.mark.parametrize("said", AWAY)
def test_what_stayed_away_is_no_device(said: str) -> None:
    assert not facts(f"Right knee, medial root repair. {said}", "devices")


def _loading(text: str) -> list[object]:
    told = facts(f"Left knee, medial meniscus repair. {text}", "plan")
    return [p["value"] for p in told if p["item"] == "weight-bearing"]


@pytest.mark.parametrize("said", OPEN)
def test_a_loading_asked_for_or_left_open_is_no_plan(said: str) -> None:
    assert _loading(f"Partial weight bearing for six weeks. {said}") == ["partial"]


@pytest.mark.parametrize("said", ALLOWED)
def test_a_loading_allowed_is_one(said: str) -> None:
    assert _loading(said) == ["full"]
