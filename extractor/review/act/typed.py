"""Values as a person types them: '19', '1.9 cm', 'about 10', '1 to 2', 'at least 5'."""

from __future__ import annotations

import re
from dataclasses import dataclass

from extractor.checks.words import number, span, with_unit
from extractor.errors import InputError
from extractor.grammar.limits import Limit
from extractor.language.units import Unit, canonical, convert, unit_words

NUMBER = r"(\d+(?:[.,]\d+)?)"
TYPED = re.compile(
    rf"\s*(?P<hedge>about|approx\.?|approximately|~|at least|at most|[<>≥≤])?\s*(?P<sign>-)?{NUMBER}"
    rf"(?:\s*(?:to|-|–|or)\s*{NUMBER})?\s*(?P<unit>[^\d]*?)\s*$",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class Typed:
    """A typed value in its canonical unit; `unit` is None where none is typed or due."""

    value: float | None
    low: float | None
    high: float | None
    unit: str | None
    approximate: bool


def parse_value(text: str, due: str | None) -> Typed:
    """Read a typed value.

    Args:
        text: what was typed.
        due: the unit (UCUM code) in which the value is kept, taken where none is typed.

    Raises:
        InputError: where it is no value, or its unit is of another kind; one sentence.
    """
    match = TYPED.match(text)
    if not match:
        raise InputError("Type a number, or two with 'to' between, and the unit if it is another: 19, 1.9 cm, 1 to 2.")
    numbers = [float(n.replace(",", ".")) for n in (match[3], match[4]) if n]
    if match["sign"]:
        numbers[0] = -numbers[0]
    unit = due
    if word := match["unit"].strip().lower():
        given = _unit(word)
        kept = canonical(given)
        if due is not None and kept.code != due:
            raise InputError(f"{word} is no unit for this; {with_unit('', due)} is due.")
        numbers = [convert(n, given, kept) for n in numbers]
        unit = kept.code
    hedge = (match["hedge"] or "").lower()
    if len(numbers) == 2:
        if numbers[0] >= numbers[1]:
            raise InputError("The first number of a range is the smaller one.")
        return Typed(None, numbers[0], numbers[1], unit, False)
    if hedge in ("at least", ">", "≥"):
        return Typed(None, numbers[0], None, unit, False)
    if hedge in ("at most", "<", "≤"):
        return Typed(None, None, numbers[0], unit, False)
    return Typed(numbers[0], None, None, unit, bool(hedge))


def _unit(word: str) -> Unit:
    words = word.split()
    found = unit_words().at(words, 0, True)
    if found is None or found[1] != len(words):
        by_code = [u for u in unit_words().units.values() if u.code.lower() == word]
        if by_code:
            return by_code[0]
        raise InputError(f"{word!r} is no unit this program knows; leave it out to mean the usual one.")
    return found[0]


@dataclass(frozen=True)
class Verdict:
    """What the packs say of a value: usual, unusual, impossible, or nothing."""

    level: str
    sentence: str


def judge(limit: Limit | None, typed: Typed) -> Verdict:
    """Hold a value against the limits of its measurement."""
    shown = _shown(typed)
    ends = [n for n in (typed.value, typed.low, typed.high) if n is not None]
    if limit is None:
        return Verdict("", f"{shown}; no range is known for this.")
    if limit.possible and any(not limit.possible[0] <= n <= limit.possible[1] for n in ends):
        return Verdict("impossible", f"{shown} cannot be: {span(*limit.possible, limit.unit)} can ({limit.why}).")
    if limit.usual and any(not limit.usual[0] <= n <= limit.usual[1] for n in ends):
        return Verdict("unusual", f"{shown} is unusual; {span(*limit.usual, limit.unit)} is usual.")
    return Verdict("usual", f"{shown} is usual.") if limit.usual else Verdict("", f"{shown} can be.")


def _shown(typed: Typed) -> str:
    if typed.value is not None:
        return ("about " if typed.approximate else "") + with_unit(number(typed.value), typed.unit)
    if typed.low is not None and typed.high is not None:
        return span(typed.low, typed.high, typed.unit)
    if typed.low is not None:
        return "at least " + with_unit(number(typed.low), typed.unit)
    return "at most " + with_unit(number(typed.high or 0.0), typed.unit)
