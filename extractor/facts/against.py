"""A number of this case set against another's: 'theirs was thirty millimeters, ours is twenty'."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from extractor.facts.case import Case
from extractor.facts.slot_openings import RULER
from extractor.facts.wanted import is_set_against
from extractor.language.measure import QUANTITY
from extractor.language.quantities import Quantity

if TYPE_CHECKING:
    from extractor.facts.measuring import Claim
    from extractor.facts.slots import Slot

BESIDE = 4
"""How near a thing is that is named in the number's own clause."""


def set_against(case: Case, slot: Slot, claims: list[Claim]) -> Claim | None:
    """The measurement of another case against which a number is set: 'theirs was thirty millimeters, ours is twenty'.

    What was measured is then said once only, of the habit, the other knee or the earlier operation.
    """
    q = slot.quantity
    if not claims or q.product is not None or not is_set_against(case, q, _just_told(case, slot, claims)):
        return None
    before = claims[-1]
    told = before.slot.quantity
    last = _just_told(case, slot, claims) or case.sized_before(q.start)
    if last is None or case.number_at(last) != before.slot.number or before.rule.kind not in {"measurement", "plan"}:
        return None
    fits = told.product is None and q.kind == QUANTITY and q.dimension in (None, before.rule.takes)
    return before if fits and not _another_named(case, before, q) else None


def _just_told(case: Case, slot: Slot, claims: list[Claim]) -> Quantity | None:
    """'A nine tunnel would do | but I went with ten': a number without unit, claimed in the same breath."""
    told = claims[-1].slot
    near = told.sentence == slot.sentence and told.quantity.dimension is None and told.number == slot.number - 1
    return told.quantity if near else None


def _another_named(case: Case, before: Claim, q: Quantity) -> bool:
    """'I usually make the plugs nine ... the posterior socket | I drilled it to eight': another thing, right before."""
    clause = case.clause(q.number_start)
    opens = case.note.segments.clauses[max(0, clause.number - 1)].start
    named = [c for c in case.within("thing", max(opens, before.slot.quantity.end), q.start) if c.name != RULER]
    return bool(named) and before.thing is not None and named[-1].key != before.thing.concept.key


def like_the_other(case: Case, slot: Slot, before: Claim | None, found: list[Claim]) -> Claim | None:
    """A number set against another's that says neither thing nor dimension is of the same."""
    named = any(c.thing is not None and c.thing.closeness >= BESIDE for c in found)
    if before is None or named or case.within("dimension", *slot.chunk):
        return None
    q = slot.quantity
    return replace(before, slot=slot, pieces=((q.start, q.end),))
