"""Bare numbers that a graft is cut to: 'my rule is one under, so nineteen'."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.language.measure import QUANTITY
from extractor.language.quantities import Quantity

HENCE = frozenset({"so", "which", "that"})
"""What follows from an allowance opens so."""
MAKES = frozenset({"it", "is", "'s", "was", "makes", "made", "gives", "about", "exactly", "at", "be", "will"})
"""Words between that and its number."""
SIZED = frozenset({"under-size", "over-size"})
PAUSES = frozenset({",", ".", ";", ":", "and", "by", "\n"})


def is_cut_to(case: Case, q: Quantity) -> bool:
    """Whether a bare number is what a graft was drawn or cut to."""
    alone = q.end >= len(case.words) or case.words[q.end] in PAUSES
    return q.kind == QUANTITY and alone and _follows_allowance(case, q)


def _follows_allowance(case: Case, q: Quantity) -> bool:
    """'As usual I cut one millimeter short, so nineteen'."""
    start, at = case.sentence(q.start).start, q.start - 1
    while at > start and case.words[at] in MAKES:
        at -= 1
    if at <= start or case.words[at] not in HENCE:
        return False
    sized = any(c.name in SIZED for c in case.within("dimension", start, at))
    return sized or bool(case.within("exact-cut", start, at))
