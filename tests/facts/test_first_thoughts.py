"""What was said first and is not so: a value remembered or called out wrong, a color asked for and not to be had.

The sayings are the project's own; that surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts

TIMES = {  # by what: the note, its name, the unit, what is said first and what it was
    "tourniquet.time": ("medial meniscus repair", "the tourniquet time", "minutes", "fifty", "sixty-eight", 68),
    "blood_loss.volume": ("medial meniscus repair", "the blood loss", "milliliters", "twenty", "forty", 40),
    "tear.length": ("medial meniscus repair", "the tear", "millimeters", "fourteen", "eighteen", 18),
    "defect.ap_length": ("medial meniscus segmental allograft", "the gap", "millimeters", "nineteen", "twenty-two", 22),
}
SAYINGS = (
    "I keep saying {a} for {n}, it was {b} {u}.",
    "I remembered {a} for {n}, it was {b} {u}.",
    "The nurse read {a} back to me for {n}, I told her {b} {u}, so {b} it is.",
    "{n}, I'd have said {a}, it was {b} {u}.",
    "The nurse wrote down {a} for {n}, it was {b} {u}.",
    "{n} was {b} {u}, I first wrote {a} {u}.",
    "{n}, I'd have said {a}, but the sheet says {b} {u}, so {b}.",
    "{n} was {b} {u}, I had {a} in mind.",
)
BLUE = (
    "I asked for orange and they haven't got it, so blue",
    "I wanted orange, there is none, so blue",
    "blue instead of orange",
    "orange was asked for and not to be had, so blue",
    "orange they don't stock, so blue",
    "can I have orange? They don't have it, so blue",
    "usually orange, today blue",
    "blue, for want of an orange",
    "the nurse hands me orange, I want blue, so blue",
    "blue, they had no orange",
    "orange was on my list, blue is what I got",
    "the orange was missing from the set, so it's blue",
)
GREEN = (
    "I want to say blue for anterior superior, but thinking back blue was the low one. So anterior superior was green "
    "and anterior inferior was blue.",
    "I was about to say blue for anterior superior, that's wrong, anterior superior was green and "
    "anterior inferior blue.",
    "I keep thinking anterior superior was blue, it was green, and anterior inferior was blue.",
    "In my head anterior superior is blue, on the video it is green. Anterior inferior was blue.",
)


@pytest.mark.parametrize("said", SAYINGS)
@pytest.mark.parametrize("what", TIMES)
def test_a_value_said_first_yields_to_what_it_was(what: str, said: str) -> None:
    work, name, unit, first, last, value = TIMES[what]
    told = said.format(n=name, a=first, b=last, u=unit)
    text = f"Right knee, {work}. Portals made. {told[0].upper()}{told[1:]}"
    found = [m["value"] for m in facts(text, "measurements") if m["what"] == what and m.get("role") != "reference"]
    assert found == [value]


def test_a_value_only_remembered_stands() -> None:
    found = facts("Right knee, medial meniscus repair. I remember fifty minutes of tourniquet.", "measurements")
    assert [m["value"] for m in found] == [50]


def _native(text: str) -> set[tuple[str, str, str]]:
    lead = "Right knee, medial meniscus segmental allograft. Native sutures. Posterior superior, white. Posterior "
    found = facts(f"{lead}inferior, black. {text}", "sutures")
    return {(s["region"], s["surface"], s["color"]) for s in found if s["region"] == "anterior"}


@pytest.mark.parametrize("said", BLUE)
def test_a_color_asked_for_is_not_the_one_used(said: str) -> None:
    assert _native(f"Anterior inferior, {said}.") == {("anterior", "inferior", "blue")}


@pytest.mark.parametrize("said", GREEN)
def test_a_color_first_thought_of_yields_to_the_one_it_was(said: str) -> None:
    assert _native(said) == {("anterior", "superior", "green"), ("anterior", "inferior", "blue")}


def test_two_colors_at_two_places_both_stand() -> None:
    told = _native("I asked for orange for the anterior superior one and for blue for the anterior inferior one.")
    assert told == {("anterior", "superior", "orange"), ("anterior", "inferior", "blue")}
