"""Plan items said in words: how the leg may be loaded."""

from __future__ import annotations

from collections.abc import Mapping

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.ruleset import ClauseRules
from extractor.facts.stepping import fired, resolve_fields
from extractor.grammar.rules import Rule
from extractor.language.clauses import Span

Values = dict[str, float | str | None]
MAY = "may"
BRACE, WEIGHT = "brace-range", "thing:weight-bearing"
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
        spans = case.spans([(trigger.start, trigger.end)], rule.name)
        out.setdefault((rule.value, fields.get("value")), FactDraft("plan", fields, spans))
    return list(out.values())


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
