"""Spans of motion, and single angles that are not quite sure, by the figures of `limits.toml`."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.grammar.limits import limits_of
from extractor.language.quantities import Quantity


def is_arc(case: Case, q: Quantity) -> bool:
    """Whether a range is one of motion: 'one twenty-five, maybe one thirty' is one end of it, not sure."""
    known = limits_of(case.grammar.folders).constants
    least, most = known["motion-end-least"].value, known["motion-start-most"].value
    return q.low is not None and q.high is not None and q.high >= least and q.low <= most


def is_one_angle(case: Case, q: Quantity) -> bool:
    """'In ten to fifteen degrees of flexion' is one angle, not quite sure; a span of motion is wider."""
    if q.dimension != "angle" or q.low is None or q.high is None:
        return False
    return q.high - q.low <= limits_of(case.grammar.folders).constants["motion-unsure-by"].value
