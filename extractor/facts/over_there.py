"""What points back to what was told of the other knee: 'she had her left knee done, | the gap there was ten'."""

from __future__ import annotations

from collections.abc import Collection
from typing import TYPE_CHECKING

from extractor.facts.other_knee import SIDES
from extractor.language.clause_words import CONNECTORS, DETERMINERS, FINITE
from extractor.language.clauses import Span as Stretch
from extractor.language.concepts import Concept
from extractor.language.verbs import VERBS, has_verb, verbal

if TYPE_CHECKING:
    from extractor.facts.case import Case

OF_IT = 5
"""Tokens of 'the sheet for the' before the other knee, at most."""
POINTS_WITHIN = 6
"""Tokens of a clause in which it points back to the knee told of before, at most: 'the gap there', 'in that knee'."""
PLACING = frozenset({"in", "on", "at"})
SET_BESIDE = frozenset({"contrast", "comparison", "compared", "unlike", "opposed"})
SET_AGAINST = frozenset({"whereas", "while", "and", "but"})
OF_NOW = frozenset({"this", "here", "today", "we", "i"})
BETWEEN = 9
"""Tokens between the other knee and what is told of it, at most."""


def over_there(case: Case, elsewhere: frozenset[int]) -> frozenset[int]:
    """'She had her left knee done two years ago, | the gap there was ten': what points back to what is told there.

    'There was a gap' tells of this case.
    """
    found: set[int] = set()
    fronting: set[int] = set()
    knees = SIDES | case.limb
    for clause in case.note.segments.clauses[1:]:
        before = clause.number - 1
        told = before in elsewhere or before in found or _past_of_a_side(case, before)
        if not told or case.sentence(clause.start).start == clause.start:
            continue
        said = case.words[clause.start : clause.start + POINTS_WITHIN]
        at = said.index("there") if "there" in said else 0
        nouned = at > 0 and said[at - 1] not in CONNECTORS and said[at + 1 : at + 2] != ["is"]
        nouned = nouned or (at > 0 and FINITE.isdisjoint(said[at + 1 : at + 2]))  # 'and there I used a long piece'
        nouned = nouned or (before not in found and _fronts(case, before) and OF_NOW.isdisjoint(said))
        short = clause.end - clause.start <= BETWEEN and case.words[clause.end - 1] == ","
        if short and _fronts(case, before) and not _tells(case, clause):
            fronting.add(clause.number)  # 'In the other knee, | by contrast, | ...'
        nouned = nouned or (before in fronting and OF_NOW.isdisjoint(said))
        if (
            clause.number in fronting
            or nouned
            or any(a == "that" and b in knees for a, b in zip(said, said[1:], strict=False))
        ):
            found.add(clause.number)
    return frozenset(found)


def _tells(case: Case, clause: Stretch) -> bool:
    """Whether a clause names anything."""
    return any(c.list in ("thing", "action", "finding", "structure", "device") for c in case.in_clause[clause.number])


def _fronts(case: Case, number: int) -> bool:
    """Whether a clause about the other knee only says where: 'On the other side, | on the right knee, | he has'."""
    clause = case.note.segments.clauses[number]
    said = case.words[clause.start : clause.end]
    apart = said[-1] == "," or case.words[clause.end : clause.end + 1] == ["it"]
    placed = not PLACING.isdisjoint(said[said[0] in SET_AGAINST :][:1])
    return placed and apart and FINITE.isdisjoint(said) and SET_BESIDE.isdisjoint(said)


def _past_of_a_side(case: Case, number: int) -> bool:
    """Whether a clause tells of another time, and names a side."""
    return case.note.assertions[number].mood == "history" and "side" in case.note.segments.clauses[number].lists


def set_off(case: Case, operated: Collection[str]) -> frozenset[int]:
    """'Her right knee, | done in March, | had a gap of thirty | and got a graft': the other knee, told of in the past.

    Its verb is parted from it by what is set off. What goes on without a subject of its own is still of it. `operated`
    are the sides of the case.
    """
    found: set[int] = set()
    had = VERBS | case.grammar.plain_words("somebody-had")
    clauses = case.note.segments.clauses
    for c in (*case.by_list["side"], *case.by_list["uninvolved"]):
        clause = case.clause(c.start)
        if (c.list == "side" and c.name in operated) or not _is_subject(case, c, clause):
            continue
        told = False
        for after in clauses[clause.number + 1 :]:
            if after.start >= case.sentence(clause.start).end:
                break
            joined = told and case.words[after.start] == "and"
            verb = case.words[after.start + joined : after.start + joined + 1]
            parted = told or case.words[after.start - 1] == ","
            if parted and (not had.isdisjoint(verb) or (joined and not verbal(case.words, after))):
                found.add(after.number)
                told = True
            elif told or (OF_NOW & after.said and case.words[after.start] not in CONNECTORS):
                break
    return frozenset(found)


def opens_set_off(case: Case, c: Concept) -> bool:
    """'The right knee, | which I did two years ago, | had': a knee set apart from its verb by when it was done."""
    clause = case.clause(c.start)
    behind = case.note.segments.clauses[clause.number + 1 : clause.number + 2]
    near = bool(behind) and behind[0].start < case.sentence(c.start).end and case.words[clause.end - 1] == ","
    return near and case.note.assertions[behind[0].number].mood == "history" and _is_subject(case, c, clause)


def _is_subject(case: Case, c: Concept, clause: Stretch) -> bool:
    """Whether a side and its knee are all that a clause opens with: 'Her right knee, | ...'."""
    lead = case.words[clause.start : c.start]
    behind = case.words[c.end - 1 : c.end + 1]
    knee = not (SIDES | case.limb).isdisjoint(behind)
    at = next((i for i in range(c.start, clause.end) if case.words[i] == ","), clause.end)
    of_it = c.list == "uninvolved" and len(lead) <= OF_IT and lead[-2:-1] in (["for"], ["of"], ["on"], ["from"])
    return (DETERMINERS.issuperset(lead) or (of_it and not has_verb(lead))) and knee and at - c.end <= 1
