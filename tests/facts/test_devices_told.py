"""Devices told in many wordings: size before or behind, by words of dimension, counted, changed for another, not used.

The wordings are the project's own; that surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts

AROUND = "Left knee arthroscopy, lateral meniscus. Portals were made. {} The wounds were closed."
USED = (("cannula", "cannula", "7"), ("interference screw", "screw", "eight"), ("anchor", "anchor", "2.9"))
TOOLS = (("reamer", "reamer", "nine"), ("drill", "drill", "4.5"), ("guide pin", "guide-pin", "2.4"))
NUMBERS = {"7": 7, "eight": 8, "2.9": 2.9, "nine": 9, "4.5": 4.5, "2.4": 2.4, "five": 5, "ten": 10}
SIZED = (
    "We used the {d}, which is {n} millimeters in diameter.", "Then the {d}, the {n} one.", "{D}, diameter {n}.",
    "A number {n} {d} was used.", "The size of the {d}: {n} millimeters.", "{D} of {n} millimeters in size, in.",
    "As {d} I took a {n} millimeter.", "I upsized the {d} to {n} millimeters.",
    "We changed the five millimeter {d} for a {n} millimeter {d}.",
    "A five millimeter {d}, correction, {n} millimeter {d}.",
    "A five millimeter {d} fell on the floor, a second one, {n} millimeters, was used.",
    "I wanted a five millimeter {d} but only had a {n} millimeter one, so that went in.",
)  # fmt: skip
COUNTED = (
    "{D}s, two of them.", "{D}s x two.", "Number of {d}s: two.", "The number of {d}s was two.", "{D}s used: two.",
)  # fmt: skip
BOTH = (
    "We used two {d}s, all {n} millimeters.", "{D}s, {n} mm, times two.", "Two of the {n} millimeter {d}s were placed.",
)  # fmt: skip
LONG = (
    "A screw 7 millimeters in diameter and 25 millimeters long was used.", "Screw, diameter seven, length twenty-five.",
    "A seven millimeter screw, twenty-five millimeters long, was used.", "Screw, 7 in diameter, 25 in length.",
    "A 7 millimeter diameter, 25 millimeter long screw was used.", "A 25 millimeter long 7 millimeter screw was used.",
)  # fmt: skip
UNUSED = (
    "A {n} millimeter {d} was wasted.", "If it fails, a {n} millimeter {d} can be used.",
    "The set has a {n} millimeter {d}.", "A {n} millimeter {d} is standard, but I left it out.",
)  # fmt: skip


def _said(wording: str, device: str, number: str = "") -> str:
    return AROUND.format(wording.format(d=device, D=device.capitalize(), n=number))


@pytest.mark.parametrize("wording", SIZED)
def test_a_size_told_once(wording: str) -> None:
    for device, kind, number in (*USED, *TOOLS):
        text = _said(wording, device, number)
        assert [(d["kind"], d["size"]) for d in facts(text, "devices")] == [(kind, NUMBERS[number])], text
        assert not facts(text, "measurements"), text


@pytest.mark.parametrize("wording", COUNTED)
def test_how_many_told_behind(wording: str) -> None:
    for device, kind, _ in USED:
        text = _said(wording, device)
        assert [(d["kind"], d["count"]) for d in facts(text, "devices")] == [(kind, 2)], text


@pytest.mark.parametrize("wording", BOTH)
def test_how_many_of_a_size(wording: str) -> None:
    for device, kind, number in USED:
        text = _said(wording, device, number)
        assert [(d["kind"], d["size"], d["count"]) for d in facts(text, "devices")] == [(kind, NUMBERS[number], 2)], (
            text
        )


@pytest.mark.parametrize("said", LONG)
def test_diameter_and_length_by_their_words(said: str) -> None:
    assert [(d["size"], d["length"]) for d in facts(AROUND.format(said), "devices")] == [(7, 25)]


@pytest.mark.parametrize("wording", UNUSED)
def test_what_was_not_used(wording: str) -> None:
    for device, _, number in (*USED, *TOOLS):
        assert not facts(_said(wording, device, number), "devices")


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Femur: button. Tibia: screw, nine by thirty.", [("button", None, "femoral"), ("screw", 9, "tibial")]),
        ("Femoral tunnel: seven by twenty-five screw.", [("screw", 7, "femoral")]),
        ("Two cannulas, one of seven and one of eight millimeters.", [("cannula", 7, None), ("cannula", 8, None)]),
        ("Two screws, seven millimeters in the femur and nine in the tibia.", [("screw", 7, "femoral")]),
        ("With the reamer the socket was made, length 25 mm.", []),
    ],
)
def test_where_each_is(said: str, expected: list[tuple[object, ...]]) -> None:
    found = [(d["kind"], d.get("size"), d.get("site")) for d in facts(AROUND.format(said), "devices")]
    assert found[: len(expected)] == expected and bool(found) == bool(expected)
