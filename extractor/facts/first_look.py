"""What looked sound at first, and was found torn: 'From the front it looked normal. From behind there was a tear.'.

Nor is what was put in the place of a torn ligament found sound.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft

SOUND, ILL = "intact", frozenset({"tear", "deficiency"})
LOOKED = frozenset({"looked", "looks", "seemed", "seems", "appeared", "appears"})
"""Verbs of what only looks so."""
GRAFT = "tissue:graft"
NEW = frozenset({"new", "neo", "rebuilt", "reconstructed", "reconstruction"})
FIRST = frozenset({"first", "initially", "superficially", "glance"})


def without_first_looks(case: Case, findings: Sequence[FactDraft]) -> list[FactDraft]:
    """The findings without those of a first look that a later one contradicts; of one part only, both hold."""
    ill = {
        str(d.fields.get("structure")): d.spans[0].start
        for d in reversed(findings)
        if d.fields.get("finding") in ILL and d.fields.get("status") == "present"
    }
    return [d for d in findings if not _is_contradicted(case, d, ill)]


def _is_contradicted(case: Case, d: FactDraft, ill: dict[str, int]) -> bool:
    structure = str(d.fields.get("structure"))
    if d.fields.get("finding") != SOUND or d.fields.get("region") or structure not in ill:
        return False
    if d.spans[0].start > ill[structure]:
        return f"structure:{structure}" in case.grammar.concepts_in("ligament-structure") and _is_rebuilt(case, d)
    return _is_first_look(case, d)


def _is_rebuilt(case: Case, d: FactDraft) -> bool:
    """'The ACL is torn. ... And the ACL graft is tight': what was put in its place, and no finding of it."""
    clause = case.clause(bisect_right(case.note.tokens.starts, d.spans[0].start) - 1)
    graft = any(c.key == GRAFT for c in case.in_clause[clause.number])
    return graft or not NEW.isdisjoint(clause.said)


def _is_first_look(case: Case, d: FactDraft) -> bool:
    """Whether it only looked so, or was so at first, or as seen from one place."""
    clause = case.clause(bisect_right(case.note.tokens.starts, d.spans[0].start) - 1)
    said = case.words[clause.start : clause.end]
    places = case.grammar.plain_words("seen-from")
    placed = any(
        a in {"from", "on", "at"} and b in {"the", *places, *FIRST} for a, b in zip(said, said[1:], strict=False)
    )
    return not LOOKED.isdisjoint(said) or not FIRST.isdisjoint(said) or (placed and not places.isdisjoint(said))
