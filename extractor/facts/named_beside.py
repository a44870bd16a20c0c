"""A way of stitching that a note refuses in one place and only names in another was not done.

'The tray for the front was the outside-in one. ... It did not need an outside-in.' Where a number, a suture or a deed
is told of it ('two of them outside-in'), it was done there, and not in the place of which it was refused.
"""

from __future__ import annotations

from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

TOLD_WITH = ("form", "color", "device", "configuration", "material")
"""Lists of what a stitch is made of, or like."""
COUNTED = frozenset({"count", "suture-size", "quantity", "ordinal"})
PLACES = ("region", "surface")
FEW = 4
"""Words, at most, of a clause that is a part of a list."""


def is_bare(case: Case, clause: Span, trigger: Concept, refused: Sequence[tuple[Span, Concept]]) -> bool:
    """Whether a clause only names a way of stitching that another clause refuses.

    Args:
        case: the note.
        clause: where it is named.
        trigger: what names it.
        refused: clauses that refuse the same, with what names it there.
    """
    if not case.within("technique", trigger.start, trigger.end):
        return False
    told = case.sentence(clause.start) if clause.end - clause.start <= FEW else clause  # 'three stitches, | all-inside'
    if any(case.within(name, told.start, told.end) for name in TOLD_WITH):
        return False
    if any(q.kind in COUNTED and q.start != trigger.end for q in case.numbers(told.start, told.end)):
        return False
    if not case.note.grammar.plain_words("stitch-evidence").isdisjoint(case.words[told.start : told.end]):
        return False
    here = _places(case, clause)
    return any(not (there := _places(case, other)) or not here or there & here for other, _ in refused)


def _places(case: Case, clause: Span) -> frozenset[str]:
    return frozenset(c.key for name in PLACES for c in case.within(name, clause.start, clause.end))
