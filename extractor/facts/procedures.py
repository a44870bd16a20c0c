"""Procedures: what was done as a whole, said in words or told by its steps, with side and compartment."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.facts.compartments import (
    ON_CARTILAGE,
    REPAIR,
    RESECTION,
    compartment_around,
    compartment_near,
    found_compartments,
    in_front,
    place_of_step,
)
from extractor.facts.derived import Facts
from extractor.facts.draft import FactDraft, Span
from extractor.facts.ruleset import ClauseRules
from extractor.facts.sections import sections
from extractor.facts.stepping import fired, resolve_fields
from extractor.grammar.rules import Rule
from extractor.language.clause_words import FINITE
from extractor.language.clauses import Span as Stretch
from extractor.language.concepts import Concept
from extractor.language.corrections import put_right

IN_COMPARTMENT = "<compartment>"
AGAIN = frozenset({"medial", "lateral", "partial", "a", "the", "of"})
"""Words that may stand between a procedure and what it is put right to, beside words of correction."""
LEAST_LISTED = 2
"""Procedures that a list of them has, at least."""


def procedure_drafts(
    case: Case, table: ClauseRules, rules: tuple[Rule, ...], facts: Sequence[FactDraft]
) -> list[FactDraft]:
    """Procedures named, then those only told by their steps, each with its compartment and the side."""
    side = _side(facts)
    found = _named(case, table, facts)
    named = {d.fields["code"] for d in found if d.fields["status"] == "performed"}
    listed = _listed(case, found)
    known, with_found = Facts(facts), Facts([*facts, *found])
    for rule in () if listed else rules:
        if rule.value in named or any(wanted.isdisjoint(case.meant_keys) for wanted in rule.note):
            continue
        if rule.unless_note & case.meant_keys or (rule.without_fact and with_found.first(rule.without_fact)):
            continue
        source = known.first(rule.from_fact)
        if source:
            found.append(_told(case, rule, source, facts))
            with_found.add(found[-1])
    return [_with_side(d, side) for d in _merged(found)]


def _named(case: Case, table: ClauseRules, facts: Sequence[FactDraft]) -> list[FactDraft]:
    """Procedures named in words; one said without its compartment takes that told around it."""
    found: list[FactDraft] = []
    last: dict[str, int] = {}
    unsaid: list[tuple[dict[str, object], Concept]] = []
    history = _history(case)
    for rule, clause, trigger, _ in fired(case, table):
        assertion = case.assertion(trigger.start)
        status = {"history": "prior", "performed": "performed", "planned": "planned"}.get(assertion.mood)
        if status == "performed" and _named_with_a_prior(case, clause):
            status = "prior"
        if status is None or assertion.declines(trigger.start):
            continue
        if status == "performed" and any(start <= trigger.start < end for start, end in history):
            continue
        if status == "performed" and _refused(case, rule, trigger, facts):
            continue
        end = last.get(rule.value)
        if end is not None and end < trigger.start and put_right(case.words, end, trigger.start, AGAIN):
            said = max((i for i, d in enumerate(found) if d.fields["code"] == rule.value), default=None)
            if said is not None:
                gone = found.pop(said)  # 'lateral repair, correction, medial repair'
                unsaid = [(own, at) for own, at in unsaid if own is not gone.fields]
        last[rule.value] = trigger.end
        fields = {"code": rule.value, "status": status, **_fields(case, rule, clause, trigger)}
        found.append(FactDraft("procedures", fields, case.spans([(trigger.start, trigger.end)], rule.name)))
        if dict(rule.fields).get("compartment", "").startswith(IN_COMPARTMENT) and "compartment" not in fields:
            unsaid.append((fields, trigger))
    told = {(d.fields["code"], d.fields["status"]) for d in found if "compartment" in d.fields}
    for fields, trigger in unsaid:
        place = compartment_around(case, str(fields["code"]), trigger, facts)
        if place and (fields["code"], fields["status"]) not in told:
            fields["compartment"] = place
            told.add((fields["code"], fields["status"]))
    return found


def _refused(case: Case, rule: Rule, trigger: Concept, facts: Sequence[FactDraft]) -> bool:
    """'Some drill holes, a microfracture, I did none': named and refused in one sentence, and never done."""
    told = [d for d in facts if d.kind == "steps" and d.fields["code"] == rule.value]
    if not told or any(d.fields["status"] == "performed" for d in told):
        return False
    sentence, tokens = case.sentence(trigger.start), case.note.tokens
    start, end = tokens.starts[sentence.start], tokens.ends[sentence.end - 1]
    return any(start <= s.start < end for d in told for s in d.spans)


def _listed(case: Case, named: Sequence[FactDraft]) -> bool:
    """Whether a heading lists the procedures by number, one a line: what it leaves out was a step of another."""
    starts = case.note.tokens.starts
    for heading, start, end in sections(case):
        if heading.name == "procedure" and start < end:
            lines = [i for i in range(start, end) if case.words[i - 1] in {"\n", ":"} and case.words[i].isdigit()]
            inside = [d for d in named if starts[start] <= d.spans[0].start < starts[end - 1]]
            if len(lines) >= LEAST_LISTED and len({d.fields["code"] for d in inside}) >= LEAST_LISTED:
                return True
    return False


def _named_with_a_prior(case: Case, clause: Stretch) -> bool:
    """'A year after an ACL reconstruction | and a lateral meniscus repair': two operations of one earlier time."""
    said = case.words[clause.start : clause.end]
    if said[:1] != ["and"] or said[1:2] not in (["a"], ["an"]) or not FINITE.isdisjoint(said):
        return False
    before = case.clause(clause.start - 1) if clause.start > case.sentence(clause.start).start else None
    earlier = before is not None and case.note.assertions[before.number].mood == "history"
    return earlier and before is not None and bool(case.within("operation", before.start, before.end))


def _history(case: Case) -> list[tuple[int, int]]:
    """Where a report tells how it came to the operation, a paragraph or one sentence: what was done was done before."""
    found = []
    for heading, start, end in sections(case):
        if heading.name == "indication" and start < end:
            paragraph = case.words[end : end + 1] == ["\n"]
            found.append((start, end if paragraph else min(end, case.sentence(start).end)))
    return found


def _side(facts: Sequence[FactDraft]) -> str | None:
    sides = [str(d.fields["value"]) for d in facts if d.kind == "laterality"]
    return max(dict.fromkeys(sides), key=sides.count) if sides else None


def _with_side(draft: FactDraft, side: str | None) -> FactDraft:
    if side is None or draft.fields.get("status") == "prior":
        return draft
    return FactDraft(draft.kind, {**draft.fields, "side": side}, draft.spans, draft.certainty)


def _fields(case: Case, rule: Rule, clause: Stretch, trigger: Concept) -> dict[str, object]:
    fields: dict[str, object] = {}
    for name, value in resolve_fields(case, rule, clause, trigger):
        fields[name] = value
    wants = dict(rule.fields).get("compartment")
    if wants and wants.startswith(IN_COMPARTMENT):
        fields.pop("compartment", None)
        place = compartment_near(case, trigger)
        if place:
            fields["compartment"] = place
        elif rule.value in ON_CARTILAGE and in_front(case, trigger):
            fields["compartment"] = None  # said to be in neither, and so not the one done in a compartment
    return fields


def _told(case: Case, rule: Rule, source: FactDraft, facts: Sequence[FactDraft]) -> FactDraft:
    span = source.spans[0]
    fields: dict[str, object] = {"code": rule.value, "status": "performed"}
    starts = case.note.tokens.starts
    token = bisect_left(starts, span.start)
    token = token if token < len(starts) else 0
    if any(k == "compartment" for k, _ in rule.fields):
        for_what = found_compartments(case, REPAIR if rule.value == RESECTION else rule.value, facts)
        own = rule.value == RESECTION and bool(case.within("compartment", *_clause(case, token)))
        told = len(for_what) == 1 and not own
        name = next(iter(for_what)) if told else place_of_step(case, token, facts)
        if name is not None:
            fields["compartment"] = name
    extents = {c.name for c in case.by_list.get("extent", ())}
    if any(k == "extent" for k, _ in rule.fields) and len(extents) == 1:
        fields["extent"] = extents.pop()
    return FactDraft("procedures", fields, (Span(span.start, span.end, rule.name),), 0.9)


def _clause(case: Case, token: int) -> tuple[int, int]:
    clause = case.clause(token)
    return clause.start, clause.end


def _merged(found: list[FactDraft]) -> list[FactDraft]:
    """One fact a code, status and compartment; one said without compartment joins the one said with it."""
    out: dict[tuple[object, object, object], FactDraft] = {}
    for d in sorted(found, key=lambda d: ("compartment" not in d.fields, d.spans[0].start)):
        key = (d.fields["code"], d.fields["status"], d.fields.get("compartment"))
        if "compartment" not in d.fields:
            key = next((k for k in out if k[:2] == key[:2]), key)
        old = out.get(key)
        out[key] = FactDraft(d.kind, {**d.fields, **old.fields}, (*old.spans, *d.spans)) if old else d
    return list(out.values())
