"""What was said first and is not so: a value remembered wrong, a color asked for and not to be had.

'I keep saying fifty, the sheet has sixty-eight', 'I asked for orange, they only have blue'. It yields to what is told
behind it, or beside it, of the same thing. The words stand in the lists `first-thought` and `wished-for`.
"""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.facts.settled import FIRST, TOLD_US
from extractor.language.quantities import Quantity

NEAR = 7
"""Tokens from such words to what they are said of, at most."""
BEHIND = 6
"""Tokens from what was wished for to the words behind it that say so, at most: 'orange was on my list'."""
LISTS = ("first-thought", "wished-for")
BACK_AGAIN = frozenset({"back", "down", "out"})


def only_wished(case: Case, start: int, end: int, stop: int) -> bool:
    """Whether a look is only thought of or asked for, by words before it in its sentence or behind it, up to `stop`."""
    floor = max(case.sentence(start).start, start - NEAR)
    last = max((c.end for c in case.within("color", floor, start)), default=floor)
    before = any(case.within(name, max(floor, last), start) for name in LISTS)
    behind = any(c.end <= stop for c in case.within("wished-for", end, min(end + BEHIND, stop)))
    return before or behind


def said_first(case: Case, q: Quantity) -> str | None:
    """The role of a value told before it was known: 'I remembered fifty, the sheet says sixty-eight'.

    So is what was read back to us: 'the nurse read eighteen back to me'. `TOLD_US` where somebody else noted it. Said
    in the number's clause, or in the one before that it hangs on.
    """
    if q.put_right or q.earlier:
        return None
    token = q.number_start
    clause = case.clause(token)
    before = case.note.segments.clauses[max(0, clause.number - 1)]
    hangs = before.start >= case.sentence(token).start and case.words[before.end - 1].isalpha()
    floor = max(before.start if hangs else clause.start, token - 2 * NEAR)
    said = [c.name for c in case.within("first-thought", floor, token) if not case.numbers(c.end, token)]
    if "mine" in said:
        return FIRST
    if case.words[q.end : q.end + 1] == ["back"] and case.within("bystander", clause.start, token):
        return FIRST
    return TOLD_US if said else None
