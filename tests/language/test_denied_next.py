"""A deed that one sentence only speaks of, denied by the next, which names nothing. Worded for these tests."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar

from .test_assertion import denied


@pytest.mark.parametrize(
    ("text", "word", "expected"),
    [
        ("Trephination came up with the family. I did not do it.", "trephination", True),
        ("Trephination of the rim was in the letter. None was done.", "trephination", True),
        ("Trephination is in fashion. It looked well enough and I saw no need for it.", "trephination", True),
        ("Trephination came up with the family. I didn't.", "trephination", True),
        ("Trephination was done. It was not needed on the other side.", "trephination", False),
        ("The rim was trephined. I did not need to do it twice.", "trephined", False),
        ("Trephination next. Nothing more was done.", "trephination", False),
        ("Inside-out stitches. Leave them untied for now.", "inside", False),
        ("Trephination of the rim. I was going to add a tenodesis and decided against it.", "trephination", False),
    ],
)
def test_a_deed_denied_by_the_next_sentence(text: str, word: str, expected: bool, grammar: Grammar) -> None:
    assert denied(text, word, grammar) is expected
