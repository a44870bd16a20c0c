"""Procedures: what was done as a whole, said in words or told by its steps, with side and compartment."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import replace

from extractor.facts.case import Case
from extractor.facts.derived import Facts
from extractor.facts.draft import FactDraft, Span
from extractor.facts.ruleset import TRANSPLANT, ClauseRules
from extractor.facts.sections import sections
from extractor.facts.stepping import fired, resolve_fields
from extractor.grammar.rules import Rule
from extractor.language.clause_words import FINITE
from extractor.language.clauses import Span as Stretch
from extractor.language.concepts import Concept

COMPARTMENTS = frozenset({"medial", "lateral"})
SURFACES = frozenset({
    "patella", "trochlea", "medial-femoral-condyle", "lateral-femoral-condyle", "medial-tibial-plateau",
    "lateral-tibial-plateau",
})  # fmt: skip
ON_CARTILAGE = frozenset({"microfracture", "chondroplasty", "osteochondral-autograft", "osteochondral-allograft"})
IN_FRONT = frozenset({"patella", "trochlea"})
"""Structures in neither compartment."""
NAMED_WITHIN = 3
"""Words between work and the structure that it is said to be on, at most."""
LAID = frozenset({"cue:laid-into"})
IN_COMPARTMENT = "<compartment>"
LEAST_LISTED = 2
"""Procedures that a list of them has, at least."""
AHEAD = 30
"""Tokens looked at behind a title for the structure that it is about."""
FOUND_WITH = {"meniscus-repair": ("tear",), "root-repair": ("tear",), "meniscus-transplant": ("deficiency",)}
"""The finding each of these is done for; it tells the compartment too."""
REPAIR = "meniscus-repair"
LET_BE = frozenset({"unnecessary", "deferred"})
"""Of the list `negation`: what was left as it was."""
ON_A_MENISCUS = frozenset({*FOUND_WITH, "partial-meniscectomy"})


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
        if rule.value in named or any(wanted.isdisjoint(case.keys) for wanted in rule.note):
            continue
        if rule.unless_note & case.keys or (rule.without_fact and with_found.first(rule.without_fact)):
            continue
        source = known.first(rule.from_fact)
        if source:
            found.append(_told(case, rule, source, facts))
            with_found.add(found[-1])
    return [_with_side(d, side) for d in _merged(found)]


def _named(case: Case, table: ClauseRules, facts: Sequence[FactDraft]) -> list[FactDraft]:
    """Procedures named in words; one said without its compartment takes that told around it."""
    found: list[FactDraft] = []
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
        fields = {"code": rule.value, "status": status, **_fields(case, rule, clause, trigger)}
        found.append(FactDraft("procedures", fields, case.spans([(trigger.start, trigger.end)], rule.name)))
        if dict(rule.fields).get("compartment", "").startswith(IN_COMPARTMENT) and "compartment" not in fields:
            unsaid.append((fields, trigger))
    for fields, trigger in unsaid:
        told = [d.fields for d in found if (d.fields["code"], d.fields["status"]) == (fields["code"], fields["status"])]
        place = _compartment_around(case, str(fields["code"]), trigger, facts)
        if place and not any("compartment" in other for other in told):
            fields["compartment"] = place
    return found


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
        elif rule.value in ON_CARTILAGE and _in_front(case, trigger):
            fields["compartment"] = None  # said to be in neither, and so not the one done in a compartment
    return fields


def _in_front(case: Case, trigger: Concept) -> bool:
    """'Patellar chondroplasty', 'a chondroplasty of the trochlea': of what lies in neither compartment."""
    clause = case.clause(trigger.start)
    start, end = max(clause.start, trigger.start - NAMED_WITHIN), min(clause.end, trigger.end + NAMED_WITHIN)
    return any(c.name in IN_FRONT for named in ("structure", "surface-site") for c in case.within(named, start, end))


def compartment_near(case: Case, trigger: Concept) -> str | None:
    """The compartment said of a procedure: in its own words, its clause or its sentence."""
    clause, sentence = case.clause(trigger.start), case.sentence(trigger.start)
    zones = [(trigger.start, trigger.end), (clause.start, clause.end), (sentence.start, sentence.end)]
    for start, end in zones:
        found = [c for c in case.within("compartment", start, end) if c.name in COMPARTMENTS and _real(case, c)]
        names = {c.name for c in found}
        if not found and any(c.name in IN_FRONT for c in case.within("structure", start, end)):
            return None
        if len(names) == 1:
            return names.pop()
        if found:
            best = min(found, key=lambda c: (abs(c.start - trigger.start), c.start > trigger.start))
            return best.name
    return None


def _compartment_around(case: Case, code: str, trigger: Concept, facts: Sequence[FactDraft]) -> str | None:
    """The compartment told around a procedure that says none: of what was worked on last, else of what comes next."""
    intact = _only_intact(facts)
    for c in case.earlier("structure", trigger.start):
        if c.name in intact or "finding:intact" in case.clause_keys[case.clause(c.start).number]:
            continue
        if code in ON_CARTILAGE and c.name not in SURFACES:
            continue
        if c.name.split("-")[0] in COMPARTMENTS:
            return c.name.split("-")[0]
        if c.name in IN_FRONT and code not in ON_A_MENISCUS:
            return None
        break
    last = next((c for c in case.earlier("compartment", trigger.start) if _worked_on(case, c, intact)), None)
    if last:
        return last.name
    end = case.sentence(trigger.start).end
    after = next((c for c in case.within("structure", end, min(end + AHEAD, len(case.words)))), None)
    place = after.name.split("-")[0] if after else None
    return place if place in COMPARTMENTS else None


def _real(case: Case, compartment: Concept) -> bool:
    """'Medial portal' and 'medial incision' are no compartment of the work."""
    near = case.within("thing", compartment.end, compartment.end + 3)
    return not any(c.name in {"portal", "incision"} for c in near)


def _told(case: Case, rule: Rule, source: FactDraft, facts: Sequence[FactDraft]) -> FactDraft:
    span = source.spans[0]
    fields: dict[str, object] = {"code": rule.value, "status": "performed"}
    starts = case.note.tokens.starts
    token = bisect_left(starts, span.start)
    token = token if token < len(starts) else 0
    if any(k == "compartment" for k, _ in rule.fields):
        for_what = _found_compartments(case, rule.value, facts)
        name = next(iter(for_what)) if len(for_what) == 1 else _place_of_step(case, token, facts)
        if name is not None:
            fields["compartment"] = name
    extents = {c.name for c in case.by_list.get("extent", ())}
    if any(k == "extent" for k, _ in rule.fields) and len(extents) == 1:
        fields["extent"] = extents.pop()
    return FactDraft("procedures", fields, (Span(span.start, span.end, rule.name),), 0.9)


def _place_of_step(case: Case, token: int, facts: Sequence[FactDraft]) -> str | None:
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
    if compartment.name not in COMPARTMENTS or not _real(case, compartment):
        return False
    if "finding:intact" in case.clause_keys[case.clause(compartment.start).number]:
        return False
    named = case.within("structure", compartment.start, compartment.start + 2)
    return not any(c.name in intact for c in named)


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
        if not slip or odd.spans[0].start < begun or _told_of(case, odd):
            continue
        found = _found_compartments(case, str(odd.fields["code"]), facts) or _found_compartments(case, REPAIR, facts)
        for kept in drafts:
            same = all(kept.fields.get(k) == odd.fields.get(k) for k in ("code", "status"))
            if same and kept is not odd and set(found) == {kept.fields.get("compartment")}:
                others = [{"value": odd.fields["compartment"], "spans": odd.spans}]
                joined = replace(kept, fields={**kept.fields, "compartment_others": others})
                return [joined if d is kept else d for d in drafts if d is not odd]
    return drafts


def _told_of(case: Case, draft: FactDraft) -> bool:
    """Whether the compartment of a procedure is named anywhere beside its own words."""
    starts = case.note.tokens.starts
    own = [(bisect_left(starts, s.start), bisect_left(starts, s.end)) for s in draft.spans]
    place = str(draft.fields.get("compartment"))
    named = [c for c in case.by_list.get("compartment", ()) if c.name == place and _real(case, c)]
    named += [c for c in case.by_list.get("structure", ()) if c.name.startswith(f"{place}-")]
    return not all(any(start <= c.start < end for start, end in own) for c in named)


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
    found = _found_compartments(case, code, facts)
    if len(found) == 1:
        told += list(found.items())
    told += _diagnosed(case, draft, facts)
    return [(name, spans) for name, spans in told if name in COMPARTMENTS]


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


def _found_compartments(case: Case, code: str, facts: Sequence[FactDraft]) -> dict[str, tuple[Span, ...]]:
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
