"""Facts told by other facts: a defect's size read off tells that it was measured."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import lru_cache

from extractor.facts.draft import FactDraft, Span
from extractor.grammar.rules import Rule

_Condition = tuple[str, bool, frozenset[str] | None]


@lru_cache(maxsize=1024)
def _parsed(wanted: str) -> tuple[str, tuple[_Condition, ...]]:
    """Kind and conditions of 'kind field=value,other field2!=value': field, whether denied, values (None: any)."""
    kind, *conditions = wanted.split()
    parsed = []
    for condition in conditions:
        name, _, values = condition.partition("=")
        parsed.append((name.rstrip("!"), name.endswith("!"), None if values == "*" else frozenset(values.split(","))))
    return kind, tuple(parsed)


def _fits(conditions: tuple[_Condition, ...], draft: FactDraft) -> bool:
    for name, denied, values in conditions:
        value = draft.fields.get(name)
        if (value is not None and (values is None or str(value) in values)) == denied:
            return False
    return True


class Facts:
    """Facts of this case by their kind, for rules that follow from them; references are no facts of this case."""

    def __init__(self, facts: Iterable[FactDraft]) -> None:
        """Sort facts by kind, each with its place among all."""
        self._by_kind: dict[str, list[tuple[int, int, FactDraft]]] = {}
        self._count = 0
        for fact in facts:
            self.add(fact)

    def add(self, fact: FactDraft) -> None:
        """One more fact."""
        self._count += 1
        if fact.fields.get("role") != "reference":
            placed = (fact.spans[0].start, self._count, fact)
            self._by_kind.setdefault(fact.kind, []).append(placed)

    def first(self, wanted: Sequence[str]) -> FactDraft | None:
        """The fact said first that any of the conditions asks for.

        A condition is 'kind field=value,other field2=value'; `field=*` asks only that it is said, `field!=value` that
        it is not this, `field!=*` that it is left unsaid.
        """
        first: tuple[int, int, FactDraft] | None = None
        for want in wanted:
            kind, conditions = _parsed(want)
            for placed in self._by_kind.get(kind, ()):
                if (first is None or placed[:2] < first[:2]) and _fits(conditions, placed[2]):
                    first = placed
        return first[2] if first else None


def told_steps(
    rules: Sequence[Rule], facts: Sequence[FactDraft], steps: Sequence[FactDraft], said: frozenset[str]
) -> list[FactDraft]:
    """Steps that no clause tells in words but a fact does, at the place of that fact.

    `said` are the keys of all concepts of the note, for rules that ask for one of them.
    """
    told = {d.fields["code"] for d in steps if d.fields.get("status") == "performed"}
    known, with_steps = Facts(facts), Facts([*facts, *steps])
    out = []
    for rule in rules:
        if rule.value in told or any(wanted.isdisjoint(said) for wanted in rule.note) or rule.unless_note & said:
            continue
        source = known.first(rule.from_fact)
        if source is None or (rule.without_fact and with_steps.first(rule.without_fact)):
            continue
        told.add(rule.value)
        span = source.spans[0]
        fields = {"code": rule.value, "status": "performed"}
        out.append(FactDraft("steps", fields, (Span(span.start, span.end, rule.name),), 0.9))
    return out
