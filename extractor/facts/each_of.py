"""A size said of each: 'A posterior tunnel and an anterior tunnel were drilled, each eight millimeters across'."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.facts.measuring import Claim

EACH = frozenset({"each", "both", "apiece"})
LEAD = 3
"""Tokens before a number in which it is said to be of each, at most."""
BEHIND = 5
"""... and behind it: 'eight millimeters in diameter each'."""


def sites_of_each(case: Case, claim: Claim) -> list[str]:
    """The places named before a number that is said of each of them; none where it is of one."""
    listed = dict(claim.rule.fields).get("site", "")
    q = claim.slot.quantity
    around = (
        *case.words[max(0, q.start - LEAD) : q.start],
        *case.words[q.end : min(q.end + BEHIND, claim.slot.share[1])],
    )
    if not listed.startswith("<") or EACH.isdisjoint(around):
        return []
    said = case.within(listed.strip("<>!"), claim.slot.sentence.start, q.start)
    names = list(dict.fromkeys(c.name for c in said))
    return names if len(names) > 1 else []
