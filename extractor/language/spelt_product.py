"""A product said again for safety: 'twenty-two by nineteen, two two by one nine, millimeters'."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.language.gaps import PRODUCT_SIGNS
from extractor.language.measure import QUANTITY, Measure
from extractor.language.numbers import spelled
from extractor.language.quantity_words import QuantityWords
from extractor.language.runs import run_at
from extractor.language.units import unit_words

MOST_BETWEEN = 7
"""Tokens between the product and its digits, at most."""


def said_again(words: Sequence[str], i: int, measures: Sequence[Measure], lexicon: QuantityWords) -> Measure | None:
    """The second number of the product that ends the measures, extended over its repetition from token `i`."""
    if len(measures) < 2:
        return None
    first, second = measures[-2:]
    if not 0 < i - second.end <= MOST_BETWEEN or words[second.end] != "," or second.start - first.end > 2:
        return None
    if not PRODUCT_SIGNS & set(words[first.end : second.start]) or not _only_says_again(words, second.end, i, lexicon):
        return None
    sign = _after(words, i, first)
    if sign is None or words[sign : sign + 1] == [] or words[sign] not in PRODUCT_SIGNS:
        return None
    end = _after(words, sign + 1, second)
    if end is None:
        return None
    unit = unit_words().at(words, end + (words[end : end + 1] == [","]), second.figures)
    if unit is None or second.unit is not None:
        return replace(second, end=end, twice=True)
    return replace(second, unit=unit[0], end=unit[1], twice=True)


def _after(words: Sequence[str], i: int, number: Measure) -> int | None:
    """The token after a number said again at `i`, as it was or in its digits; None where another is said."""
    atoms = run_at(words, i)
    if not atoms or number.value is None or number.sort != QUANTITY:
        return None
    digits = "".join(a.digit for a in atoms) if all(a.digit for a in atoms) else ""
    same = len(atoms) == 1 and atoms[0].value == number.value
    return atoms[-1].end if same or digits == spelled(number.value) else None


def _only_says_again(words: Sequence[str], start: int, end: int, lexicon: QuantityWords) -> bool:
    k = start
    while k < end:
        phrase = lexicon.said_again.at(words, k)
        if phrase is None and words[k] != ",":
            return False
        k = phrase[1] if phrase else k + 1
    return True
