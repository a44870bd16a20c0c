"""Compartments of one procedure that do not agree: another graft, a slip, a diagnosis, stitches told elsewhere."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import replace

from extractor.facts.case import Case
from extractor.facts.compartments import COMPARTMENTS, ON_A_MENISCUS, found_compartments, is_place
from extractor.facts.draft import FactDraft, Span
from extractor.facts.ruleset import TRANSPLANT
from extractor.language.concepts import Concept

LAID = frozenset({"cue:laid-into"})
REPAIR, RESECTION = "meniscus-repair", "partial-meniscectomy"


def with_conflicts(case: Case, drafts: list[FactDraft], facts: Sequence[FactDraft]) -> list[FactDraft]:
    """Add compartments that something else told of the same work: stitches laid, what was found, or the diagnosis."""
    out = []
    drafts = _of_one_meniscus(case, _of_one_graft(case, drafts), facts)
    own = {str(d.fields.get("compartment")) for d in drafts if d.fields.get("status") == "performed"}
    for d in drafts:
        elsewhere = [o for o in _told_elsewhere(case, d, facts) if o[0] not in own]
        if elsewhere:
            others = [{"value": name, "spans": spans} for name, spans in elsewhere]
            others = [*d.fields.get("compartment_others", ()), *others]  # type: ignore[misc]
            d = FactDraft(d.kind, {**d.fields, "compartment_others": others}, d.spans, d.certainty)
        out.append(d)
    return out


def _of_one_graft(case: Case, drafts: list[FactDraft]) -> list[FactDraft]:
    """'Lateral meniscus transplant ... the medial meniscal allograft was thawed': a graft for another compartment."""
    done = [d for d in drafts if d.fields["code"] == TRANSPLANT and d.fields.get("status") == "performed"]
    by_graft = [d for d in done if all(_names_graft(case, span) for span in d.spans) and d.fields.get("compartment")]
    named = [d for d in done if d not in by_graft and d.fields.get("compartment")]
    kept = (named or by_graft)[:1]
    other = [d for d in by_graft if kept and d.fields["compartment"] != kept[0].fields["compartment"]]
    if not other:
        return drafts
    told = [{"value": d.fields["compartment"], "spans": d.spans} for d in other]
    first = FactDraft(kept[0].kind, {**kept[0].fields, "compartment_others": told}, kept[0].spans, kept[0].certainty)
    return [first if d is kept[0] else d for d in drafts if d not in other]


def _of_one_meniscus(case: Case, drafts: list[FactDraft], facts: Sequence[FactDraft]) -> list[FactDraft]:
    """'... the medial meniscus was torn. ... This completed the lateral meniscectomy': a slip, and no second procedure.

    Of two compartments of one procedure the one that nothing else in the note tells of, named after the work began,
    where the other was found torn or missing.
    """
    begun = min((f.spans[0].start for f in facts if f.kind == "steps"), default=0)
    for odd in drafts:
        slip = odd.fields["code"] in ON_A_MENISCUS and odd.fields.get("status") == "performed"
        if not slip or (odd.spans[0].start < begun and not _recalled(case, odd)) or _told_of(case, odd):
            continue
        found = found_compartments(case, str(odd.fields["code"]), facts) or found_compartments(case, REPAIR, facts)
        for kept in drafts:
            same = all(kept.fields.get(k) == odd.fields.get(k) for k in ("code", "status"))
            place = kept.fields.get("compartment")
            titled = not found and place and kept.spans[0].start < min(begun, odd.spans[0].start)
            titled = titled and (odd.fields["code"] == TRANSPLANT or _recalled(case, odd))
            if same and kept is not odd and (set(found) == {place} or titled):
                others = [{"value": odd.fields["compartment"], "spans": odd.spans}]
                joined = replace(kept, fields={**kept.fields, "compartment_others": others})
                return [joined if d is kept else d for d in drafts if d is not odd]
    return drafts


def _recalled(case: Case, draft: FactDraft) -> bool:
    """'That completes the lateral meniscus repair', 'then the repair was probed': work spoken of, not told."""
    sentence = case.sentence(bisect_left(case.note.tokens.starts, draft.spans[0].start))
    return not case.grammar.plain_words("work-recalled").isdisjoint(sentence.said)


def _told_of(case: Case, draft: FactDraft) -> bool:
    """Whether the compartment of a procedure is named anywhere beside its own clause, and not as found intact."""
    starts = case.note.tokens.starts
    own = {case.clause(bisect_left(starts, s.start)).number for s in draft.spans}
    place = str(draft.fields.get("compartment"))
    named = [c for c in case.by_list.get("compartment", ()) if c.name == place and is_place(case, c)]
    named += [c for c in case.by_list.get("structure", ()) if c.name.startswith(f"{place}-")]
    clauses = {case.clause(c.start).number for c in named} - own
    return any("finding:intact" not in case.clause_keys[n] for n in clauses)


def _names_graft(case: Case, span: Span) -> bool:
    """Whether the words of a procedure are those of its graft: 'meniscal allograft'."""
    end = bisect_left(case.note.tokens.starts, span.end)
    return any(c.end == end for c in case.within("graft-source", max(0, end - 3), end))


def _told_elsewhere(case: Case, draft: FactDraft, facts: Sequence[FactDraft]) -> list[tuple[str, tuple[Span, ...]]]:
    code = str(draft.fields["code"])
    done = draft.fields.get("status") == "performed"
    if code not in ON_A_MENISCUS or draft.fields.get("compartment") is None or not done:
        return []
    told: list[tuple[str, tuple[Span, ...]]] = []
    for fact in facts:
        if fact.kind == "sutures" and fact.fields.get("technique"):
            told += [(c.name.split("-")[0], fact.spans[:1]) for c in _stitched(case, fact)]
    for clause in case.note.segments.clauses:
        keys = case.clause_keys[clause.number]
        if (
            keys & LAID
            and case.assertion(clause.start).mood == "performed"
            and not case.assertion(clause.start).negated
        ):
            for c in case.within("structure", clause.start, clause.end):
                if c.name in {"medial-meniscus", "lateral-meniscus"}:
                    told.append((c.name.split("-")[0], case.spans([(c.start, c.end)], "where it was laid")))
    found = found_compartments(case, code, facts)
    if len(found) == 1:
        told += list(found.items())
    if code == RESECTION:
        told += _taken_elsewhere(case, draft, facts)
    told += _diagnosed(case, draft, facts)
    told += [*_left_alone(case), *_graft_named(case)] if code == TRANSPLANT else []
    return [(name, spans) for name, spans in told if name in COMPARTMENTS]


def _left_alone(case: Case) -> list[tuple[str, tuple[Span, ...]]]:
    """'No trimming of the lateral allograft was required': a graft to which something was not done."""
    told = []
    for c in case.by_list["operation"]:
        clause = case.clause(c.start)
        sources = case.within("graft-source", c.start, c.end)
        acts = [a for a in case.within("action", clause.start, clause.end) if not c.start <= a.start < c.end]
        if c.name == TRANSPLANT and sources and acts and case.assertion(c.start).declines(c.start):
            sides = [s for s in case.within("compartment", c.start - 1, c.end) if s.name in COMPARTMENTS]
            told += [(s.name, case.spans([(c.start, c.end)], "its graft")) for s in sides[:1]]
    return told


def _graft_named(case: Case) -> list[tuple[str, tuple[Span, ...]]]:
    """'The lateral meniscus graft was then delivered': the graft called after its meniscus."""
    told = []
    for c in case.by_list["thing"]:
        if c.key == "thing:graft" and case.assertion(c.start).done:
            named = [s for s in case.within("structure", max(0, c.start - 3), c.start) if s.end == c.start]
            names = [s for s in named if s.name in {"medial-meniscus", "lateral-meniscus"}]
            told += [(s.name.split("-")[0], case.spans([(s.start, c.end)], "its graft")) for s in names]
    return told


def _diagnosed(case: Case, draft: FactDraft, facts: Sequence[FactDraft]) -> list[tuple[str, tuple[Span, ...]]]:
    """The compartment of the diagnosis: of the last one said, and only where nothing found speaks for the other."""
    told = {str(f.fields["name"]): f for f in facts if f.kind == "elements"}
    after, before = told.get("postoperative_diagnosis"), told.get("preoperative_diagnosis")
    menisci: list[Concept] = []
    for diagnosis in filter(None, (after, before)):
        menisci = menisci or _structures(case, diagnosis.spans[0])
    mine = str(draft.fields["compartment"])
    found = [f for f in facts if f.kind == "findings" and f.fields["finding"] in ("tear", "deficiency")
             and str(f.fields["structure"]).startswith(mine)]  # fmt: skip
    names = {c.name.split("-")[0] for c in menisci}
    if len(names) != 1 or (found and not (after and _structures(case, after.spans[0]))):
        return []
    return [(names.pop(), case.spans([(c.start, c.end) for c in menisci], "the diagnosis"))]


def _taken_elsewhere(case: Case, draft: FactDraft, facts: Sequence[FactDraft]) -> list[tuple[str, tuple[Span, ...]]]:
    """'Medial meniscectomy. ... Forty percent of the lateral meniscus was resected': a slip, and no second procedure.

    It is none where something was taken of both, where the other meniscus was torn too, or both stand in the title.
    """
    whole = {f.fields["structure"] for f in facts if f.kind == "findings" and f.fields["finding"] == "intact"}
    taken = [(c, f) for f in facts if _is_resected(f) for c in _resected(case, f)]
    taken += [(c, f) for f in facts if _is_resecting(f) for c in _resected(case, f) if c.name in whole]
    torn = {f.fields["structure"] for f in facts if f.kind == "findings" and f.fields["finding"] == "tear"}
    mine = str(draft.fields["compartment"])
    title = case.clause(bisect_left(case.note.tokens.starts, draft.spans[0].start))
    both = {c.name for c in case.within("compartment", title.start, title.end)}
    if any(c.name.startswith(mine) or c.name in torn - whole or c.name.split("-")[0] in both for c, _ in taken):
        return []
    return [(c.name.split("-")[0], f.spans[:1]) for c, f in taken]


def _is_resected(fact: FactDraft) -> bool:
    """Whether a fact tells how much of a meniscus was taken in this operation."""
    of_now = fact.fields.get("role") != "reference"
    return fact.kind == "measurements" and str(fact.fields["what"]).startswith("resection.") and of_now


def _is_resecting(fact: FactDraft) -> bool:
    """Whether a fact tells that part of a meniscus was taken."""
    fields = fact.fields
    return fact.kind == "steps" and fields["code"] == RESECTION and fields.get("status") == "performed"


def _resected(case: Case, fact: FactDraft) -> list[Concept]:
    """The one meniscus named in the clause of what was taken: 'forty percent of the lateral meniscus'."""
    clause = case.clause(bisect_left(case.note.tokens.starts, fact.spans[0].start))
    named = case.within("structure", clause.start, clause.end)
    found = [c for c in named if c.name in {"medial-meniscus", "lateral-meniscus"}]
    return found if len({c.name for c in found}) == 1 else []


def _stitched(case: Case, stitches: FactDraft) -> list[Concept]:
    """The meniscus that stitches are told of: in their words or, of two said around them, the one said last before."""
    around = _structures(case, stitches.spans[-1])
    if len({c.name for c in around}) < 2:
        return around
    place = bisect_left(case.note.tokens.starts, stitches.spans[0].start)
    clause = case.clause(place)
    own = [c for c in around if clause.start <= c.start < clause.end]
    return own or [c for c in around if c.start < place][-1:]


def _structures(case: Case, span: Span) -> list[Concept]:
    starts = case.note.tokens.starts
    found = case.within("structure", bisect_left(starts, span.start), bisect_left(starts, span.end))
    return [c for c in found if c.name in {"medial-meniscus", "lateral-meniscus"}]
