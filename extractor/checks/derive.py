"""Values that follow from what was said. Each names what it rests on and its source; none enters the record."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from extractor.checks.case import Case, CheckConfig
from extractor.checks.fit import allowance_in_force
from extractor.grammar.limits import Constant, Limits
from extractor.record.models import CaseRecord

COMPARTMENTS = ("medial", "lateral")


@dataclass(frozen=True)
class Derived:
    """A value that follows: named as in measurements, with the facts it rests on and where the rule is from."""

    what: str
    value: float
    unit: str
    rests_on: tuple[str, ...]
    source: str
    verified: str = "none"


def expected_graft_length(defect: float, allowance: float) -> float:
    """Length (mm) to cut a graft at: the defect's less the allowance. Common practice, no source."""
    return defect - allowance


def chord_to_arc(chord: float, radius: float) -> float:
    """Length along the rim (mm) of a straight distance between two points of it, the rim taken for a circle.

    Args:
        chord: the straight distance, mm.
        radius: of the rim, mm; see `rim_radius`.

    Raises:
        ValueError: where the circle has no chord so long.
    """
    if not 0 <= chord <= 2 * radius:
        raise ValueError(f"a circle of radius {radius:g} mm has no chord of {chord:g} mm")
    return 2 * radius * math.asin(chord / (2 * radius))


def arc_to_chord(arc: float, radius: float) -> float:
    """Straight distance (mm) between the ends of an arc; see `chord_to_arc`. Holds for any arc up to a circle."""
    return 2 * radius * math.sin(arc / (2 * radius))


def rim_radius(rim_length: float, horn_distance: float) -> float:
    """Radius (mm) of the circle whose arc of `rim_length` ends `horn_distance` apart (both mm).

    A meniscus is more than half a circle: the arc is solved for by halving the interval in which it
    must lie. The circle is this project's simplification; a real rim is somewhat longer than wide.

    Raises:
        ValueError: where no circle has that arc between ends so far apart.
    """
    if not 0 < horn_distance < rim_length * 2 / math.pi:
        raise ValueError(f"no arc of {rim_length:g} mm, longer than half a circle, ends {horn_distance:g} mm apart")

    def arc(radius: float) -> float:
        return radius * (2 * math.pi - 2 * math.asin(horn_distance / (2 * radius)))

    low, high = horn_distance / 2, rim_length
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if arc(middle) < rim_length else (low, middle)
    return (low + high) / 2


def share_replaced(graft_length: float, rim_length: float) -> float:
    """Share of the meniscus replaced (%), as length along the rim. By arithmetic."""
    return 100 * graft_length / rim_length


def radiographic_length(plateau_length: float, share: float) -> float:
    """Graft length (mm) from the plateau's on the lateral film and the share (%) of the compartment."""
    return plateau_length * share / 100


def derive_all(record: CaseRecord, limits: Limits, config: CheckConfig | None = None) -> tuple[Derived, ...]:
    """Everything that follows from a record, in a fixed order.

    Expected graft length and offsets, share of the meniscus replaced, straight length of the
    defect, and the graft's size by radiograph. What a record has no facts for is left out.
    """
    case = Case(record, limits, config=config or CheckConfig())
    return (*_graft(case), *_segment(case), *_sizing(case))


def _graft(case: Case) -> Iterator[Derived]:
    for limit in case.limits.measurements.values():
        if not limit.follows:
            continue
        allowance = allowance_in_force(case, limit)
        for base in case.measurements(limit.follows):
            if base.value is None or allowance.low != allowance.high:
                continue
            rests_on = (base.id, *((allowance.fact.id,) if allowance.fact else ()))
            why = "as in the joint" if allowance.low == 0 else f"less {allowance.low:g} mm, {allowance.why}"
            value = expected_graft_length(base.value, allowance.low)
            yield Derived(limit.name, value, limit.unit, rests_on, f"{why}; common practice, no source")


def _segment(case: Case) -> Iterator[Derived]:
    """What follows from the defect's length along the rim and the size of menisci in general."""
    compartment = _compartment(case)
    rim = case.limits.constants.get(f"{compartment}-rim-length")
    horns = case.limits.constants.get(f"{compartment}-horn-distance")
    if not rim or not horns:
        return
    for defect in case.measurements("defect.ap_length"):
        if defect.value is None or not 0 < defect.value < rim.value:
            continue
        share = share_replaced(defect.value, rim.value)
        yield Derived("meniscus.share_replaced", share, "%", (defect.id,), _from(rim), rim.verified)
        chord = arc_to_chord(defect.value, rim_radius(rim.value, horns.value))
        yield Derived("defect.chord", chord, "mm", (defect.id,), f"{_from(rim)}; rim as a circle", rim.verified)


def _sizing(case: Case) -> Iterator[Derived]:
    share = case.limits.constants.get(f"{_compartment(case)}-length-share")
    if not share:
        return
    for plateau in case.measurements("plateau.ap_length"):
        if plateau.value is not None:
            length = radiographic_length(plateau.value, share.value)
            yield Derived("meniscus.ap_length", length, "mm", (plateau.id,), _from(share), share.verified)
    widest = case.limits.constants.get("compartment-width")
    for plateau in case.measurements("plateau.ml_width"):
        if plateau.value is not None and widest and plateau.value <= widest.value:
            yield Derived("meniscus.width", plateau.value, "mm", (plateau.id,), _from(share), share.verified)


def _compartment(case: Case) -> str | None:
    """The compartment of the meniscus replaced, where it is one."""
    found = {p.compartment for p in case.procedures() if p.code == "meniscus-transplant"} & set(COMPARTMENTS)
    return found.pop() if len(found) == 1 else None


def _from(constant: Constant) -> str:
    return constant.source
