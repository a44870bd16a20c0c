"""Stitches that did not stay: 'Five stitches, one pulled out, so four', 'One more backfired and I took it out'."""

from __future__ import annotations

from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.facts.stitch_counts import MORE, is_count
from extractor.facts.stitch_groups import Group
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

BEFORE = 8
"""Tokens from the number of stitches that were lost to what befell them, at most."""
DENIALS = frozenset({"not", "n't", "never", "without", "no"})


def without_lost(case: Case, sentence: Span, told: list[Group], open_groups: Sequence[Group]) -> list[Group]:
    """The groups of a sentence as they stayed: fewer by those that were lost, or without the one named last.

    Those lost may be of the stitches told a sentence before (`open_groups`), whose number is lowered.
    """
    for c in case.within("stitch-lost", sentence.start, sentence.end):
        q = _how_many(case, sentence, c)
        own = next((g for g in told if q and g.head and g.head.start == q.start), None)
        if q is not None and MORE.isdisjoint(case.words[q.start - 1 : q.end + 1]):
            left = [g for g in told if g is not own]
            if _lower(case, q, c, [g for g in left if g.head and g.head.start < q.start] or open_groups, sentence):
                told = left
                continue
        last = max((g.head.start for g in told if g.head and g.head.start < c.start), default=None)
        told = [g for g in told if g.head is None or g.head.start != last]
    return told


def _how_many(case: Case, sentence: Span, lost: Concept) -> Quantity | None:
    """The number of stitches that were lost, told last before what befell them."""
    near = case.numbers(max(sentence.start, lost.start - BEFORE), lost.start)
    return next((q for q in reversed(near) if is_count(q) and q.end <= lost.start), None)


def _lower(case: Case, q: Quantity, lost: Concept, groups: Sequence[Group], sentence: Span) -> bool:
    """Take what was lost off the number told last; whether that could be done, or they were put in anew."""
    behind = case.words[lost.end : sentence.end]
    again = next((i for i, w in enumerate(behind) if w in case.grammar.plain_words("stitched-anew")), None)
    if again is not None and DENIALS.isdisjoint(behind[:again]):
        return bool(groups)
    fewer = int(q.value or 0)
    group = next((g for g in reversed(groups) if (g.count or 0) > fewer), None)
    if group is None or group.count is None:
        return False
    group.fields["count"] = group.count - fewer
    group.pieces.append((q.start, lost.end))
    return True
