"""What was said first and is not so: a value remembered wrong, a color asked for and not to be had.

'I keep saying fifty, the sheet has sixty-eight', 'I asked for orange, they only have blue'. It yields to what is told
behind it, or beside it, of the same thing. The words stand in the lists `first-thought` and `wished-for`.
"""

from __future__ import annotations

from extractor.facts.case import Case
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


def first_said(case: Case, q: Quantity) -> bool:
    """'I remembered fifty, the sheet says sixty-eight', 'the nurse read eighteen back to me': told before it was known.

    Said in the number's clause, or in the one before that it hangs on.
    """
    if q.put_right or q.earlier:
        return False
    token = q.number_start
    clause = case.clause(token)
    before = case.note.segments.clauses[max(0, clause.number - 1)]
    hangs = before.start >= case.sentence(token).start and case.words[before.end - 1].isalpha()
    floor = max(before.start if hangs else clause.start, token - 2 * NEAR)
    if any(not case.numbers(c.end, token) for c in case.within("first-thought", floor, token)):
        return True
    back = case.words[q.end : q.end + 1]
    return back[:1] == ["back"] and bool(case.within("bystander", clause.start, token))
