"""Numbers with their units in figures, as people write them."""

from __future__ import annotations

from extractor.language.quantities import Quantity

UNIT_WORDS = {"deg": "degrees", "mm[Hg]": "mmHg", "mm2": "mm²", "wk": "weeks", "1": ""}


def number(value: float) -> str:
    """19 for 19.0, 2.5 for 2.5."""
    return f"{round(value, 3):g}"


def with_unit(shown: str, unit: str | None) -> str:
    """A number with its unit, as people write it."""
    word = UNIT_WORDS.get(unit, unit) if unit else ""
    return f"{shown} {word}".strip() if word != "%" else f"{shown}%"


def bounds(value: float | None, low: float | None, high: float | None) -> str:
    """A value, or what it lies between: '18', '11 to 12', 'at least 5', 'at most 25'; empty for none of these."""
    if value is not None:
        return number(value)
    if low is not None and high is not None:
        return f"{number(low)} to {number(high)}"
    if low is not None:
        return f"at least {number(low)}"
    return f"at most {number(high)}" if high is not None else ""


def in_figures(q: Quantity) -> str:
    """What a quantity comes to: '2.5 mm' for 'two and a half millimeters', '1 to 2 mm', 'at most 50 mL'."""
    shown = bounds(q.value, q.low, q.high)
    return with_unit(shown, q.unit) if shown else ""
