"""Full stops and commas that a recognizer writes at pauses are read over; those that end a thought are kept."""

from __future__ import annotations

import pytest

from extractor.language.pauses import without_stray_pauses
from extractor.language.tokens import tokenize


def read(text: str) -> str:
    return " ".join(without_stray_pauses(tokenize(text)).words)


@pytest.mark.parametrize(
    ("said", "heard"),
    [
        ("The graft was cut at. 19 millimeters.", "the graft was cut at 19 millimeters ."),
        ("18 by 9. Millimeters.", "18 by 9 millimeters ."),
        ("The tear is, fifteen millimeters long.", "the tear is fifteen millimeters long ."),
        ("A tear of the. Medial meniscus.", "a tear of the medial meniscus ."),
        ("Flexion to, 110.", "flexion to 110 ."),
    ],
)
def test_a_pause_inside_a_phrase_is_read_over(said: str, heard: str) -> None:
    assert read(said) == heard


@pytest.mark.parametrize(
    "said",
    [
        "Up at 58 . Minutes later it was down .",
        "Grade 1 . MM torn .",
        "It is . Next the graft .",
        "The portal we came through . Two stitches .",
        "The tear is , as seen , long .",
    ],
)
def test_a_sign_that_ends_a_thought_is_kept(said: str) -> None:
    assert read(said) == said.lower()
