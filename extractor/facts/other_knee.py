"""Clauses that are about the knee not operated on by their subject, and those they open."""

from __future__ import annotations

from typing import TYPE_CHECKING

from extractor.language.concepts import Concept

if TYPE_CHECKING:
    from extractor.facts.case import Case

SIDES = frozenset({"side", "one"})
"""Plain words for the other knee, beside those of `limb-word`."""
SOUND_WORDS = frozenset({"is", "was", "has", "have", "no", "not", "doing", "never", "fine", "knee", "for", "in"})
"""First words of what is only said of the other knee, where it is named elsewhere."""
TURNING = frozenset({"but", "so", "yet"})


def is_subject_across(case: Case, c: Concept) -> bool:
    """'The contralateral knee had a rim of six': the knee that is not operated on, as what the clause is about."""
    clause = case.clause(c.start)
    limb = not (case.limb | SIDES).isdisjoint(case.words[c.end - 1 : c.end + 1])
    opens = case.words[clause.start : c.start] in ([], ["the"], ["his"], ["her"])
    return opens and limb and case.words[c.start] not in SOUND_WORDS


def readied(case: Case, c: Concept) -> bool:
    """Whether a leg is only laid or prepared: 'The contralateral leg was padded'."""
    keys = {k.key for k in case.in_clause[case.clause(c.start).number]}
    return bool(keys & case.grammar.concepts_in("setting-up")) or "aside:put-away" in keys


def frames_the_next(case: Case, number: int) -> bool:
    """'When I did his other knee, | the rim was rasped', 'The healthy side: | the rim is six': of it as well."""
    clause = case.note.segments.clauses[number]
    if clause.end >= case.sentence(clause.start).end or case.words[clause.end] in TURNING:
        return False
    here = any(c.list in ("now", "this-case") for c in case.in_clause[number + 1])
    when = case.words[clause.start] == "when" and not any(c.list == "side" for c in case.in_clause[number + 1])
    return (when or case.words[clause.end - 1] == ":") and not here
