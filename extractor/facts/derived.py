"""Facts told by other facts: a defect's size read off tells that it was measured."""

from __future__ import annotations

from collections.abc import Sequence

from extractor.facts.draft import FactDraft, Span
from extractor.grammar.rules import Rule


def matches(wanted: str, draft: FactDraft) -> bool:
    """Whether a draft is what 'kind field=value,other field2=value' asks for.

    `field=*` asks only that it is said, `field!=value` that it is not this, `field!=*` that it is left unsaid.
    """
    kind, *conditions = wanted.split()
    if draft.kind != kind:
        return False
    for condition in conditions:
        name, _, values = condition.partition("=")
        value = draft.fields.get(name.rstrip("!"))
        is_so = value is not None and (values == "*" or str(value) in values.split(","))
        if is_so == name.endswith("!"):
            return False
    return True


def first_match(wanted: Sequence[str], facts: Sequence[FactDraft]) -> FactDraft | None:
    """The fact said first that any of the conditions asks for; references are no facts of this case."""
    found = [f for f in facts if f.fields.get("role") != "reference" and any(matches(w, f) for w in wanted)]
    return min(found, key=lambda f: f.spans[0].start, default=None)


def told_steps(
    rules: Sequence[Rule], facts: Sequence[FactDraft], steps: Sequence[FactDraft], said: frozenset[str]
) -> list[FactDraft]:
    """Steps that no clause tells in words but a fact does, at the place of that fact.

    `said` are the keys of all concepts of the note, for rules that ask for one of them.
    """
    told = {d.fields["code"] for d in steps if d.fields.get("status") == "performed"}
    out = []
    for rule in sorted(rules, key=lambda r: r.name):
        if (
            rule.kind != "step"
            or not rule.from_fact
            or rule.value in told
            or any(not wanted & said for wanted in rule.note)
        ):
            continue
        source = first_match(rule.from_fact, facts)
        if source is None or (rule.without_fact and first_match(rule.without_fact, [*facts, *steps])):
            continue
        told.add(rule.value)
        span = source.spans[0]
        fields = {"code": rule.value, "status": "performed"}
        out.append(FactDraft("steps", fields, (Span(span.start, span.end, rule.name),), 0.9))
    return out
