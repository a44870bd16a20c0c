"""Grades told as a list, their scale said once: 'patella Outerbridge two, trochlea two, medial condyle one'."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import replace

from extractor.facts.case import Case
from extractor.facts.compartments import SURFACES
from extractor.facts.draft import FactDraft
from extractor.language.clauses import Span

WORN = "chondral-lesion"
LEADS = frozenset({"is", "was", "a", "at", "the", "grade", ",", ":"})
"""Words between a surface and its grade."""
OTHERS = ("finding", "action", "thing")
"""Lists of which a clause of such a list says nothing more."""
MOST_GRADE = 4


def with_listed_grades(case: Case, findings: Sequence[FactDraft]) -> list[FactDraft]:
    """The findings, and those whose grade is told in the clauses behind one, on its scale."""
    told = {d.fields["structure"] for d in findings if d.fields["status"] == "present"}
    added: list[FactDraft] = []
    for draft in findings:
        grade = draft.fields.get("grade")
        if draft.fields["finding"] != WORN or not isinstance(grade, dict) or not grade.get("system"):
            continue
        for name, value, start, end in _listed(case, draft):
            if name not in told:
                told.add(name)
                fields = {**draft.fields, "structure": name, "grade": {**grade, "value": value}}
                spans = case.spans([(start, end)], draft.spans[0].rule)
                added.append(replace(draft, fields=fields, spans=spans))
    return [*findings, *added]


def _listed(case: Case, draft: FactDraft) -> Iterator[tuple[str, str, int, int]]:
    """Surface, grade and tokens of each clause behind a graded finding that names a surface and a number alone."""
    segments, starts = case.note.segments, case.note.tokens.starts
    last = max(s.start for s in draft.spans)
    at = max(0, bisect_right(starts, last) - 1)
    clause = segments.clause_at(at)
    sentence = case.sentence(at)
    for after in segments.clauses[clause.number + 1 :]:
        found = _surface_and_grade(case, after) if after.end <= sentence.end else None
        if found is None:
            return
        yield *found, after.start, after.end


def _surface_and_grade(case: Case, clause: Span) -> tuple[str, str] | None:
    known = case.grammar.concepts_in(SURFACES)
    surfaces = [c for c in case.within("structure", clause.start, clause.end) if c.key in known]
    if len(surfaces) != 1:
        return None
    if any(c.list in OTHERS and c.start >= surfaces[0].end for c in case.in_clause[clause.number]):
        return None
    number = next(iter(case.numbers(surfaces[0].end, clause.end)), None)
    if number is None or number.dimension is not None or number.value is None or not number.value.is_integer():
        return None
    behind = [w for w in case.words[number.end : clause.end] if w[:1].isalnum()]
    led = LEADS.issuperset(case.words[surfaces[0].end : number.start])
    if not led or behind or not 0 < number.value <= MOST_GRADE:
        return None
    return surfaces[0].name, str(int(number.value))
