"""Stitches told one by one under a number, each by its color: 'Five stitches: on top a blue one and a white one'."""

from __future__ import annotations

from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.facts.looks import Look
from extractor.facts.stitch_counts import Head
from extractor.facts.stitch_groups import PLACES, Group
from extractor.facts.stitch_words import inside
from extractor.language.clauses import Span

LEADS = frozenset({"a", "an", "another", "one"})


def with_singles(
    case: Case, sentence: Span, heads: Sequence[Head], looks: Sequence[Look], before: Sequence[Group]
) -> Sequence[Head]:
    """The heads of a sentence, and one for each single stitch told by its color as a part of a greater number.

    That number opens the sentence, or is of stitches told just `before`.
    """
    if not looks or LEADS.isdisjoint(sentence.said):
        return heads
    own = [(k, lead) for k in inside(looks, sentence.start, sentence.end) if (lead := _lead(case, k, sentence)) >= 0]
    if not own:
        return heads
    spans = [(lead, k.end) for k, lead in own]
    others = [h for h in heads if not any(start <= h.start < end for start, end in spans)]
    if not others:
        total = _number_before(before)
    elif len(others) == 1 and others[0].noun and others[0].way == "counted" and others[0].end <= spans[0][0]:
        total = others[0].count
    else:
        return heads
    if total is None or total <= len(own):
        return heads
    return [*others, *(Head(start, end, 1, "part", noun=False) for start, end in spans)]


def _lead(case: Case, look: Look, sentence: Span) -> int:
    """The first token of 'a blue one', 'one blue'; -1 where a look is not told of one stitch."""
    lead = look.start - 1
    if lead < sentence.start or case.words[lead] not in LEADS:
        return -1
    behind = case.words[look.end : look.end + 1] == ["one"] or case.words[look.end - 1] == "one"
    return lead if behind or case.words[lead] == "one" else -1


def _number_before(before: Sequence[Group]) -> int | None:
    """The number that the stitches told last are part of, or that they are."""
    if not before:
        return None
    if before[-1].whole:
        return before[-1].whole.count
    return before[0].count if len(before) == 1 and "color" not in before[0].fields else None


def place_like_neighbors(groups: Sequence[Group]) -> None:
    """'Posterior horn on top, a blue one and next to it a white one': a single one without a place lies there too."""
    for left, right in zip(groups, groups[1:], strict=False):
        single = right.head is not None and right.head.way == "part" and right.head.count == 1
        if single and "color" in right.fields and not any(k in right.fields for k in PLACES):
            right.take(left, PLACES)
