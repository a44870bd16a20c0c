"""Clauses that are about the knee not operated on by their subject, and those they open."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import TYPE_CHECKING

from extractor.language.clause_words import DETERMINERS
from extractor.language.clauses import Span as Stretch
from extractor.language.concepts import Concept
from extractor.language.verbs import verbal

if TYPE_CHECKING:
    from extractor.facts.case import Case

SIDES = frozenset({"side", "one"})
"""Plain words for the other knee, beside those of `limb-word`."""
SOUND_WORDS = frozenset({"is", "was", "has", "have", "no", "not", "doing", "never", "fine", "knee", "for", "in"})
"""First words of what is only said of the other knee, where it is named elsewhere."""
OTHER = frozenset({"one", "side", ","})
"""Behind a side that stands without its knee."""
TURNING = frozenset({"but", "so", "yet"})
SUBJECTS = frozenset({"we", "i", "he", "she", "they", "it", "you", "surgeon", "having"})
HERE = frozenset({"now", "this-case", "side", "joint"})
"""Lists of what turns from the other knee to this one."""
SUBJECTS_NOW = frozenset({"we", "i", "this", "here", "but"})
HAD = frozenset({"had", "got", "took", "was", "were"})
"""Words by which the other knee is told of in the past."""
PRESENT = frozenset({"is", "are", "'s", "has"})
ARTICLES = frozenset({"a", "an", "the", "its", "their"})
LINKS = frozenset({"while", "whereas", "and", "but"})
"""Words by which a clause hangs on the one before it, ahead of what it is about."""
ALTHOUGH = (["while"], ["whereas"])


def is_subject_across(case: Case, c: Concept) -> bool:
    """'The contralateral knee had a rim of six': the knee that is not operated on, as what the clause is about."""
    clause = case.clause(c.start)
    limb = not (case.limb | SIDES).isdisjoint(case.words[c.end - 1 : c.end + 1])
    lead = case.words[clause.start : c.start]
    opens = lead[bool(lead) and lead[0] in LINKS :] in ([], ["the"], ["his"], ["her"])
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


def sized_there(case: Case, clause: Stretch, told: int) -> bool:
    """'Her other knee had one last year, | that piece was twenty-four', '... two years ago, | twenty-four it was'.

    Behind a clause that tells of the other knee (number `told`) in the past, what has a size there.
    """
    words = case.words[clause.start : clause.end]
    said = [w for w in words if w.isalpha()]
    said = said[1:] if said[:1] == ["and"] else said
    lists = clause.lists
    if not said or not lists.isdisjoint(HERE) or not SUBJECTS_NOW.isdisjoint(said):
        return False
    before = case.note.segments.clauses[told]
    past = case.note.assertions[told].mood == "history" or "already" in case.words[before.start : before.end]
    if said[0] == "that":
        had = not HAD.isdisjoint(before.said)
        return (past or had) and verbal(case.words, clause)
    numbers = case.finals(clause.start, clause.end)
    alone = bool(numbers) and lists.isdisjoint({"action", "finding"}) and PRESENT.isdisjoint(said)
    opens = bool(numbers) and (numbers[0].start == clause.start or said[0] in ARTICLES)
    return past and alone and opens


def its_motion(case: Case, clause: Stretch) -> Iterator[int]:
    """'R knee normal, | flexes 140': how it moves, told behind a pause and of no other subject."""
    sentence, clauses = case.sentence(clause.start), case.note.segments.clauses
    motion = case.grammar.concepts_in("knee-motion")
    for after in clauses[clause.number + 1 :]:
        if after.start >= sentence.end or motion.isdisjoint(c.key for c in case.in_clause[after.number]):
            return
        if not SUBJECTS.isdisjoint(after.said) or case.within("joint", after.start, after.end):
            return
        yield after.number


def the_other_one(case: Case, operated: Collection[str]) -> frozenset[int]:
    """Clauses that tell how the other knee moves, short of its name: 'and the left one, her good one, | bends to 150'.

    `operated` are the sides of the case. 'The right one' may be praise, and is of a knee only where motion is told.
    """
    found: set[int] = set()
    for side in case.by_list["side"]:
        opened = case.clause(side.start)
        lead = case.words[opened.start : side.start]
        if side.name not in operated and lead[:1] in ALTHOUGH and lead[1:] in (["on", "the"], ["in", "the"]):
            found.add(opened.number)  # 'while on the right it is one millimeter'
            continue
        before, behind = case.words[side.start - 1 : side.start], case.words[side.end : side.end + 1]
        if side.name in operated or not DETERMINERS.issuperset(before) or not before or not OTHER.issuperset(behind):
            continue
        clause = case.clause(side.start)
        if case.grammar.concepts_in("knee-motion") & {c.key for c in case.in_clause[clause.number]}:
            found.add(clause.number)
            continue
        last = clause
        for after in case.note.segments.clauses[clause.number + 1 : clause.number + 2]:
            if after.end < case.sentence(clause.start).end and not verbal(case.words, after):
                last = after  # 'her good one'
        found.update(its_motion(case, last))
    return frozenset(found)
