"""The ledger of a note: every number with a unit, and where it went. It closes when none is left over."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from extractor.facts.case import Case
from extractor.facts.devices import device_drafts
from extractor.facts.draft import FactDraft
from extractor.facts.engine import common_ruleset_of, read_facts, ruleset_of
from extractor.facts.measuring import Claim, claim_quantities
from extractor.facts.scope import scope_of
from extractor.grammar.packs import Grammar
from extractor.language.annotate import annotate
from extractor.language.quantities import Quantity

COUNTED = ("fact", "device", "known", "aside", "flagged", "outside", "open")
"""Where a number can go: a fact; a device's size; known as something else (an age, a scope's angle); said of another
time, as a habit or an if; flagged; in a note the packs do not read; nowhere, which is a defect of the program."""
VALUED = frozenset({"measurements", "plan", "claims"})
UNREAL = frozenset({"history", "habit", "conditional", "considered"})


@dataclass(frozen=True)
class Entry:
    """One number with a unit: its characters and words, where it went, and what it was read as."""

    start: int
    end: int
    text: str
    went: str
    read_as: str


def ledger(text: str, grammar: Grammar) -> list[Entry]:
    """Account for every number with a unit in a note, in the order said."""
    note = annotate(text, grammar)
    case = Case(note, grammar)
    wanted = [(i, q) for i, q in enumerate(note.quantities) if q.dimension is not None]
    scope = scope_of(case)
    if not scope.about:
        return [_entry(case, q, "outside", "the note is about nothing the packs read") for _, q in wanted]
    reading = read_facts(note, grammar)
    rules = ruleset_of(grammar) if scope.packs else common_ruleset_of(grammar)
    taken = device_drafts(case)[1] if scope.packs else frozenset()
    claims = {c.slot.number: c for c in claim_quantities(case, rules.quantity, taken)[0]}
    flagged = [span for flag in reading.flags for span in flag.spans]
    out = []
    for i, q in wanted:
        start, end = note.tokens.starts[q.start], note.tokens.ends[q.end - 1]
        fact = _fact(reading.drafts, start, end)
        if fact:
            went, read_as = ("device" if fact.kind == "devices" else "fact"), _named(fact)
        elif i in taken:
            went, read_as = "device", "the size of a device"
        elif q.kind != "quantity" or q.dimension == "age":
            went, read_as = "known", f"a number of another kind ({q.kind})"
        elif i in claims and claims[i].rule.kind == "known":
            went, read_as = "known", claims[i].rule.value
        elif any(span.start < end and start < span.end for span in flagged):
            went, read_as = "flagged", "no rule reads it, so it is asked about"
        elif not scope.operation:
            went, read_as = "outside", "the note tells of no operation"
        elif case.assertion(q.number_start).mood in UNREAL:
            went, read_as = "aside", f"said as {case.assertion(q.number_start).mood}{_would(claims.get(i))}"
        else:
            went, read_as = "open", "nothing"
        out.append(_entry(case, q, went, read_as))
    return out


def _entry(case: Case, q: Quantity, went: str, read_as: str) -> Entry:
    tokens = case.note.tokens
    return Entry(tokens.starts[q.start], tokens.ends[q.end - 1], tokens.said(q.start, q.end), went, read_as)


def _fact(drafts: Sequence[FactDraft], start: int, end: int) -> FactDraft | None:
    """The fact whose value stands here: its evidence holds the number. Of a device it may be a size among others."""
    for draft in drafts:
        if draft.kind in VALUED and any(s.start <= start and end <= s.end for s in draft.spans):
            return draft
    for draft in drafts:
        sized = draft.kind == "devices" and draft.fields.get("size") is not None
        if sized and any(s.start <= start and end <= s.end for s in draft.spans):
            return draft
    return None


def _named(draft: FactDraft) -> str:
    fields = draft.fields
    return str(fields.get("what") or fields.get("item") or fields.get("kind") or draft.kind)


def _would(claim: Claim | None) -> str:
    return f" ({claim.rule.value})" if claim else ""
