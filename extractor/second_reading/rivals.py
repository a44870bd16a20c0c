"""What could have been said instead: the packs' `rivals*.txt`, and numbers made of parts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from extractor.errors import GrammarError
from extractor.grammar.packs import Grammar
from extractor.grammar.words import WordEntry, read_word_file
from extractor.language.numbers import atom_at, number_words
from extractor.language.tokens import tokenize

NUMBERS, WORDS = "numbers", "words"
ALIKE, FOR_NUMBERS, FOR_WORDS = "alike", "heard-for-numbers", "heard-for-words"
FOR_TENS = "heard-for-tens"
LISTS = (NUMBERS, ALIKE, WORDS, FOR_NUMBERS, FOR_WORDS, FOR_TENS)
MOST = 6
"""Rivals of one number at most, the likeliest first."""


@dataclass(frozen=True)
class Rivals:
    """The rivals of all packs in force.

    Attributes:
        numbers: a part of a number (a teen, a ten, a digit) to the numbers it may have been, the likeliest first.
        alike: pairs of numbers of which the recognizer is often sure of the wrong one.
        words: a word to the words of its groups.
        for_numbers: a word that may have been a number, to that number.
        for_words: a word to the words of the trade that it may have been.
        for_tens: words that may have been what a number opened with ('to eight': eighty-eight).
    """

    numbers: dict[int, tuple[int, ...]]
    alike: frozenset[tuple[float, float]]
    words: dict[str, tuple[str, ...]]
    for_numbers: dict[str, int]
    for_words: dict[str, tuple[str, ...]]
    for_tens: frozenset[str] = frozenset()


@lru_cache(maxsize=8)
def rivals_of(grammar: Grammar) -> Rivals:
    """Read the rivals of a grammar.

    Raises:
        GrammarError: with file and line, for a list of another name or a number that is none.
    """
    numbers: dict[int, dict[int, None]] = {}
    alike: set[tuple[float, float]] = set()
    words: dict[str, dict[str, None]] = {}
    for_numbers: dict[str, int] = {}
    for_words: dict[str, dict[str, None]] = {}
    for_tens: set[str] = set()
    for own, entry in _entries(grammar):
        if own == WORDS:
            for word in entry.spoken:
                words.setdefault(word, {}).update(dict.fromkeys(w for w in entry.spoken if w != word))
        elif own == ALIKE:
            one = float(_whole(entry.name, entry))
            for other in (float(_whole(way, entry)) for way in entry.spoken):
                alike |= {(one, other), (other, one)}
        elif own == NUMBERS:
            others = dict.fromkeys(_whole(way, entry) for way in entry.spoken)
            numbers.setdefault(_whole(entry.name, entry), {}).update(others)
        elif own == FOR_TENS:
            _whole(entry.name, entry)
            for_tens.update(entry.spoken)
        elif own == FOR_WORDS:
            for word in entry.spoken:
                for_words.setdefault(word, {})[entry.name.replace("-", " ")] = None
        else:
            for_numbers.update(dict.fromkeys(entry.spoken, _whole(entry.name, entry)))
    return Rivals(
        {value: tuple(v for v in others if v != value) for value, others in numbers.items()},
        frozenset(alike),
        {word: tuple(others) for word, others in words.items()},
        for_numbers,
        {word: tuple(others) for word, others in for_words.items()},
        frozenset(for_tens),
    )


def _entries(grammar: Grammar) -> Iterator[tuple[str, WordEntry]]:
    for folder in grammar.folders:
        for path in sorted(folder.glob("rivals*.txt")):
            for own in read_word_file(path):
                if own.name not in LISTS:
                    raise GrammarError(f"{own.file}:{own.line}: [{own.name}] is none of {', '.join(LISTS)}")
                for entry in own.entries.values():
                    yield own.name, entry


def sound_alike(one: str, other: str, rivals: Rivals) -> bool:
    """Whether two readings open with numbers that are one of the pairs alike, in figures or in words.

    Of hundreds it is what comes after them: 215 is as like 250 as 15 is like 50.
    """
    first, second = (atom_at(tokenize(reading).words, 0) for reading in (one, other))
    if not first or not second or first.value is None or second.value is None:
        return False
    (hundreds, rest), (others, other_rest) = divmod(first.value, 100), divmod(second.value, 100)
    return hundreds == others and (rest, other_rest) in rivals.alike


def number_rivals(value: float, rivals: Rivals) -> tuple[float, ...]:
    """The numbers that may have been said where `value` was heard, the likeliest first."""
    found: dict[float, None] = {}
    if value != int(value):
        whole, digits = f"{value:.10g}".split(".")
        found.update(dict.fromkeys((float(whole + digits), float(whole), float(digits))))
        found.update(dict.fromkeys(other + value - int(value) for other in rivals.numbers.get(int(value), ())[:3]))
    else:
        found.update(dict.fromkeys(map(float, rivals.numbers.get(int(value), ()))))
        found.update(dict.fromkeys(_by_parts(int(value), rivals)))
        if 10 < value < 100 and value % 10:
            found[value / 10] = None
    found.pop(value, None)
    return tuple(found)[:MOST]


def _by_parts(value: int, rivals: Rivals) -> list[float]:
    """24 heard may be 25, 34, 20 or 4: each part by its rivals that fit in its place, then each part alone."""
    unit = 100 if value > 100 else 10
    large, small = value - value % unit, value % unit
    if value < 20 or not large or not small:
        return []
    replaced = [large + other for other in rivals.numbers.get(small, ()) if 0 < other < unit]
    replaced += [other + small for other in rivals.numbers.get(large, ()) if other >= unit and other % unit == 0]
    if unit == 100 and large == 100:
        replaced += [large + other for other in _by_parts_or_own(small, rivals)]
    return list(map(float, dict.fromkeys([*replaced[:5], large, small, *replaced[5:]])))


def _by_parts_or_own(value: int, rivals: Rivals) -> list[int]:
    return [int(other) for other in _by_parts(value, rivals)]


def written(value: float, *, figures: bool) -> str:
    """A number as it stands in a transcript: '24', or 'twenty four'."""
    if figures or value != int(value) or not 0 <= value < 1000:
        if figures:
            return f"{value:g}"
        whole, _, digits = f"{value:g}".partition(".")
        return " ".join([written(float(whole), figures=False), "point", *(_word(int(d)) for d in digits)])
    number = int(value)
    if number >= 100:
        rest = f" {written(float(number % 100), figures=False)}" if number % 100 else ""
        return f"{_word(number // 100)} hundred{rest}"
    if number > 20 and number % 10:
        return f"{_word(number - number % 10)} {_word(number % 10)}"
    return _word(number)


def _word(value: int) -> str:
    return _cardinal_names()[value]


@lru_cache(maxsize=1)
def _cardinal_names() -> dict[int, str]:
    names: dict[int, str] = {}
    for word, value in number_words().cardinals.items():
        names.setdefault(value, word)
    return names


def _whole(text: str, entry: WordEntry) -> int:
    if not text.isdecimal():
        raise GrammarError(f"{entry.file}:{entry.line}: {text!r} is no whole number in figures")
    return int(text)
