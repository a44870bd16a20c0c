"""Plan items said in words: how the leg may be loaded."""

from __future__ import annotations

from collections.abc import Mapping

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.ruleset import ClauseRules
from extractor.facts.stepping import fired, resolve_fields
from extractor.grammar.rules import Rule
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

Values = dict[str, float | str | None]
MAY = "may"
BRACE, WEIGHT = "brace-range", "thing:weight-bearing"
NONE = "non"
"""The loading whose own words deny."""
AGAINST = frozenset({"against", "doubt", "reason", "objection", "harm", "problem"})
ASKED = frozenset({"ask", "asks", "asking", "wonder", "wonders", "whether"})
WANTED = frozenset({"wanted", "wants", "like", "hoped", "hopes", "wished", "wishes", "begged", "fancied"})
THEY = frozenset({"he", "she", "they", "wife", "husband", "mother", "father", "parents", "patient", "coach", "physio"})
SETTLED_LATER = frozenset({"decide", "decides", "decided", "question", "depends", "enough", "comes", "matter"})
LATER = frozenset({("only", "after"), ("only", "once"), ("only", "when"), ("not", "before")})
STATUS = "weight-bearing-status"
DENIED_WITHIN = 4
WHEN_WITHIN = 4
"""Tokens from a 'when' to the loading it leaves open, at most: 'when he may put full weight on it'."""
REQUESTS = frozenset({("may", "i"), ("could", "you"), ("would", "you"), ("can", "you"), ("will", "you"), ("can", "i")})
"""A question that opens so asks for what it names: 'May I ask you to keep her in a brace?'."""


def is_condition(case: Case, token: int) -> bool:
    """Whether what is said depends on an "if"; 'he may walk' depends on nothing."""
    assertion = case.assertion(token)
    if assertion.mood != "conditional":
        return False
    start = case.sentence(token).start
    if tuple(case.words[start : start + 2]) in REQUESTS:
        return False
    cue = assertion.cue
    return cue is None or not any(c.name == MAY for c in case.within("conditional", cue, cue + 1))


def plan_drafts(case: Case, table: ClauseRules) -> list[FactDraft]:
    """Plan items that need no number, the last said of each kind."""
    out: dict[tuple[str, object], FactDraft] = {}
    for rule, clause, trigger, _ in fired(case, table):
        assertion = case.assertion(trigger.start)
        kept = assertion.mood == "habit" and _only_the_time_differs(case, clause)
        if assertion.mood in {"history", "considered", "withdrawn"} or is_condition(case, trigger.start):
            continue
        if assertion.mood == "habit" and not kept:
            continue
        fields = {"item": rule.value, **dict(resolve_fields(case, rule, clause, trigger))}
        left_open = _denied(case, clause, fields.get("value")) or (bool(out) and _left_open(case, clause, trigger))
        if fields.get("value") not in (None, NONE) and left_open:
            continue
        spans = case.spans([(trigger.start, trigger.end)], rule.name)
        out.setdefault((rule.value, fields.get("value")), FactDraft("plan", fields, spans))
    return list(out.values())


def _denied(case: Case, clause: Span, value: object) -> bool:
    """'And no full weight bearing before the scan': denied right before, or behind; not where nothing is against it."""
    told = [c for c in case.within(STATUS, clause.start, clause.end) if c.name == value]
    if not told:
        return False
    status = told[-1]
    assertion = case.assertion(status.start)
    cue = assertion.cue
    if cue is None or not assertion.declines(status.start) or status.start <= cue < status.end:
        return False
    near = status.start - DENIED_WITHIN <= cue
    other = case.within(STATUS, min(cue, status.end), max(cue, status.start))  # 'not touch down, partial weight'
    return near and not other and AGAINST.isdisjoint(case.words[clause.start : status.start])


def _left_open(case: Case, clause: Span, status: Concept) -> bool:
    """'He will ask about full weight', 'full weight is decided on the X-ray': another loading than the one told before.

    It was asked for, or is left to be settled.
    """
    before, behind = case.words[clause.start : status.start], case.words[status.end : clause.end]
    asked = not ASKED.isdisjoint(before) or (not WANTED.isdisjoint(before) and not THEY.isdisjoint(before))
    later = tuple(case.words[status.end : status.end + 2]) in LATER
    nearby = case.words[max(clause.start, status.start - WHEN_WITHIN) : status.start]
    return asked or later or "when" in nearby or not SETTLED_LATER.isdisjoint(behind)


def _only_the_time_differs(case: Case, clause: Span) -> bool:
    """'Our usual protocol is six weeks of toe touch, for her I want four': how the leg is loaded is not changed."""
    sentences = case.note.segments.sentences
    last = sentences[min(case.sentence(clause.start).number + 1, len(sentences) - 1)]
    after = [q for q in case.numbers(clause.end, last.end) if q.dimension == "plan_time"]
    changed = bool(after) and case.assertion(after[0].start).mood in {"performed", "planned"}
    end = after[0].end if after else clause.end
    others = ("weight-bearing-status", "device", "operation", "cue")
    things = [c for c in case.within("thing", clause.end, end) if c.key != WEIGHT]
    return changed and not things and not any(case.within(name, clause.end, end) for name in others)


def plan_values(rule: Rule, values: Values, told: Mapping[str, object]) -> Values:
    """The numbers of a plan item; a brace set to one angle is held there, and one 'from full extension' starts at 0."""
    if rule.value != BRACE or values["value"] is None:
        return values
    if "low" in told:
        return {**values, "value": None, "low": float(str(told["low"])), "high": values["value"]}
    held = values["value"] == 0
    return {**values, "value": None, "low": 0.0, "high": 0.0} if held else values
