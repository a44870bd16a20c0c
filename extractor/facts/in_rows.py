"""Numbers told in a row: sizes whose dimension is said behind the last, and a plan's weeks behind another's."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from extractor.facts.case import Case
from extractor.language.clause_words import DETERMINERS

if TYPE_CHECKING:
    from extractor.facts.measuring import Claim, Unread


PLACED = 2
"""Words between a number and the noun it shares with the one before, at most: 'ten millimeter tibial tunnel'."""


def twins_before(case: Case, claim: Claim, claims: list[Claim], unread: list[Unread]) -> list[Claim]:
    """'Ten millimeters and six millimeters in diameter', 'eight and six in diameter': what they are behind the last.

    Those that nothing had read are taken out of `unread`.
    """
    if shared := _shares_noun(case, claim, unread):
        return [shared]
    twins: list[Claim] = []
    number, at = claim.slot.number, claim.slot.quantity
    taken = claims[-1].slot.number if claims else -1
    while claim.rule.words and claim.rule.part is None and claim.rule.kind == "measurement" and number - 1 > taken:
        number -= 1
        q = case.note.quantities[number]
        joined = case.words[q.end : at.start] in ([["and"], [","]] if twins else [["and"]])
        alike = q.dimension == at.dimension and q.kind in {"quantity", "count"} and q.product is None
        if not joined or not alike or q.value is None:
            break
        if not twins and (of_before := _of_one_before(case, number, claims)):
            return [of_before]
        if unread and unread[-1].slot.number == number:
            unread.pop()
        slot = replace(claim.slot, quantity=q, number=number)
        twins.insert(0, replace(claim, slot=slot, pieces=((q.start, q.end), *claim.pieces[1:])))
        at = q
    return twins


def _shares_noun(case: Case, claim: Claim, unread: list[Unread]) -> Claim | None:
    """'A nine millimeter femoral and a ten millimeter tibial tunnel': the first is of another one."""
    at, number = claim.slot.quantity, claim.slot.number - 1
    nouned = claim.thing is not None and at.end <= claim.thing.concept.start <= at.end + PLACED
    if not nouned or claim.rule.kind != "measurement" or not unread or unread[-1].slot.number != number:
        return None
    q = case.note.quantities[number]
    listed = dict(claim.rule.fields).get("site", "").strip("<>!")
    placed = [c for c in case.within(listed, q.end, q.end + 1) if c.start == q.end]
    if not placed or q.dimension != at.dimension or q.value is None or q.product is not None:
        return None
    between = case.words[placed[0].end : at.start]
    if between[:1] != ["and"] or not DETERMINERS.issuperset(between[1:]):
        return None
    slot = unread.pop().slot
    return replace(claim, slot=slot, pieces=((q.start, placed[0].end), *claim.pieces[1:]))


def _of_one_before(case: Case, number: int, claims: list[Claim]) -> Claim | None:
    """'Drilled to eight and six and fifteen deep': the second is like the first, and not like the last."""
    if not claims or claims[-1].slot.number != number - 1:
        return None
    before, q = claims[-1], case.note.quantities[number]
    told = before.slot.quantity
    joined = case.words[told.end : q.start] == ["and"] and told.value is not None and told.product is None
    if not joined or before.rule.kind != "measurement" or before.rule.part is not None:
        return None
    slot = replace(before.slot, quantity=q, number=number)
    return replace(before, slot=slot, pieces=((q.start, q.end), *before.pieces[1:]))


def has_its_own(case: Case, claim: Claim, claims: list[Claim]) -> bool:
    """'Partial weight three weeks, | brace zero to ninety for six weeks': the weight has weeks of its own.

    So it is only where something else was named since then.
    """
    if claim.rule.kind != "plan" or claim.thing is None:
        return False
    said = claim.thing.concept
    own = [c for c in claims if c.rule.value == claim.rule.value and c.thing and c.thing.concept == said]
    if not own or said.start > claim.slot.quantity.start:
        return False
    return any(c.key != said.key for c in case.within("thing", own[-1].slot.quantity.end, claim.slot.quantity.start))


def still_unsized(case: Case, found: list[Claim], claims: list[Claim]) -> list[Claim]:
    """The readings of a number that are left, those of things that have their size already left out where one has none.

    'A longitudinal tear. I made a portal, about a centimeter. How long is it? Eighteen.': the tear. So it is only where
    the number's own sentence names neither, and does not measure or put right anew.
    """
    told = [c for c in found if _is_told(c, claims)]
    if not told or len(told) == len(found):
        return found
    q, sentence = told[0].slot.quantity, told[0].slot.sentence
    if case.correction(q.start) or case.within("measured-again", sentence.start, sentence.end):
        return found
    sizes = {_kind(c) for c in told}
    unsized = any(_kind(c) in sizes and c.thing and c.rule.words and c not in told for c in found)
    return [c for c in found if c not in told] if unsized else found


def _is_told(claim: Claim, claims: list[Claim]) -> bool:
    """Whether the thing of a claim was named before its sentence, and another number told this size of it."""
    q, thing = claim.slot.quantity, claim.thing
    if claim.rule.kind != "measurement" or thing is None or thing.concept.start >= claim.slot.sentence.start:
        return False
    if not claim.rule.words or "site" in dict(claim.rule.fields):
        return False  # of two tunnels, named once: 'Posterior thirty-eight long. Anterior thirty-four long.'
    own = [c for c in claims if c.rule.value == claim.rule.value and c.thing and c.thing.concept == thing.concept]
    own = [c for c in own if c.slot.sentence != claim.slot.sentence]
    return any(c.slot.quantity.value != q.value for c in own)


def _kind(claim: Claim) -> str:
    """'length' for a portal's length as for the defect's along the rim."""
    return claim.rule.value.rsplit(".", 1)[-1].rsplit("_", 1)[-1]
