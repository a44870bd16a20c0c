"""Whose knee a clause tells of, where the side that is not operated on is named: 'the right has three of it'.

A side opens what is told of it, until the other one, 'this', 'today' or a deed of ours turns to the operated knee. A
knee is told of only where the words say so: 'the right one', 'her right was done in spring', 'on the right, three
degrees of hyperextension'. 'All right', 'the tape on the right', 'left with a rim' name none.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import TYPE_CHECKING

from extractor.facts.other_knee import readied
from extractor.language.clause_words import FINITE, PAUSES
from extractor.language.clauses import Span as Stretch

if TYPE_CHECKING:
    from extractor.facts.case import Case
    from extractor.language.concepts import Concept

KNEES = frozenset({"side", "one"})
"""Plain words for a knee behind its side, beside those of `limb-word`."""
OWNED = frozenset({"his", "her", "their"})
OWNERS = OWNED | {"the"}
FRONTS = frozenset({
    "on", "in", "at", "for", "with", "as", "of", "and", "but", "while", "whereas", "when", "than", "where", "against",
    "versus", "from",
})  # fmt: skip
"""Words that may stand ahead of the side in what opens with it."""
TELLS = FINITE | {
    "goes", "did", "does", "went", "bends", "comes", "took", "with", "at", "in", ",", ".", ":", ";", "two", "last", "i",
    "we", "it",
}  # fmt: skip
"""What follows a side that stands for its knee: 'the right | goes to', 'the right | with three degrees'."""
TURNS = frozenset({"now", "this-case"})
"""Lists whose words turn to the knee operated on."""
TURNED = frozenset({"this", "these", "here", "today", "now", "ours", "both"})
OURS = frozenset({"we", "i"})
RELATIVE = frozenset({"which", "where", "whose"})
FOLLOWS = frozenset({"that", "there", "it", "with", "those", "who"})
"""First words of a clause that goes on about the knee told of before."""
SHORT = 12
"""Tokens of such a clause, at most, where nothing is punctuated: the talk may have run on to this case in it."""
THINGS = frozenset({"thing", "action", "finding", "structure", "device"})
OTHER = frozenset({"contralateral", "contralaterally", "opposite"})
OWN_WORK = frozenset({"donor-side", "harvest-word"})
"""Lists of what is done today to the other leg."""
LIKE = frozenset({"as", "like"})
REACH = 2
"""Clauses behind one of the other knee that may still tell of it, at most."""


def told_across(case: Case, operated: Collection[str]) -> tuple[frozenset[int], frozenset[int]]:
    """Clauses that tell of the knee not operated on, and tokens of others that do, `operated` being the case's side."""
    found: set[int] = set()
    parts: set[int] = set()
    for side in case.by_list["side"]:
        clause = case.clause(side.start)
        if side.name in operated or side.name == "bilateral" or clause.number in found:
            continue
        if not _names_knee(case, side) or readied(case, side) or OWN_WORK & clause.lists:
            continue
        lead = _lead(case, side, clause)
        if lead > clause.start and case.finals(clause.start, lead) and not _placed(case, side, lead):
            parts.update(range(lead, clause.end))
        elif not _turned(case, clause, operated):
            found.add(clause.number)
            like = _like(case, clause)
            found.update(() if like is None else (like,))
            found.update(_going_on(case, clause, operated))
    for c in case.by_list["uninvolved"]:
        clause = case.clause(c.start)
        if OTHER.issuperset(case.words[c.start : c.end]) and not _turned(case, clause, operated) and _of_it(case, c):
            found.add(clause.number)
            found.update(_going_on(case, clause, operated))
    return frozenset(found), frozenset(parts)


def _of_it(case: Case, other: Concept) -> bool:
    """'Contralateral ACL in 2019', 'hyperextension contralateral three degrees': of a knee, though nobody says so."""
    clause = case.clause(other.start)
    past = case.note.assertions[clause.number].mood == "history"
    behind = other.end
    work = case.within("operation", behind, behind + 1) or case.within("structure", behind, behind + 1)
    alone = bool(case.finals(behind, behind + 1)) or case.words[behind] in {".", ",", ";"}
    return (past and bool(work)) or (alone and _moves(case, clause))


