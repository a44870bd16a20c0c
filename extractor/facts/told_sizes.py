"""Sizes that are none of this case by what they are of: only suspected, not found, denied, or the usual one's."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.facts.hearsay import verdict
from extractor.facts.measuring import Claim
from extractor.facts.theirs import is_set_beside, said_beside
from extractor.language.clause_words import FINITE
from extractor.language.quantities import Quantity

NEVER, ARTICLES = frozenset({"not", "never"}), frozenset({"a", "an"})
DENIED_WITHIN = 7
"""Tokens from a denial to the size of what is denied, at most."""


def promised(case: Case, claim: Claim) -> bool:
    """'A defect of twenty millimeters was what I had been promised': a size only suspected, or told by others."""
    token = claim.slot.quantity.number_start
    told = said_beside(case, "suspected", token)
    told = [c for c in told if not case.numbers(c.end, token)]  # 'the defect I expected to be thirty was twenty-four'
    return any(c.name == "doubted" and not is_set_beside(case, c, token) for c in told)


def disproved(case: Case, q: Quantity) -> bool:
    """Whether a size is of a finding that others told of and nobody found: 'a lesion of eleven. I find none there'."""
    clause = case.clause(q.number_start)
    return any(
        c.name != "intact" and verdict(case, clause, c).denied for c in case.within("finding", clause.start, clause.end)
    )


def of_unreal_thing(case: Case, claim: Claim) -> bool:
    """'The average man has a rim of, I don't know, | six millimeters': a number alone is meant as what it is of."""
    q, thing = claim.slot.quantity, claim.thing
    clause = case.clause(q.number_start)
    if thing is None or clause.start != q.start or clause.end - q.end > 1 or thing.concept.start >= clause.start:
        return False
    return thing.concept.start >= case.sentence(q.start).start and case.assertion(thing.concept.start).mood == "habit"


def never_made(case: Case, claim: Claim) -> bool:
    """'An eight millimeter plug was not used', '... a plug of eight, | but this was not done': what was not made so.

    What was found stays as large as it is when nothing is done to it.
    """
    q = claim.slot.quantity
    assertion, clause = case.assertion(q.number_start), case.clause(q.number_start)
    if ("role", "made") not in claim.rule.fields or not assertion.negated or q.earlier:
        return False
    taken_back = assertion.cue is not None and assertion.cue >= clause.end
    unused = case.grammar.plain_words("not-made")
    return taken_back or not unused.isdisjoint(case.words[q.end : clause.end])


def denied_thing(case: Case, q: Quantity) -> bool:
    """'There was never a rim of three millimeters': what is denied with its size."""
    clause = case.clause(q.number_start)
    if clause.start == q.start and clause.end - q.end <= 1 and case.assertion(q.start).negated and not q.earlier:
        return True  # 'three and not, | as the fellow said, | six'
    start = max(case.clause(q.number_start).start, q.start - DENIED_WITHIN)
    at = next((i for i in range(q.start - 2, start - 1, -1) if case.words[i] in NEVER), None)
    return at is not None and case.words[at + 1] in ARTICLES and FINITE.isdisjoint(case.words[at + 1 : q.start])
