"""Single values: can it be, is it usual, has it a unit, is it said twice with another number."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterator, Sequence

from extractor.checks.case import Case, Doubt
from extractor.checks.words import called, first_up, listed, number, said, span, with_unit
from extractor.grammar.limits import IN_CASES, Limit
from extractor.record.facts import Device, Known, Measurement

CENTIMETERS = re.compile(r"\b(?:cms?|centimet(?:er|re)s?)\b", re.IGNORECASE)
MILLIMETERS = re.compile(r"\b(?:mms?|millimet(?:er|re)s?)\b", re.IGNORECASE)
BY = 6
"""Characters of the ' by ' between two numbers with one unit, at most."""
BESIDE = 40
"""Characters between two numbers said for one thing in one breath, at most."""
SAID_TOO = "was said for it as well"
BONES = frozenset({"femoral", "tibial"})
"""What tells lesions of one compartment apart."""
ABOUT = 0.15
"""How far apart two numbers may be, one of which was said to be about right. This project's choice, no source."""


def value_implausible(case: Case) -> Iterator[Doubt]:
    """A value that anatomy or equipment does not allow, and no slip of cm and mm explains."""
    for fact, limit, value in _impossible(case):
        if _unit_slip(case, fact, limit, value) is None:
            low, high = limit.possible or (-math.inf, math.inf)
            yield Doubt(
                f"The {_name(case, fact, limit)} is said to be {with_unit(number(value), limit.unit)}; "
                f"what can be is {span(low, high, limit.unit)} ({limit.why}).",
                (fact,),
                suggestion=_said_as_well(case, fact, limit) + _tenth_or_tenfold(limit, value),
            )


def unit_suspect(case: Case) -> Iterator[Doubt]:
    """A unit that makes the value absurd: centimeters for millimeters, or a unit of another kind."""
    for fact, limit, value in _impossible(case):
        slip = _unit_slip(case, fact, limit, value)
        if slip:
            fitting, meant = slip
            given, better = with_unit(number(value), limit.unit), with_unit(number(fitting), limit.unit)
            yield Doubt(
                f"The {_name(case, fact, limit)} is said to be {given}, which cannot be; "
                f"in {meant} it would be {better}.",
                (fact,),
                suggestion=f"{better}, if {meant} were meant.",
            )
    for fact in case.measurements():
        known = case.limits.measurements.get(fact.what)
        if known and fact.unit is not None and fact.unit != known.unit:
            yield Doubt(
                f"The {called(fact.what, case.limits, fact.site)} is said in {with_unit('', fact.unit)}, "
                f"where {with_unit('', known.unit)} is due.",
                (fact,),
            )


def value_unusual(case: Case) -> Iterator[Doubt]:
    """A value outside the published usual range; what cannot be is left to the checks above."""
    for fact, limit, values in _limited(case):
        if limit.usual is None:
            continue
        low, high = limit.usual
        if any(not low <= n <= high for n in values) and not any(_outside(n, limit) for n in values):
            yield Doubt(
                f"The {_name(case, fact, limit)} is said to be {_as_said(fact, limit)}; "
                f"usual is {span(low, high, limit.unit)} ({limit.source}).",
                (fact,),
            )


def unit_missing(case: Case) -> Iterator[Doubt]:
    """A number with no unit where one is needed."""
    for fact in case.measurements():
        limit = case.limits.measurements.get(fact.what)
        if limit and fact.unit is None:
            name = called(fact.what, case.limits, fact.site)
            yield Doubt(
                f"The {name} is said to be {said(fact)}, with no unit.",
                (fact,),
                suggestion=f"{said(fact)} {with_unit('', limit.unit)}".strip(),
            )


def value_conflict(case: Case) -> Iterator[Doubt]:
    """Two values that cannot both be true of a thing there is one of."""
    told = _by_what(case)
    for what, limit in case.limits.measurements.items():
        facts = told.get(what, [])
        if not limit.single or len(facts) < 2:
            continue
        if limit.one_finding and _findings(case, limit.one_finding) != 1:
            continue
        for group in _connected(_placed(case, facts, limit), limit):
            values = listed(dict.fromkeys(said(fact) for fact in group))
            message = f"{first_up(f'the {called(what, case.limits)}')} is said to be {values}."
            yield Doubt(message, tuple(group), suggestion=_as_one(group))


