"""A number said anew after some talk is the one before put right, whatever the pauses. Worded for these tests.

That surgeons talk so at the ruler is common practice, no source.
"""

from __future__ import annotations

import itertools

import pytest

from extractor.language.quantities import read_quantities
from extractor.language.tokens import tokenize

TALK = (
    ("no", "that is too much", "about ten millimeters"),
    ("well", "let's be honest", "ten millimeters"),
    ("hang on", "I wasn't on the edge", "it's ten"),
    ("wait", "the camera was tilted", "let me look", "ten"),
    ("no", "let me put the hook down properly", "ten millimeters"),
    ("one second", "it moved", "ten millimeters"),
    ("hmm", "let me check with the ruler", "ten millimeters"),
    ("oops", "I counted one too many", "ten"),
)


def said(head: str, parts: tuple[str, ...], pauses: tuple[str, ...]) -> str:
    """A size, and the talk behind it with a comma or a full stop before each part."""
    text = head
    for pause, part in zip(pauses, parts, strict=True):
        text += f"{pause} {part[:1].upper() + part[1:] if pause == '.' else part}"
    return f"{text}. Then the shaver."


def read(text: str) -> list[tuple[float | None, tuple[float, ...]]]:
    return [(q.value, q.earlier) for q in read_quantities(tokenize(text).words)]


@pytest.mark.parametrize("parts", TALK, ids=" ".join)
def test_a_number_put_right_after_some_talk_over_any_pauses(parts: tuple[str, ...]) -> None:
    for pauses in itertools.product(",.", repeat=len(parts)):
        text = said("It is eleven millimeters", parts, pauses)
        assert read(text) == [(10, (11,))], text


def test_what_is_measured_again_may_differ_by_much() -> None:
    assert read("It is eight millimeters. Let me measure again. Twelve.") == [(12, (8,))]
    assert [value for value, _ in read("It is eight millimeters. Let me look round. Twelve.")] == [8, 12]


@pytest.mark.parametrize(
    "text",
    [
        "It is eleven millimeters. No tear there. Ten millimeters from the root.",
        "It is eleven millimeters, no, that is the length, ten wide.",
        "It is eleven millimeters, wait for the clock, ten minutes.",
        "It is eleven millimeters. So make it ten by nine.",
    ],
)
def test_a_number_of_its_own_stays(text: str) -> None:
    assert read(text)[0] == (11, ())
