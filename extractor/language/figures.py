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


def in_figures(q: Quantity) -> str:
    """What a quantity comes to: '2.5 mm' for 'two and a half millimeters', '1 to 2 mm', 'at most 50 mL'."""
    if q.value is not None:
        shown = number(q.value)
    elif q.low is not None and q.high is not None:
        shown = f"{number(q.low)} to {number(q.high)}"
    elif q.high is not None:
        shown = f"at most {number(q.high)}"
    else:
        shown = f"at least {number(q.low)}" if q.low is not None else ""
    return with_unit(shown, q.unit) if shown else ""
