"""A size said anew behind some talk, and sizes of something else that only stand behind one. Worded for these tests."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript


def sizes(text: str, grammar: Grammar) -> set[tuple[str, float | None]]:
    return {(m.what, m.value) for m in extract(Transcript(text=f"Left knee. {text}"), grammar).measurements}


@pytest.mark.parametrize(
    "text",
    [
        "The tear is eighteen millimeters long. Nineteen, sorry.",
        "The tear is eighteen millimeters long, let me look again, nineteen.",
        "I said eighteen millimeters for the tear, it's nineteen.",
        "Tear is eighteen millimeters, read that as nineteen.",
        "Tear is eighteen millimeters. The scrub nurse corrects me, nineteen.",
        "Tear is eighteen millimeters. Did I say eighteen? Nineteen.",
        "Tear eighteen millimeters. On second look nineteen.",
        "Tear eighteen millimeters. With the calibrated probe it turns out to be nineteen.",
    ],
)
def test_a_size_said_anew_takes_the_place_of_the_first(text: str, grammar: Grammar) -> None:
    assert sizes(text, grammar) == {("tear.length", 19)}


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("The tear is eighteen millimeters. The rim is again two millimeters.", ("tear.length", 18)),
        ("Tear eighteen millimeters long. I said earlier it starts sixteen from the root.", ("tear.length", 18)),
        ("The tear is eighteen millimeters in the posterior horn, actually sixteen in the body.", ("tear.length", 18)),
        ("Tear eighteen millimeters. Better visualisation now, twenty stitches counted out.", ("tear.length", 18)),
        ("Tourniquet fifty minutes. Wait for the X ray, sixty.", ("tourniquet.time", 50)),
        ("Tear eighteen millimeters and I said so at eighteen hours.", ("tear.length", 18)),
    ],
)
def test_a_number_of_something_else_takes_no_place(text: str, size: tuple[str, float], grammar: Grammar) -> None:
    assert size in sizes(text, grammar)
