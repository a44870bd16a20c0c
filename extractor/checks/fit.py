"""Does the graft, as marked or cut, follow from the defect as measured?"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from extractor.checks.case import Case, Doubt
from extractor.checks.words import called, first_up, listed, said, span
from extractor.grammar.limits import Limit
from extractor.record.facts import Measurement

ALLOWANCE = "graft.allowance"
ALLOWED = "graft.ap_length"
"""The allowance that a surgeon speaks of is one of length."""
OVER = "over"
"""Said of an allowance: the graft is cut longer than the defect, not shorter."""


@dataclass(frozen=True)
class Allowance:
    """How much shorter than the defect the graft is cut (mm, `low` to `high`; below 0 longer), and on whose word."""

    low: float
    high: float
    why: str
    fact: Measurement | None = None


def allowance_in_force(case: Case, limit: Limit) -> Allowance:
    """Give the allowance for `limit`: said for this case, else said as a habit, else set by the site, else usual."""
    if limit.name == ALLOWED:
        stated = [m for m in case.live(case.record.measurements) if m.what == ALLOWANCE and _ends(m) is not None]
        chosen = [m for m in stated if m.purpose == "case"] or stated
        if chosen:
            fact = max(chosen, key=lambda m: m.evidence[0].start)
            low, high = _ends(fact) or (limit.less, limit.less)
            if fact.which == OVER:
                low, high = -high, -low
            return Allowance(low, high, "said for this case" if fact.purpose == "case" else "said as the habit", fact)
        if case.config.allowance is not None:
            return Allowance(case.config.allowance, case.config.allowance, "set for this site")
    return Allowance(limit.less, limit.less, "the usual")


def mismatch(code: str) -> Callable[[Case], Iterator[Doubt]]:
    """Give the check that raises `code` for the measurements that the packs say follow others."""

    def check(case: Case) -> Iterator[Doubt]:
        for limit in case.limits.measurements.values():
            if limit.check == code and limit.follows:
                yield from _mismatches(case, limit)

    return check


def _mismatches(case: Case, limit: Limit) -> Iterator[Doubt]:
    allowance = allowance_in_force(case, limit)
    tolerance = case.config.tolerance if case.config.tolerance is not None else limit.tolerance
    facts = case.measurements(limit.name)
    cut = [fact for fact in facts if fact.role == "made" and _ends(fact)]
    for made in cut or facts:  # what was only marked yields to what was cut
        bases = [
            (base, ends)
            for base in case.measurements(limit.follows)
            if (ends := _ends(base)) and not (made.site and base.site and made.site != base.site)
        ]
        size = _ends(made)
        if not bases or size is None:
            continue
        due = [(low - allowance.high, high - allowance.low) for _, (low, high) in bases]
        if any(size[0] <= high + tolerance + 1e-9 and size[1] >= low - tolerance - 1e-9 for low, high in due):
            continue
        basis = tuple(base for base, _ in bases)
        yield Doubt(
            f"{first_up(f'the {called(limit.name, case.limits)}')} is {said(made)}, but "
            f"{_reason(case, limit, basis, allowance, due)}.",
            (made, *basis, *((allowance.fact,) if allowance.fact else ())),
            suggestion=_suggestion(case, limit, (made, *basis), size, due[0], allowance),
        )


def _reason(
    case: Case, limit: Limit, basis: tuple[Measurement, ...], allowance: Allowance, due: list[tuple[float, float]]
) -> str:
    base = f"the {called(limit.follows or '', case.limits)} is {listed(dict.fromkeys(said(b) for b in basis))}"
    if allowance.low == allowance.high == 0:
        return base
    less = f"less {span(allowance.low, allowance.high, limit.unit)}"
    if allowance.high < 0:
        less = f"plus {span(-allowance.high, -allowance.low, limit.unit)}"
    expected = listed(dict.fromkeys(span(low, high, limit.unit) for low, high in due))
    return f"{base}, which {less} ({allowance.why}) gives {expected}"


def _suggestion(
    case: Case,
    limit: Limit,
    facts: tuple[Measurement, ...],
    size: tuple[float, float],
    due: tuple[float, float],
    allowance: Allowance,
) -> str | None:
    if not all(map(math.isfinite, (*size, *due))):
        return None
    other = span(size[0] + allowance.low, size[1] + allowance.high, limit.unit)
    ways = [
        f"the {called(limit.name, case.limits)} {span(*due, limit.unit)}",
        f"the {called(limit.follows or '', case.limits)} {other}",
    ]
    made, *bases = (case.heard.get(fact.id, 1.0) for fact in facts)
    if min(bases) < made:
        ways.reverse()
    return f"{first_up(ways[0])}, or {ways[1]}, would fit."


def _ends(fact: Measurement) -> tuple[float, float] | None:
    """Give lowest and highest value said, None where there is no number."""
    if fact.value is not None:
        return fact.value, fact.value
    if fact.low is None and fact.high is None:
        return None
    return (-math.inf if fact.low is None else fact.low), (math.inf if fact.high is None else fact.high)
