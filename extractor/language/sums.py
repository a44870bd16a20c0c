"""A size told with how it comes about: 'two probe lengths of five, so ten', 'nineteen less one, eighteen millimeters'.

Read only where the numbers agree, so that nothing is guessed: what led up to the last is then no size of its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.language.gaps import SENTENCE_ENDS
from extractor.language.measure import QUANTITY, Measure

CONCLUDES = frozenset({"so", "makes", "equals", "gives", "total", "="})
"""Of 'is' alone nothing follows: 'rim four, gap ten, and the graft is fourteen'."""
BETWEEN = frozenset({
    "of", "times", "x", "plus", "and", "more", "less", "minus", "probe", "lengths", "length", "a", "another", "the",
    ",", "each", "+", "-", "one", "for",
})  # fmt: skip
"""Words between the numbers of one sum; any other names a thing of its own."""
LESS = frozenset({"less", "minus"})
"""Between two numbers they are a sum of their own, with which no word need conclude."""
MORE = frozenset({"plus", "and", "more"})
LEAD = 6
"""Tokens between two numbers of one sum, at most."""
MOST = 3
"""Numbers that lead up to what they come to, at most."""


def summed(words: Sequence[str], measures: Sequence[Measure]) -> list[Measure]:
    """The measures with those that only lead up to the sum behind them taken into it."""
    out: list[Measure] = []
    for m in measures:
        taken = next((n for n in range(min(MOST, len(out)), 1, -1) if _comes_to(words, out[-n:], m)), 0)
        if taken:
            first = out[-taken]
            del out[-taken:]
            m = replace(m, start=first.start)
        out.append(m)
    return out


def _comes_to(words: Sequence[str], parts: Sequence[Measure], m: Measure) -> bool:
    told = [*parts, m]
    if m.sort != QUANTITY or m.value is None or any(p.value is None or p.low is not None for p in parts):
        return False
    gaps = [words[a.end : b.start] for a, b in zip(told, told[1:], strict=False)]
    if any(len(gap) > LEAD or not SENTENCE_ENDS.isdisjoint(gap) for gap in gaps):
        return False
    signs = gaps[:-1]
    concluded = not CONCLUDES.isdisjoint(gaps[-1]) or (LESS.intersection(signs[0]) and set(gaps[-1]) <= {","})
    if not concluded or any(p.unit not in {m.unit, None} for p in parts):
        return False
    if any(not BETWEEN.issuperset(gap) for gap in signs):
        return False
    a, b, *rest = (p.value or 0.0 for p in parts)
    plain = (a - b) if LESS.intersection(signs[0]) else a * b if {"of", "times", "x"}.intersection(signs[0]) else None
    if plain is None and MORE.intersection(signs[0]):
        plain = a + b
    return plain is not None and plain + sum(rest) == m.value
