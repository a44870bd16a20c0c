"""Sizes of the same thing in both compartments, told in one breath: 'the medial tear 18 millimeters, lateral 7'."""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from itertools import islice
from typing import TYPE_CHECKING

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.language.clause_words import CONNECTORS, DETERMINERS
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

if TYPE_CHECKING:
    from extractor.facts.measuring import Claim
    from extractor.facts.slots import Slot

SIDES = frozenset({"medial", "lateral"})
BESIDE = DETERMINERS | set("one side is was over tear about of meniscus compartment only :".split())
"""Words between a compartment and the number told of it."""
STEPPING = (["then"], ["and", "then"], ["and", "finally"], ["then", "finally"], ["finally"], ["up", "to"])
"""What stands between the sizes of one thing made larger step by step."""
MOST_STEPS = 6
"""Sizes told in steps, at most."""
NEAR = 5
"""Words between a compartment and its number, at most."""
FEW = 8
"""Tokens of a sentence that only goes on with the one before."""
OTHERS = 6
"""Tokens behind a number in which it is said to be of another one."""
ONES = frozenset({"one", "ones", "other", "others", "first", "second", "third"})
VALUES = ("value", "low", "high")


def goes_on(case: Case, q: Quantity) -> bool:
    """Whether a bare number goes on with sizes told before it: of the other compartment, or grown step by step."""
    return _in_both(case, q) or _in_steps(case, q)


def _in_steps(case: Case, q: Quantity) -> bool:
    """'Reamed to seven millimeters, then eight, then nine.': a number that ends the steps before it."""
    after = case.words[q.end : q.end + 1]
    if q.dimension is not None or (after and after[0][:1].isalnum()):
        return False
    for before in islice(case.numbers_before(q.start), MOST_STEPS):
        gap = [w for w in case.words[before.end : q.start] if w != ","]
        if gap not in STEPPING or before.value is None or q.value is None or before.value >= q.value:
            return False
        if before.dimension is not None:
            return before.dimension == "length"
        q = before
    return False


def _in_both(case: Case, q: Quantity) -> bool:
    """'Two tears, medial 22, lateral 9': a bare number beside its compartment, the other one told near by."""
    own = _beside(case, q.number_start, q.end)
    if own is None or q.dimension is not None:
        return False
    after = case.words[max(q.end, own.end) : max(q.end, own.end) + 1]
    if after and after[0][:1].isalnum() and after[0] not in CONNECTORS:
        return False
    sentences, number = case.note.segments.sentences, case.sentence(q.number_start).number
    first, last = sentences[max(0, number - 1)], sentences[min(number + 1, len(sentences) - 1)]
    others = case.within("compartment", first.start, last.end)
    return any(c.name in SIDES and c.name != own.name for c in others)


def across(case: Case, slot: Slot, claims: Sequence[Claim]) -> Claim | None:
    """'18 millimeters medially and 7 laterally': a number of the other compartment is read like the one before it."""
    if not claims:
        return None
    before, q = claims[-1], slot.quantity
    told = before.slot.quantity
    here, there = _beside(case, q.number_start, q.end), _beside(case, told.number_start, told.end)
    if here is None or there is None or here.name == there.name or before.rule.kind != "measurement":
        return None
    if slot.sentence.number - before.slot.sentence.number > (slot.sentence.end - slot.sentence.start <= FEW):
        return None
    if len({q.dimension, told.dimension} - {None}) > 1 or (q.product is None) != (told.product is None):
        return None
    if q.part != told.part or case.within("dimension", *slot.chunk) or case.within("thing", told.end, q.start):
        return None
    return replace(before, slot=slot, pieces=((q.start, q.end), (here.start, here.end)))


def other_one(case: Case, slot: Slot, before: Claim) -> Concept | None:
    """'Sixteen deep for the two big ones and twelve for the small one': of another one of the same things."""
    said = [case.words[q.end : q.end + OTHERS] for q in (before.slot.quantity, slot.quantity)]
    alike = all(words[:2] == ["for", "the"] and ONES & set(words) for words in said)
    return before.thing.concept if alike and before.thing else None


def _beside(case: Case, start: int, end: int) -> Concept | None:
    """The compartment that stands by a number, before it or right behind it."""
    sentence = case.sentence(start)
    behind = next((c for c in case.within("compartment", end, min(end + 1, sentence.end))), None)
    if behind is not None and case.words[behind.start].endswith("ly"):
        return behind
    for c in case.backwards("compartment", start, sentence.start):
        between = case.words[c.end : start]
        near = len(between) <= NEAR and BESIDE.issuperset(between)
        return c if near and c.name in SIDES else None
    return None


def sited_across(case: Case, drafts: Sequence[FactDraft]) -> list[FactDraft]:
    """All drafts; sizes of one thing that differ, told of both compartments, say of which each is."""
    alike: dict[object, list[int]] = defaultdict(list)
    for n, d in enumerate(drafts):
        if d.kind == "measurements" and d.fields.get("site") in (None, *SIDES) and d.fields.get("role") != "reference":
            alike[d.fields["what"]].append(n)
    out = list(drafts)
    for group in alike.values():
        if len({tuple(out[n].fields.get(k) for k in VALUES) for n in group}) < 2:
            continue
        sites = {n: _compartment(case, out[n]) for n in group}
        if set(sites.values()) >= SIDES:
            for n, site in sites.items():
                if site:
                    out[n] = replace(out[n], fields={**out[n].fields, "site": site})
    return out


def _compartment(case: Case, draft: FactDraft) -> str | None:
    at = bisect_right(case.note.tokens.starts, draft.spans[0].start) - 1
    sentence = case.sentence(at)
    before = next(case.backwards("compartment", at, sentence.start), None)
    if before is not None and any(q.product is None for q in case.numbers(before.end, at)):
        before = None  # told of the number before
    near = before or case.nearest("compartment", at, sentence.start, sentence.end)
    return near.name if near and near.name in SIDES else None
