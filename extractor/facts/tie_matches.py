"""Which suture belongs to which, told without a verb: 'first pair, posterior superior with posterior inferior'."""

from __future__ import annotations

from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.facts.places import Places
from extractor.facts.plans import Position
from extractor.facts.tie_groups import surface_pairs
from extractor.facts.tie_words import ends_of
from extractor.language.clause_words import FINITE
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

PAIR = frozenset({"pair", "pairs", "goes", "belongs"})
WELL = "finding:intact"
MATCHING = frozenset({"to", "with", "against"})
FROM = frozenset({"from"})
TOLD_OTHERWISE = frozenset({"action", "tissue", "technique", "finding", "color", "operation", "device"})
"""Lists of which a sentence says nothing that only tells which suture belongs to which."""


def matched(case: Case, sentence: Span, own: Sequence[Position], said: Places, told: set[str]) -> bool:
    """'First pair, posterior superior with posterior inferior': what else is done with two sutures of other places?

    Nothing else may be told there: no deed, no tissue, no way from one place to the other.
    """
    names = [p.name for p in own]
    if not own:
        return _paired(case, sentence, said, told)
    if len(set(names)) < len(names) or not set(names) <= told or case.words[sentence.start] in FROM:
        return False
    between = [set(case.words[a.end : b.start]) for a, b in zip(own[::2], own[1::2], strict=False)]
    joined_up = all(words & MATCHING for words in between)
    return len(own) > 1 and len(own) % 2 == 0 and joined_up and tells_nothing_else(case, sentence)


def _paired(case: Case, sentence: Span, said: Places, told: set[str]) -> bool:
    """'First the back pair, superior to inferior': so it is where the surfaces of an end are called a pair."""
    if PAIR.isdisjoint(sentence.said) or not tells_nothing_else(case, sentence):
        return False
    ends = {end for d in surface_pairs(case, sentence, said, []) for end in ends_of(d)}
    return bool(ends) and ends <= told


def tells_nothing_else(case: Case, sentence: Span) -> bool:
    """Whether a sentence tells of no deed and no thing; 'all good' tells none, and 'top to bottom' is no look round."""
    clauses = case.note.segments.clauses_of(sentence)
    own = [c for clause in clauses for c in case.in_clause[clause.number] if c.list in TOLD_OTHERWISE]
    return all(_says_well(case, c) or case.within("surface", c.start, c.start + 1) for c in own)


def _says_well(case: Case, c: Concept) -> bool:
    return c.key == WELL and case.words[c.start - 1] not in FINITE
