"""Counting along a ruler where the first mark has its unit: 'half a centimeter, one, one and a half, one point eight'.

What is counted up to is the value, the marks before it are none. A count of bare numbers is read in `settle.py`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.language.measure import QUANTITY, Measure
from extractor.language.quantity_words import QuantityWords
from extractor.language.settle import MARKS, MOST_STEPS
from extractor.language.units import Unit, canonical, convert

LENGTH = "length"
LEAST = 2
"""Steps behind the first mark, at least."""


def along_marks(words: Sequence[str], measures: list[Measure], lexicon: QuantityWords) -> list[Measure]:
    """Fold each count along even marks, the first with its unit, into the value at its end."""
    folded: list[Measure] = []
    n = 0
    while n < len(measures):
        first, end = measures[n], n
        if first.unit is not None and first.unit.dimension == LENGTH:
            end = _last_mark(words, measures, n, first.unit, lexicon)
        last = measures[end]
        if end > n:
            marks = tuple(m.value for m in measures[n:end] if m.value is not None)
            inherited = last.inherited or last.unit is None
            last = replace(last, start=first.start, unit=first.unit, counted=marks, inherited=inherited)
        folded.append(last)
        n = end + 1
    return folded


def _last_mark(words: Sequence[str], measures: list[Measure], n: int, unit: Unit, lexicon: QuantityWords) -> int:
    """The last of a count that starts at `n`: steps all alike, but the last may be shorter; else `n`."""
    first = measures[n].value
    if first is None:
        return n
    into = canonical(unit)
    i, step, at = n, 0.0, convert(first, unit, into)
    opened = at
    while i + 1 < len(measures) and i - n < MOST_STEPS:
        before, b = measures[i], measures[i + 1]
        if b.value is None or b.sort != QUANTITY or b.pronoun or (b.unit is not None and b.unit != unit):
            break
        rise = convert(b.value, unit, into) - at
        if rise <= 0 or not _counted_on(words, before.end, b.start, lexicon):
            break
        if not step:
            if rise not in MARKS or opened % rise:
                break
            step = rise
        elif rise > step:
            break
        i, at = i + 1, at + rise
        if rise < step:
            break
    return i if i - n >= LEAST else n


def _counted_on(words: Sequence[str], start: int, end: int, lexicon: QuantityWords) -> bool:
    """Whether nothing stands between two steps but pauses and what is said in counting."""
    k = start
    while k < end:
        found = lexicon.count_end.at(words, k) or lexicon.count_filler.at(words, k)
        if found and found[1] <= end:
            k = found[1]
        elif words[k] == ",":
            k += 1
        else:
            return False
    return True