def _lead(case: Case, side: Concept, clause: Stretch) -> int:
    """Where what is told of a side opens: 'zero to one thirty | with the right at three'."""
    at = side.start
    while at > clause.start and case.words[at - 1] in OWNERS | FRONTS:
        at -= 1
    return at


def _placed(case: Case, side: Concept, lead: int) -> bool:
    """Whether a clause's sizes are told of a side that ends it: 'three degrees of hyperextension on the right'."""
    end = case.clause(side.start).end
    return case.words[lead] in {"on", "in", "at", "of", "for"} and not case.finals(side.end, end)


def _names_knee(case: Case, side: Concept) -> bool:
    """Whether a side stands for a knee: by its noun, or alone where another time or motion is told of it."""
    words, clause = case.words, case.clause(side.start)
    behind = words[side.end : side.end + 1]
    before = words[side.start - 1] if side.start > clause.start else ""
    if behind and behind[0] in case.limb:
        return not before or before in OWNERS | FRONTS
    if not behind or behind[0] not in KNEES | TELLS or before not in OWNERS:
        return False
    past = case.note.assertions[clause.number].mood == "history" or words[clause.start] == "when"
    compared = "aside:compared" in case.clause_keys[clause.number] or _like(case, clause) is not None
    return past or compared or before in OWNED or _moves(case, clause)


def _moves(case: Case, clause: Stretch) -> bool:
    """Whether a clause tells how a knee moves."""
    return not case.grammar.concepts_in("knee-motion").isdisjoint(c.key for c in case.in_clause[clause.number])


def _turned(case: Case, clause: Stretch, operated: Collection[str]) -> bool:
    """Whether a clause tells of the operated knee, too."""
    if not TURNED.isdisjoint(clause.said) or not TURNS.isdisjoint(clause.lists):
        return True
    return any(c.name in operated or c.name == "bilateral" for c in case.within("side", clause.start, clause.end))


def _like(case: Case, clause: Stretch) -> int | None:
    """The clause before, where this one only says of which knee it is: 'three is hers, | as | the right shows'."""
    clauses, at = case.note.segments.clauses, clause.number - 1
    like = case.words[clause.start] in LIKE
    if at >= 0 and clauses[at].end - clauses[at].start == 1 and case.words[clauses[at].start] in LIKE:
        like, at = True, at - 1
    same = at >= 0 and clauses[at].start >= case.sentence(clause.start).start
    return at if like and same and not case.finals(clause.start, clause.end) else None


def _going_on(case: Case, clause: Stretch, operated: Collection[str]) -> Iterator[int]:
    """The clauses behind that still tell of it, to the end of the sentence."""
    sentence = case.sentence(clause.start)
    past = case.note.assertions[clause.number].mood == "history"
    clauses = case.note.segments.clauses
    reach = [c for c in clauses[clause.number + 1 : clause.number + 1 + 2 * REACH] if c.end - c.start > 1][:REACH]
    for after in reach:
        if after.start >= sentence.end or _turned(case, after, operated):
            return
        first = case.words[after.start + (case.words[after.start] == "and")]
        told = first in RELATIVE
        if not (told or OURS.isdisjoint(after.said)):
            return
        there = after.end < sentence.end and case.words[clauses[after.number + 1].start] == "there"
        points = told or first in FOLLOWS or "there" in after.said or there
        apart = case.words[after.start - 1] in PAUSES
        points = points and (apart or after.end - after.start <= SHORT)
        bare = apart and FINITE.isdisjoint(after.said) and (past or _only_sized(case, after))
        if not (points or bare):
            return
        yield after.number


def _only_sized(case: Case, clause: Stretch) -> bool:
    """Whether a clause only adds a size to the one before: '... has one too, | twenty by fifteen'."""
    numbers = case.finals(clause.start, clause.end)
    return bool(numbers) and numbers[0].start == clause.start and THINGS.isdisjoint(clause.lists)
