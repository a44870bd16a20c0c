"""Sizes of several things told one by one: 'The largest was twelve by nine millimeters, the second seven across'.

What the second is left unsaid is said of the first: the thing, its dimension, the unit.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from extractor.facts.case import Case
from extractor.language.clause_words import CONNECTORS
from extractor.language.measure import QUANTITY
from extractor.language.quantities import Quantity

if TYPE_CHECKING:
    from extractor.facts.measuring import Claim
    from extractor.facts.ruleset import NumberRules
    from extractor.facts.slots import Slot

LEADING = frozenset({"one", "was", "is", "measured", "measures", "about", "at", ","})
"""Plain words between which of them and its size."""
ONE_BY_ONE = frozenset({"length", "angle"})
MOST_LED = 4
"""Tokens between them, at most."""
AHEAD = 12
"""Tokens before the size of the first in which it is said to be one of several, at most."""
ACROSS = frozenset({"diameter", "width"})
"""What a size without a dimension may be said in: 'seven millimeters across'."""


def is_next_one(case: Case, q: Quantity) -> bool:
    """Whether a bare number is told as the size of the next of several: '..., the smallest five'."""
    bare = q.kind in {QUANTITY, "count"} and q.dimension is None and q.product is None and q.value is not None
    if not bare or _which(case, q) is None or not _ends(case, q.end):
        return False
    before = case.sized_before(q.start)
    return before is not None and before.dimension in ONE_BY_ONE and _one_thought(case, before, q)


def next_one(case: Case, slot: Slot, claims: list[Claim], rules: NumberRules | None) -> Claim | None:
    """The claim of a number told of the next of several: that of the one before."""
    q = slot.quantity
    at = _which(case, q)
    if not claims or at is None or q.product is not None or q.value is None or rules is None:
        return None
    before = claims[-1]
    told, thing = before.slot.quantity, before.thing
    if before.rule.kind != "measurement" or thing is None or told.dimension not in ONE_BY_ONE:
        return None
    if q.dimension not in (None, told.dimension) or not _one_thought(case, told, q):
        return None
    named = thing.concept
    one = case.words[named.start - 1] in case.grammar.plain_words("first-one")
    apart = case.words[told.end : told.end + 2] == ["for", "the"]  # 'sixty degrees for the first'
    several = one or apart or case.words[named.end - 1].endswith("s") or named.name.endswith("body")
    if not several or not _of_several(case, told):
        return None
    rule = before.rule
    if rule.part is not None:
        plain = [r for r in rules.rules if named.key in r.of and not r.words and not r.meets and r.part is None]
        plain = [r for r in plain if r.kind == "measurement"]
        if len({r.value for r in plain}) != 1:
            return None
        rule = plain[0]
    own = {c.name for c in case.within("dimension", q.end, min(q.end + 2, slot.sentence.end))}
    said = {key.split(":")[-1] for words in rule.words for key in words}
    if own - said - (set() if rule.words else ACROSS):
        return None
    pieces = ((q.start, q.end), (at, at + 1), (named.start, named.end))
    return replace(before, rule=rule, slot=slot, pieces=pieces)


def _which(case: Case, q: Quantity) -> int | None:
    """The token that says which of several a number is of, right before it."""
    named = case.grammar.plain_words("next-one")
    if case.words[q.end : q.end + 2] == ["for", "the"] and case.words[q.end + 2 : q.end + 3] in [[w] for w in named]:
        return q.end + 2
    at = q.start - 1
    while at > 0 and q.start - at <= MOST_LED and case.words[at] in LEADING:
        at -= 1
    return at if at > 0 and case.words[at] in named and case.words[at - 1] in {"the", "a", "and", ","} else None


def _of_several(case: Case, told: Quantity) -> bool:
    """Whether the size before was told of one of several, too."""
    first = case.grammar.plain_words("next-one") | case.grammar.plain_words("first-one")
    start = max(case.sentence(told.start).start, told.start - AHEAD)
    behind = case.words[told.end + 2 : told.end + 3] if case.words[told.end : told.end + 2] == ["for", "the"] else []
    return not first.isdisjoint([*case.words[start : told.start], *behind])


def _one_thought(case: Case, before: Quantity, q: Quantity) -> bool:
    """Whether two numbers are told in one sentence, or in two that follow each other, and no third between."""
    near = case.sentence(q.start).number - case.sentence(before.start).number <= 1
    return near and not any(o.dimension for o in case.numbers(before.end, q.start))


def _ends(case: Case, at: int) -> bool:
    after = case.words[at : at + 1]
    return (
        not after or not after[0][:1].isalnum() or after[0] in CONNECTORS or bool(case.within("dimension", at, at + 1))
    )
