"""Rules that nearly fired, and what each still wanted."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from extractor.facts.case import Case
from extractor.facts.measuring import CLOSENESS
from extractor.facts.requirements import clause_meets, context_meets, why_not
from extractor.facts.slots import Slot, find_slots, things_near
from extractor.grammar.rules import Rule
from extractor.language.clauses import Span

MOST = 8
"""So many are shown of one clause or number, the nearest first."""


@dataclass(frozen=True)
class Nearly:
    """A rule that wanted one thing more: what, and the characters it was tried on."""

    rule: Rule
    why: str
    start: int
    end: int


def nearly_fired(case: Case, fired: set[str], size: int) -> tuple[Nearly, ...]:
    """Give the rules that wanted one thing more, of the first `size` characters.

    Args:
        case: the note.
        fired: names of rules that read something; they are left out.
        size: characters looked at.
    """
    starts, ends = case.note.tokens.starts, case.note.tokens.ends
    rules = [rule for rule in case.grammar.rules if rule.name not in fired]
    found: list[Nearly] = []
    for clause in case.note.segments.clauses:
        if clause.end <= clause.start or starts[clause.start] >= size:
            continue
        near = [(r, w) for r in rules if not r.takes and (w := _clause_lacks(case, r, clause))]
        found += [Nearly(r, w, starts[clause.start], min(size, ends[clause.end - 1])) for r, w in near[:MOST]]
    for slot in find_slots(case):
        q = slot.quantity
        if starts[q.start] >= size:
            continue
        near = [(r, w) for r in rules if r.takes and r.takes == q.dimension and (w := _number_lacks(case, r, slot))]
        near.sort(key=lambda item: (-item[0].weight, item[0].name))
        found += [Nearly(r, w, starts[q.start], ends[q.end - 1]) for r, w in near[:MOST]]
    return tuple(dict.fromkeys(found))


def _clause_lacks(case: Case, rule: Rule, clause: Span) -> str | None:
    """What a rule about a clause still wants; None where it wants more than one thing, or nothing of it was said."""
    keys = case.clause_keys[clause.number]
    if not any(wanted & keys for wanted in rule.meets):
        return None
    lacks = why_not(case, rule, clause)
    if lacks is None and rule.of and clause_meets(rule, keys) and context_meets(case, rule, clause):
        return f"not known to be about {_names(rule.of)}"
    return lacks


def _number_lacks(case: Case, rule: Rule, slot: Slot) -> str | None:
    """What a rule about a number still wants; None where it wants more than one thing, or nothing of it was said."""
    keys = case.clause_keys[slot.clause.number]
    lacks = [f"nothing said of {_names(wanted)}" for wanted in rule.meets if not wanted & keys]
    hindered = rule.unless & keys
    if hindered:
        lacks.append(f"the clause says {_names(hindered)}")
    said = case.within("dimension", *slot.share)
    had = sum(1 for wanted in rule.words if any(c.key in wanted for c in said))
    lacks += [f"no word of {_names(wanted)}" for wanted in rule.words if not any(c.key in wanted for c in said)]
    allowed = frozenset().union(*rule.words)
    own = [c for c in case.within("dimension", *slot.chunk) if c.key not in allowed]
    lacks += [f'it takes no "{own[0].name}"'] if own else []
    least = CLOSENESS[rule.reach]
    near = [t for t in things_near(case, slot) if t.closeness >= least and t.concept.key in rule.of]
    lacks += [f"not known to be about {_names(rule.of)}"] if rule.of and not near else []
    if rule.part is not None and (slot.quantity.product is None or slot.quantity.part != rule.part):
        lacks.append("it takes part of an 'A by B'")
    if rule.counted and not slot.quantity.counted:
        lacks.append("it takes a number counted up to along a ruler")
    if not lacks and not context_meets(case, rule, slot.clause):
        lacks.append("what must stand around it does not")
    if not (near or had or (rule.meets and len(lacks) < len(rule.meets))):
        return None
    if not lacks:
        return "another rule fits better"
    return lacks[0] if len(lacks) == 1 else None


def _names(keys: Iterable[str]) -> str:
    names = sorted({key.split(":", 1)[1] for key in keys})
    return " | ".join(names[:4]) + (" ..." if len(names) > 4 else "")
