"""A size said of each: 'A posterior tunnel and an anterior tunnel were drilled, each eight millimeters across'."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.facts.measuring import Claim

EACH = frozenset({"each", "both", "apiece"})
BEHIND = 5
"""Tokens behind a number in which it is said to be of each, at most: 'eight millimeters in diameter each'."""


def sites_of_each(case: Case, claim: Claim) -> list[str | None]:
    """The places named before a number that is said of each, None where none is named; nothing where it is of one."""
    listed = dict(claim.rule.fields).get("site", "")
    q, clause = claim.slot.quantity, claim.slot.clause
    behind = case.words[q.end : min(q.end + BEHIND, claim.slot.share[1], clause.end)]
    if not listed.startswith("<") or EACH.isdisjoint((*case.words[clause.start : q.start], *behind)):
        return []
    name = listed.strip("<>!")
    names = list(dict.fromkeys(c.name for c in case.within(name, claim.slot.sentence.start, q.start)))
    if len(names) > 1:
        return [*names]
    return [] if case.within(name, clause.start, clause.end) else [None]
