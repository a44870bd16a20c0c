"""A value drawn on the line of what can be and what is usual."""

from __future__ import annotations

from dataclasses import dataclass

from extractor.checks.words import number, span
from extractor.grammar.limits import Limit, Limits
from extractor.record.facts import Measurement

WIDTH = 160.0


@dataclass(frozen=True)
class Bar:
    """Places along a line of `WIDTH`: the usual stretch and the value's; and the same in words."""

    usual: tuple[float, float] | None
    low: float
    high: float
    level: str
    words: str
    ends: tuple[str, str]


def bar_of(fact: Measurement, limits: Limits) -> Bar | None:
    """Draw a measurement on its range; None where the packs know none."""
    limit = limits.measurements.get(fact.what)
    ends = [n for n in (fact.value, fact.low, fact.high) if n is not None]
    if limit is None or not limit.possible or not ends or (fact.unit and fact.unit != limit.unit):
        return None
    first, last = limit.possible
    usual = (_place(limit.usual[0], first, last), _place(limit.usual[1], first, last)) if limit.usual else None
    low, high = (_place(n, first, last) for n in (min(ends), max(ends)))
    level, words = _level(limit, ends)
    return Bar(usual, low, high, level, words, (number(first), number(last)))


def _place(value: float, first: float, last: float) -> float:
    return round(min(1.0, max(0.0, (value - first) / (last - first))) * WIDTH, 1)


def _level(limit: Limit, ends: list[float]) -> tuple[str, str]:
    assert limit.possible
    if any(not limit.possible[0] <= n <= limit.possible[1] for n in ends):
        return "impossible", f"cannot be; {span(*limit.possible, limit.unit)} can"
    if limit.usual is None:
        return "possible", f"can be, within {span(*limit.possible, limit.unit)}"
    if any(not limit.usual[0] <= n <= limit.usual[1] for n in ends):
        return "unusual", f"unusual; {span(*limit.usual, limit.unit)} is usual"
    return "usual", f"usual, within {span(*limit.usual, limit.unit)}"