def _as_one(facts: Sequence[Measurement]) -> str | None:
    """'50, 8 minutes': a number of two words, between which speech paused."""
    if len(facts) != 2 or facts[0].unit != facts[1].unit:
        return None
    tens, ones = (fact.value or 0 for fact in facts)
    if tens < 20 or tens % 10 or ones not in range(1, 10):
        return None
    return f"{with_unit(number(tens + ones), facts[0].unit)}, if that is one number."


def _by_what(case: Case) -> dict[str, list[Measurement]]:
    told: dict[str, list[Measurement]] = {}
    for fact in case.measurements():
        told.setdefault(fact.what, []).append(fact)
    return told


def tourniquet_long(case: Case) -> Iterator[Doubt]:
    """A tourniquet that was up longer than is advised."""
    for what, limit in case.limits.measurements.items():
        longest = case.config.tourniquet_long if case.config.tourniquet_long is not None else limit.long
        if limit.long is None or longest is None:
            continue
        for fact in case.measurements(what):
            if any(n > longest for n in _numbers(fact)):
                yield Doubt(
                    f"The {called(what, case.limits)} of {said(fact)} is above the "
                    f"{with_unit(number(longest), limit.unit)} advised.",
                    (fact,),
                    suggestion="Hear the time again; where it is right, say why it was needed.",
                )


def _numbers(fact: Measurement) -> list[float]:
    return [n for n in (fact.value, fact.low, fact.high) if n is not None]


def _limit(case: Case, what: str) -> Limit | None:
    """The limit of a measurement: that of a procedure done in this case where there is one, else the general one."""
    special = (case.limits.special.get(f"{what}{IN_CASES}{p.code}") for p in case.procedures())
    return next((limit for limit in special if limit), case.limits.measurements.get(what))


def _device_numbers(device: Device, case: Case) -> Iterator[tuple[Limit, list[float]]]:
    for dimension in ("size", "length"):
        limit = case.limits.measurements.get(f"device.{device.kind}.{dimension}")
        value = getattr(device, dimension)
        if limit and value is not None and device.unit == limit.unit:
            yield limit, [value]


def _limited(case: Case) -> Iterator[tuple[Known, Limit, list[float]]]:
    """Every measurement and device size that has a limit and is in the limit's unit, with its numbers."""
    for fact in case.measurements():
        limit = _limit(case, fact.what)
        if limit and fact.unit == limit.unit:
            yield fact, limit, _numbers(fact)
    for device in case.live(case.record.devices):
        for limit, values in _device_numbers(device, case):
            yield device, limit, values


def _outside(value: float, limit: Limit) -> bool:
    return limit.possible is not None and not limit.possible[0] <= value <= limit.possible[1]


def _impossible(case: Case) -> Iterator[tuple[Known, Limit, float]]:
    """Each fact whose value cannot be, with the first number that cannot."""
    for fact, limit, values in _limited(case):
        bad = next((n for n in values if _outside(n, limit)), None)
        if bad is not None:
            yield fact, limit, bad


def _spoken_unit(fact: Known) -> str | None:
    """Give the unit that stands in the evidence: cm, mm, or None where both or neither do."""
    text = " ".join(evidence.text for evidence in fact.evidence)
    cm, mm = bool(CENTIMETERS.search(text)), bool(MILLIMETERS.search(text))
    return None if cm == mm else "cm" if cm else "mm"


def _spoken_beside(case: Case, fact: Known) -> str | None:
    """The unit spoken once for both numbers of an 'A by B', where it stands behind the other one."""
    end = fact.evidence[0].end
    others = [m for m in case.measurements() if m.id != fact.id and 0 <= m.evidence[0].start - end <= BY]
    return next((unit for m in others if (unit := _spoken_unit(m))), None)


def _unit_slip(case: Case, fact: Known, limit: Limit, value: float) -> tuple[float, str] | None:
    """Give the value that would fit, and the unit meant, where cm and mm were taken for one another.

    What was said in centimeters may have been meant in millimeters and the reverse; where the
    words leave the unit open, both are tried.
    """
    power = {"mm": 1, "mm2": 2}.get(limit.unit)
    if power is None:
        return None
    spoken = _spoken_unit(fact) or _spoken_beside(case, fact)
    trials = [(value / 10**power, "millimeters", "cm"), (value * 10**power, "centimeters", "mm")]
    return next(
        ((v, meant) for v, meant, was in trials if spoken in (None, was) and v > 0 and not _outside(v, limit)), None
    )


