"""Bounds without a unit: 'no flexion greater than ninety', 'flexion of more than ninety'."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.language.quantities import Quantity

FAR = 8
"""Words of what is measured, at most."""


def is_bound_of(case: Case, q: Quantity) -> bool:
    """Whether a bound stands right behind what is measured, or behind its 'of'."""
    at = q.start - (case.words[q.start - 1] == "of") if q.start and q.value is None else 0
    return at > 0 and any(c.end == at for c in case.within("dimension", max(0, at - FAR), at))
