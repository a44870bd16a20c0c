"""Numbers and names as they stand in a flag's sentence."""

from __future__ import annotations

from collections.abc import Iterable

from extractor.grammar.limits import Limits
from extractor.language.figures import bounds
from extractor.language.figures import number as number
from extractor.language.figures import with_unit as with_unit
from extractor.record.facts import Measurement


def said(fact: Measurement) -> str:
    """The value as it was said: '18 mm', '11 to 12 mm', 'at most 25 mL', 'about 10 mL'."""
    shown = bounds(fact.value, fact.low, fact.high) or "no number"
    return ("about " if fact.approximate and fact.value is not None else "") + with_unit(shown, fact.unit)


def span(low: float, high: float, unit: str | None) -> str:
    """'21 mm', or '10 to 11 mm'."""
    shown = number(low) if abs(high - low) < 1e-9 else f"{number(low)} to {number(high)}"
    return with_unit(shown, unit)


def called(what: str, limits: Limits, site: str | None = None) -> str:
    """What a measurement is called in a sentence, with its site where said."""
    limit = limits.measurements.get(what)
    name = limit.called if limit else what.replace(".", " ").replace("_", " ")
    return f"{name} ({site})" if site else name


def listed(words: Iterable[str]) -> str:
    """'a', 'a and b', 'a, b and c'."""
    items = list(words)
    return items[0] if len(items) == 1 else f"{', '.join(items[:-1])} and {items[-1]}"


def first_up(sentence: str) -> str:
    """The sentence with a capital first letter."""
    return sentence[:1].upper() + sentence[1:]