def _said_as_well(case: Case, fact: Known, limit: Limit) -> str:
    """'390 percent, maybe 95 percent': what can be, of what was said for the same thing right beside it."""
    if not isinstance(fact, Measurement):
        return ""
    start, end = fact.evidence[0].start, fact.evidence[0].end
    for other in case.measurements(fact.what):
        near = min(abs(other.evidence[0].start - end), abs(start - other.evidence[0].end)) <= BESIDE
        numbers = _numbers(other)
        alike = other.unit == fact.unit and other.site == fact.site
        if other.id != fact.id and near and alike and numbers and not any(_outside(n, limit) for n in numbers):
            return f"{first_up(said(other))} {SAID_TOO}. "
    return ""


def _tenth_or_tenfold(limit: Limit, value: float) -> str:
    fitting = [v for v in (value / 10, value * 10) if v and limit.usual and limit.usual[0] <= v <= limit.usual[1]]
    near = f"; {with_unit(number(fitting[0]), limit.unit)} would be usual" if fitting else ""
    return f"Hear the number again{near}."


def _name(case: Case, fact: Known, limit: Limit) -> str:
    return called(limit.name, case.limits, getattr(fact, "site", None))


def _as_said(fact: Known, limit: Limit) -> str:
    if isinstance(fact, Measurement):
        return said(fact)
    return with_unit(number(getattr(fact, limit.name.rpartition(".")[2])), limit.unit)


def _findings(case: Case, name: str) -> int:
    return sum(f.finding == name and f.status == "present" for f in case.live(case.record.findings))


def _reach(fact: Measurement) -> tuple[float, float]:
    """Give the lowest and highest value that the words allow."""
    low, high = (fact.value, fact.value) if fact.value is not None else (fact.low, fact.high)
    low, high = (-math.inf if low is None else low), (math.inf if high is None else high)
    if fact.approximate:
        low, high = low - ABOUT * abs(low), high + ABOUT * abs(high)
    return low, high


def _clash(a: Measurement, b: Measurement, limit: Limit) -> bool:
    """Tell whether two facts speak of one thing, and cannot both be true."""
    for name in limit.apart:
        mine, theirs = getattr(a, name), getattr(b, name)
        if mine is not None and theirs is not None and mine != theirs:
            return False
    if any(getattr(a, name) != getattr(b, name) for name in limit.split):
        return False
    if {e.start for e in a.evidence} & {e.start for e in b.evidence} and a.evidence[0] == b.evidence[0]:
        return False  # one number heard in two ways, which is asked about as such
    for name in limit.same:
        if getattr(a, name) is None or getattr(a, name) != getattr(b, name):
            return False
    if a.unit is not None and b.unit is not None and a.unit != b.unit:
        return False
    (a_low, a_high), (b_low, b_high) = _reach(a), _reach(b)
    if max(a_low - b_high, b_low - a_high) > limit.near:
        return False  # one of another of its kind
    return a_high < b_low - 0.05 or b_high < a_low - 0.05


def _placed(case: Case, facts: list[Measurement], limit: Limit) -> list[Measurement]:
    """The facts of a thing that is told apart by its site: where only one site was said at all, it is that of each.

    So it is of the bone, where that tells the facts apart ('which' may be the first or the larger one as well).
    """
    thing = limit.name.partition(".")[0]
    alike = [f for f in case.measurements() if f.what.startswith(f"{thing}.")]
    sites = {f.site for f in alike if f.site}
    if "site" not in limit.split or len(sites) != 1:
        return facts
    facts = [f if f.site else f.model_copy(update={"site": next(iter(sites))}) for f in facts]
    ones = {f.which for f in alike if f.which}
    if len(ones) != 1 or not ones <= BONES:
        return facts
    return [f if f.which else f.model_copy(update={"which": next(iter(ones))}) for f in facts]


def _connected(facts: list[Measurement], limit: Limit) -> list[list[Measurement]]:
    """Give groups of facts that clash with one another, each in the order said."""
    groups: list[set[int]] = []
    for i, j in itertools.combinations(range(len(facts)), 2):
        if _clash(facts[i], facts[j], limit):
            touching = [g for g in groups if g & {i, j}]
            groups = [g for g in groups if g not in touching] + [set().union({i, j}, *touching)]
    return [[facts[i] for i in sorted(group)] for group in sorted(groups, key=min)]
