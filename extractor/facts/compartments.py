"""In which compartment work was done: said of it, told around it, or told by what was found there."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft, Span
from extractor.language.concepts import Concept

COMPARTMENTS = frozenset({"medial", "lateral"})
RESECTION, REPAIR = "partial-meniscectomy", "meniscus-repair"
ON_CARTILAGE = frozenset({"microfracture", "chondroplasty", "osteochondral-autograft", "osteochondral-allograft"})
SURFACES, IN_FRONT, WAY_IN = "cartilage-surface", "in-front", "way-in"
"""Lists of structures with cartilage, of those in neither compartment, and of things that are a way into the joint."""
FOUND_WITH = {
    "meniscus-repair": ("tear",),
    "root-repair": ("tear",),
    "meniscus-transplant": ("deficiency",),
}
"""The finding each of these is done for; it tells the compartment too."""
ON_A_MENISCUS = frozenset({*FOUND_WITH, RESECTION})
NAMED_WITHIN = 3
"""Words between work and the structure that it is said to be on, at most."""
AHEAD = 30
"""Tokens looked at behind a title for the structure that it is about."""
LET_BE = frozenset({"unnecessary", "deferred"})
"""Of the list `negation`: what was left as it was."""


def compartment_near(case: Case, trigger: Concept) -> str | None:
    """The compartment said of a procedure: in its own words, its clause or its sentence."""
    clause, sentence = case.clause(trigger.start), case.sentence(trigger.start)
    zones = [(trigger.start, trigger.end), (clause.start, clause.end), (sentence.start, sentence.end)]
    for start, end in zones:
        found = [c for c in case.within("compartment", start, end) if c.name in COMPARTMENTS and is_place(case, c)]
        names = {c.name for c in found}
        front = case.grammar.concepts_in(IN_FRONT)
        if not found and any(c.key in front for c in case.within("structure", start, end)):
            return None
        if len(names) == 1:
            return names.pop()
        if found:
            best = min(found, key=lambda c: (abs(c.start - trigger.start), c.start > trigger.start))
            return best.name
    return None


def in_front(case: Case, trigger: Concept) -> bool:
    """'Patellar chondroplasty', 'a chondroplasty of the trochlea': of what lies in neither compartment."""
    clause = case.clause(trigger.start)
    start, end = max(clause.start, trigger.start - NAMED_WITHIN), min(clause.end, trigger.end + NAMED_WITHIN)
    front = case.grammar.concepts_in(IN_FRONT)
    return any(c.key in front for named in ("structure", "surface-site") for c in case.within(named, start, end))


def compartment_around(case: Case, code: str, trigger: Concept, facts: Sequence[FactDraft]) -> str | None:
    """The compartment told around a procedure that says none: of what was worked on last, else of what comes next."""
    intact = _only_intact(facts)
    for c in case.earlier("structure", trigger.start):
        if c.name in intact or "finding:intact" in case.clause_keys[case.clause(c.start).number]:
            continue
        if code in ON_CARTILAGE and c.key not in case.grammar.concepts_in(SURFACES):
            continue
        if c.name.split("-")[0] in COMPARTMENTS:
            return c.name.split("-")[0]
        if c.key in case.grammar.concepts_in(IN_FRONT) and code not in ON_A_MENISCUS:
            return None
        break
    last = next((c for c in case.earlier("compartment", trigger.start) if _worked_on(case, c, intact)), None)
    if last:
        return last.name
    found = found_compartments(case, code, facts)
    if len(found) == 1:
        return next(iter(found))
    end = case.sentence(trigger.start).end
    ahead = case.within("structure", end, min(end + AHEAD, len(case.words)))
    after = next((c for c in ahead if c.name not in intact), None)
    place = after.name.split("-")[0] if after else None
    if place in COMPARTMENTS:
        return place
    if code not in ON_A_MENISCUS:
        return None
    worked = {c.name for c in case.within("compartment", end, len(case.words)) if _worked_on(case, c, intact)}
    return worked.pop() if len(worked) == 1 else None


def is_place(case: Case, compartment: Concept) -> bool:
    """'Medial portal' and 'medial incision' are no compartment of the work."""
    if case.within("structure", compartment.start, compartment.start + 1):
        return True  # 'lateral meniscus transplant, portals in'
    near = case.within("thing", compartment.end, compartment.end + 3)
    return not any(c.key in case.grammar.concepts_in(WAY_IN) for c in near)


def place_of_step(case: Case, token: int, facts: Sequence[FactDraft]) -> str | None:
    """The compartment a step was done in: said in its clause, else last before it, else later in its sentence.

    What was only found intact is passed over: nothing is done to it.
    """
    intact = _only_intact(facts)
    clause, sentence = case.clause(token), case.sentence(token)
    own = {c.name for c in case.within("compartment", clause.start, clause.end) if _worked_on(case, c, intact)}
    if len(own & COMPARTMENTS) == 1:
        return (own & COMPARTMENTS).pop()
    before = next((c for c in case.earlier("compartment", token + 1) if _worked_on(case, c, intact)), None)
    if before:
        return before.name
    after = next((c for c in case.within("compartment", token, sentence.end) if _worked_on(case, c, intact)), None)
    return after.name if after else None


def _only_intact(facts: Sequence[FactDraft]) -> frozenset[str]:
    """Structures found intact and nothing else."""
    found: dict[str, set[str]] = {}
    for f in facts:
        if f.kind == "findings" and f.fields["status"] == "present":
            found.setdefault(str(f.fields["structure"]), set()).add(str(f.fields["finding"]))
    return frozenset(name for name, kinds in found.items() if kinds == {"intact"})


def _worked_on(case: Case, compartment: Concept, intact: frozenset[str]) -> bool:
    """Whether a compartment may be one in which something was done: no portal's, no structure's found intact."""
    if compartment.name not in COMPARTMENTS or not is_place(case, compartment):
        return False
    if "finding:intact" in case.clause_keys[case.clause(compartment.start).number]:
        return False
    named = case.within("structure", compartment.start, compartment.start + 2)
    return not any(c.name in intact for c in named)


def found_compartments(case: Case, code: str, facts: Sequence[FactDraft]) -> dict[str, tuple[Span, ...]]:
    """Compartments in which what the operation is done for was found, and where that was said."""
    out: dict[str, tuple[Span, ...]] = {}
    expected: dict[str, tuple[Span, ...]] = {}
    for f in facts:
        if f.kind == "findings" and f.fields["finding"] in FOUND_WITH.get(code, ()) and f.fields["status"] == "present":
            name, _, structure = str(f.fields["structure"]).partition("-")
            if name in COMPARTMENTS and structure in {"meniscus", "root"} and not _let_be(case, f):
                (expected if _as_diagnosis(case, f) else out).setdefault(name, f.spans[:1])
    return out or expected


def _let_be(case: Case, finding: FactDraft) -> bool:
    """'A small stable tear, left alone': what was found and not treated."""
    sentence = case.sentence(bisect_left(case.note.tokens.starts, finding.spans[0].start))
    return any(c.name in LET_BE for c in case.within("negation", sentence.start, sentence.end))


def _as_diagnosis(case: Case, finding: FactDraft) -> bool:
    """Whether a finding is told as what was expected: in the sentence of a diagnosis."""
    sentence = case.sentence(bisect_left(case.note.tokens.starts, finding.spans[0].start))
    heads = case.within("heading", sentence.start, sentence.end)
    return any(c.name in ("preoperative_diagnosis", "diagnoses") for c in heads)
