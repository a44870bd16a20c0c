"""Phrase tables: every form of a way of saying is found from its first word and from its last, and no more is made."""

from __future__ import annotations

import pytest

from extractor.grammar.inflect import spellings
from extractor.language.phrases import common_lists, cut, phrases_of, ways
from extractor.language.quantity_words import WORDS_FILE, has_choice, quantity_words

LISTS = sorted(common_lists(WORDS_FILE))
SAID = [("lands/landed (up) on", "a"), ("landed on", "b"), ("on", "c"), ("that's (the) one", "d"), ("+/-", "e")]


def forms(way: str) -> list[list[str]]:
    """The words of all forms of a way of saying, as the tokenizer cuts them."""
    return [list(words) for form in (spellings(way) if has_choice(way) else (way,)) for words in cut(form)]


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("lands up on", "a"),
        ("lands on", "a"),
        ("landed up on", "a"),
        ("landed on", "a"),  # of two that say the same the first
        ("on", "c"),
        ("that's one", "d"),
        ("that 's the one", "d"),
        ("+/-", "e"),
        ("landed", None),
        ("up on", None),
        ("lands/landed on", None),
    ],
)
def test_forms_are_found_from_either_end_and_whole(words: str, name: str | None) -> None:
    said, phrases = words.split(), phrases_of(SAID, chosen=has_choice)
    assert phrases.whole(said, 0, len(said)) == name
    found = None if name is None else (name, len(said))
    assert phrases.at([*said, "."], 0) == found
    if name is not None:
        assert phrases.before(["so", *said], len(said) + 1) == (name, 1)


def test_the_longest_stands_and_none_reaches_below_the_floor() -> None:
    phrases = phrases_of(SAID, chosen=has_choice)
    assert phrases.at(["on", "landed", "on"], 1) == ("a", 3)
    assert phrases.before(["landed", "on"], 2) == ("a", 0)
    assert phrases.before(["landed", "on"], 2, floor=1) == ("c", 1)
    assert phrases.at([], 0) is None and phrases.before([], 0) is None and phrases.whole(["on"], 1, 1) is None


def test_where_no_choice_is_asked_for_signs_stand_for_themselves() -> None:
    phrases = phrases_of([("a/b", "x"), ("(c)", "y")])
    assert phrases.first_words == {"a/b", "(c)"}
    assert phrases.at(["a/b"], 0) == ("x", 1) and phrases.at(["a"], 0) is None


@pytest.mark.parametrize("name", LISTS)
def test_every_form_of_the_shipped_lists_is_found(name: str) -> None:
    said = ways(common_lists(WORDS_FILE)[name])
    phrases = phrases_of(said, chosen=has_choice)
    for way, concept in said:
        for words in forms(way):
            assert (phrases.at(words, 0) or ("", 0))[1] == len(words), words
            assert (phrases.before(words, len(words)) or ("", 1))[1] == 0, words
            assert phrases.whole(words, 0, len(words)) is not None, (words, concept)


def test_the_words_a_number_may_open_with_are_those_of_the_lists() -> None:
    first = {words[0] for way, _ in ways(common_lists(WORDS_FILE)["nth"]) for words in forms(way)}
    assert first <= quantity_words().openers
