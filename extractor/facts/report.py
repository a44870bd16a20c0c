"""The report around the operation: elements under headings or told in a sentence, and graft identifiers."""

from __future__ import annotations

from extractor.facts.case import IMAGINED, Case
from extractor.facts.draft import FactDraft
from extractor.facts.ruleset import ClauseRules
from extractor.facts.sections import sections
from extractor.facts.stepping import fired
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

ELEMENTS = frozenset({
    "surgeon", "assistants", "preoperative_diagnosis", "postoperative_diagnosis", "procedure", "anesthesia",
    "blood_loss", "fluids", "complications", "specimens", "drains", "implants", "condition", "disposition",
    "indication", "findings",
})  # fmt: skip
HEADED = "<heading>: <text>"


def element_drafts(case: Case, table: ClauseRules) -> list[FactDraft]:
    """Elements under headings, then those told in a sentence where no heading gave them."""
    drafts: list[FactDraft] = []
    for heading, start, end in sections(case):
        text = case.note.tokens.said(start, end).strip() if start < end else ""
        names = (
            ("preoperative_diagnosis", "postoperative_diagnosis") if heading.name == "diagnoses" else (heading.name,)
        )
        for name in names:
            if name in ELEMENTS and text:
                spans = case.spans([(start, end), (heading.start, heading.end)], HEADED)
                drafts.append(FactDraft("elements", {"name": name, "text": text}, spans))
    given = {d.fields["name"] for d in drafts}
    for rule, clause, trigger, _ in fired(case, table):
        if rule.value in given or case.assertion(trigger.start).mood in IMAGINED:
            continue
        given.add(rule.value)
        text = case.note.tokens.said(clause.start, clause.end).strip(" ,.\n")
        drafts.append(
            FactDraft(
                "elements", {"name": rule.value, "text": text}, case.spans([(clause.start, clause.end)], rule.name), 0.9
            )
        )
    return drafts


def graft_drafts(case: Case) -> list[FactDraft]:
    """Grafts with their tissue identifiers, and allografts named without one."""
    drafts = []
    for q in case.note.quantities:
        if q.kind != "identifier" or not q.text:
            continue
        kind = _tissue_of(case, q)
        # Only donor tissue carries an identifier: an autograft named nearby is another graft.
        fields = {"identifier": q.text, "source": "allograft", "tissue": kind.name if kind else None}
        drafts.append(
            FactDraft(
                "grafts",
                {k: v for k, v in fields.items() if v},
                case.spans([(q.start, q.end)], "<graft> identifier <identifier>"),
            )
        )
    if drafts:
        return drafts[:1] if len({d.fields["identifier"] for d in drafts}) == 1 else drafts
    for c in case.by_list["graft-source"]:
        if case.words[case.sentence(c.start).end - 1] == "?":
            continue  # 'Did we use a donor graft? It was ordered, and it went back.'
        if case.assertion(c.start).mood == "performed" and not case.assertion(c.start).declines(c.start):
            kind = case.nearest("graft-tissue", c.start, max(0, c.start - 6), min(len(case.words), c.end + 6))
            fields = {"source": c.name, "tissue": kind.name if kind else None}
            return [
                FactDraft("grafts", {k: v for k, v in fields.items() if v}, case.spans([(c.start, c.end)], "<graft>"))
            ]
    return []


def _tissue_of(case: Case, q: Quantity) -> Concept | None:
    """The tissue an identifier is of: named before it in its sentence, else the nearest."""
    before = case.within("graft-tissue", case.sentence(q.start).start, q.start)
    if before:
        return before[-1]
    return case.nearest("graft-tissue", q.start, max(0, q.start - 40), min(len(case.words), q.end + 10))
