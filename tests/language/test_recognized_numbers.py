"""Numbers as a recognizer writes them that nobody would write so. Common practice, no source."""

from __future__ import annotations

import pytest

from extractor.language.numbers import atom_at
from extractor.language.tokens import tokenize


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("100 and 10 degrees", 110),
        ("100 and 5 minutes", 105),
        ("200 and 50 millimeters of mercury", 250),
        ("100 and 10 patients", 100),
        ("90 and 10 degrees", 90),
        ("100 and 120 degrees", 100),
    ],
)
def test_hundreds_and_what_follows_are_one_number(text: str, value: float) -> None:
    number = atom_at(tokenize(text).words, 0)
    assert number is not None and number.value == value


def test_between_two_numbers_both_stand() -> None:
    number = atom_at(tokenize("between 100 and 20 degrees").words, 1)
    assert number is not None and number.value == 100


def test_about_so_many() -> None:
    assert tokenize("30ish cc").words[:2] == ["30", "ish"]
