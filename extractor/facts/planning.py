"""Plan items said in words: how the leg may be loaded."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.ruleset import ClauseRules
from extractor.facts.stepping import fired, resolve_fields

MAY = "may"
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
        if assertion.mood in {"history", "habit", "considered", "withdrawn"} or is_condition(case, trigger.start):
            continue
        fields = {"item": rule.value, **dict(resolve_fields(case, rule, clause, trigger))}
        spans = case.spans([(trigger.start, trigger.end)], rule.name)
        out.setdefault((rule.value, fields.get("value")), FactDraft("plan", fields, spans))
    return list(out.values())
