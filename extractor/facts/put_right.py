"""A size put right in a few words of its own: 'Fifteen millimeters from the root. Correction, twelve.'.

The number alone is said again, and what was measured is left out, however many words named it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from extractor.facts.case import LEAD, Case
from extractor.language.clause_words import SENTENCE_END
from extractor.language.corrections import STOPS, cue_at, only_fillers, taken_back
from extractor.language.measure import QUANTITY
from extractor.language.quantities import Quantity

if TYPE_CHECKING:
    from extractor.facts.measuring import Claim
    from extractor.facts.slots import Slot

SAYS = frozenset(
    "it they is are was were be been 's that this these those i we meant mean should in fact truly".split()
)
"""Words of a correction that only lead up to its number, beside fillers."""
BEHIND = frozenset({"sorry", "instead", "really", "actually", "then", "in", "fact", "all", "again", "please"})
"""Words behind it that say no more than that it is put right."""
FAR = 16
"""Tokens from the number put right to that of the correction, at most: what was measured stands between."""


NEAR = 0.25
"""Share by which a size said anew may differ from what was said first."""
ANEW = frozenset(
    "sorry correct corrects corrected again second turns turned out read reads said say mean meant actually rather"
    " really wait truth wrong exactly precisely instead better fact".split()
)
"""Words of which one stands between a size and the same one said anew, or behind it, however the rest is put."""
LEAD_IN = 3
"""Tokens up to what a size is said of, or back to the 'said' that it was only said, at most."""
OTHERS = ("thing", "structure", "region", "device", "finding", "compartment", "color", "bone", "dimension")
"""Lists whose words between the two sizes show that the second is of something else."""
IN_FACT = frozenset({"actually", "rather", "really"})
"""They put right what was said before where they open what does no more: 'Actually it was twelve.'."""


def is_put_right(case: Case, q: Quantity) -> bool:
    """Whether a number does nothing but put right the size told before it."""
    return q.kind == QUANTITY and _wrong_one(case, q) is not None


def put_right(case: Case, slot: Slot, claims: Sequence[Claim]) -> Claim | None:
    """The reading of a number that puts right the one told before it: it is of the same thing."""
    if not claims or slot.quantity.product is not None:
        return None
    before, wrong = claims[-1], _wrong_one(case, slot.quantity)
    if wrong is None or before.slot.quantity != wrong or before.rule.kind not in {"measurement", "plan"}:
        return None
    q = slot.quantity
    if q.dimension and q.dimension != before.rule.takes:
        return None
    return type(before)(before.rule, slot, before.thing, ((q.start, q.end),), before.rank)


def _wrong_one(case: Case, q: Quantity) -> Quantity | None:
    """The size right before a number, where all that is said from there on is that it was wrong."""
    before = next(case.numbers_before(q.start), None)
    asked = before is not None and _asked(case, before)
    if before is not None and asked:
        before = next(case.numbers_before(before.start), None)  # 'Did I say eighteen? | Nineteen.'
    if before is None or before.product is not None or q.earlier or not (before.dimension or q.dimension):
        return None
    if q.start - before.end > FAR or case.sentence(q.start).number - case.sentence(before.end).number > 1 + asked:
        return None
    stop = next((i for i in range(before.end, q.start) if case.words[i] in STOPS), q.start)
    if _told_anew(case, before, q):
        return before
    named = (c for name in ("thing", "dimension") for c in case.within(name, stop, q.start))
    if any(cue_at(case.words, c.start) is None for c in named):
        return None  # 'Eighteen along the rim. And the width. Hold on. Nine.'
    cue = taken_back(case.words, max(before.end, q.start - LEAD), q.start)
    said = cue[1] if cue else _in_fact(case, before.end, q.start)
    return before if said and only_fillers(case.words, said, q.start, SAYS) and _ends(case, q) else None


def _asked(case: Case, q: Quantity) -> bool:
    """Whether a number is only said to ask about it."""
    return q.dimension is None and case.words[case.clause(q.start).end - 1] == "?"


def _told_anew(case: Case, before: Quantity, q: Quantity) -> bool:
    """'Eighteen millimeters long. With the good probe it turns out to be nineteen.': near it, and of nothing else."""
    if before.dimension is None or before.value is None or q.value is None or before.value == q.value:
        return False
    if abs(before.value - q.value) > NEAR * max(before.value, q.value) or not _ends(case, q):
        return False
    start = _behind_its_thing(case, before)
    lead = case.words[max(0, before.start - LEAD_IN) : before.start]
    said = {*case.words[start : q.start], *case.words[q.end : q.end + 3]} | ({"said"} if "said" in lead else set())
    others = any(c.key != "thing:ruler" for name in OTHERS for c in case.within(name, start, q.start))
    return not others and not ANEW.isdisjoint(said) and case.words[start] in STOPS


def _behind_its_thing(case: Case, q: Quantity) -> int:
    """The token behind a size and what it is at once said of: 'eighteen millimeters | long', '... | for the tear'."""
    start = q.end + (case.words[q.end] in {"long", "wide", "deep"})
    if case.words[start] in {"for", "of"}:
        thing = next(iter(case.within("thing", start, start + LEAD_IN)), None)
        start = thing.end if thing else start
    return start


def _in_fact(case: Case, floor: int, end: int) -> int:
    """The token behind an 'actually' that opens what is said from there on; 0 where none does."""
    opens = (i for i in range(floor, end) if case.words[i - 1] in SENTENCE_END | {","} and case.words[i] in IN_FACT)
    return next((i + 1 for i in opens), 0)


def _ends(case: Case, q: Quantity) -> bool:
    """Whether nothing is said behind a number but that it is put right."""
    for word in case.words[q.end : q.end + 3]:
        if word in SENTENCE_END or word in {",", ";"}:
            return True
        if word not in BEHIND:
            return False
    return q.end + 3 >= len(case.words)
