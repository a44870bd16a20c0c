"""A grammar's rules laid out so that a rule is tried only where something it needs was said.

Most of what a pack knows is not said in most clauses. So rules lie under a concept each of them cannot do without,
and a rule that cannot fire costs nothing, however many packs there are.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from extractor.grammar.packs import COMMON, Grammar
from extractor.grammar.rules import Rule

BARE = "bare"
"""Where the rules lie that take a number without a unit."""
ON_CLAUSES = ("step", "finding", "procedure", "plan", "element")
ANY_OTHER = "procedures status=performed"
"""A rule that wants no other procedure is asked when all others have been."""
TRANSPLANT = "meniscus-transplant"
_Table = dict[str, tuple[int, ...]]


@dataclass(frozen=True)
class ClauseRules:
    """Rules that need no number, by each key that may meet their first requirement.

    `done` are the things that any of them is about, `elliptic` says that any may leave to the clause before what it
    is about.
    """

    by_key: dict[str, tuple[Rule, ...]]
    known: frozenset[str]
    done: frozenset[str]
    elliptic: bool


@dataclass(frozen=True)
class NumberRules:
    """Rules that take numbers of one dimension, by what each of them needs.

    A rule with words of measuring lies under these, else under the things it is about, else under what must be said
    in the clause, and else is always tried. `sized` are the things of which a size is known, `named` also those
    called by one, as a shaver is.
    """

    rules: tuple[Rule, ...]
    sized: frozenset[str]
    named: frozenset[str]
    beside: _Table
    by_word: _Table
    by_thing: _Table
    by_said: _Table
    always: tuple[int, ...]

    def likely(
        self, named: frozenset[str], words: Iterable[str], things: Iterable[str], said: Iterable[str]
    ) -> list[Rule]:
        """The rules that may read a number, in their order.

        Args:
            named: words of measuring right by the number; each must be one of the rule's.
            words: ... and those in its part of the sentence.
            things: what it may belong to.
            said: what its clause says.
        """
        if named:
            found = set(self.beside.get(min(named), ()))
        else:
            found = set(self.always)
            for table, keys in ((self.by_word, words), (self.by_thing, things), (self.by_said, said)):
                for key in keys:
                    found.update(table.get(key, ()))
        return [self.rules[i] for i in sorted(found)]


@dataclass(frozen=True)
class Ruleset:
    """A grammar's rules laid out for use.

    `told_steps` and `told_procedures` follow from other facts; they stand in the order in which they are asked.
    """

    numbers: dict[str, NumberRules]
    by_kind: dict[str, ClauseRules]
    told_steps: tuple[Rule, ...]
    told_procedures: tuple[Rule, ...]


@lru_cache(maxsize=8)
def ruleset_of(grammar: Grammar) -> Ruleset:
    """The rules of a grammar."""
    return _laid_out(grammar.rules)


@lru_cache(maxsize=8)
def common_ruleset_of(grammar: Grammar) -> Ruleset:
    """The rules of the common pack alone, for work that no other pack knows."""
    return _laid_out(tuple(r for r in grammar.rules if r.pack == COMMON))


def _laid_out(rules: tuple[Rule, ...]) -> Ruleset:
    steps = sorted((r for r in rules if r.kind == "step" and r.from_fact), key=lambda r: r.name)
    works = [r for r in rules if r.kind == "procedure" and r.from_fact]
    # Of the same work what asks for more comes first; never the order of lines.
    works.sort(key=lambda r: (ANY_OTHER in r.without_fact, r.value != TRANSPLANT, -len(r.note), r.name))
    by_kind = {kind: _on_clauses(rules, kind) for kind in ON_CLAUSES}
    return Ruleset(_on_numbers(rules), by_kind, tuple(steps), tuple(works))


def _on_clauses(rules: Iterable[Rule], kind: str) -> ClauseRules:
    table: dict[str, list[Rule]] = defaultdict(list)
    done: set[str] = set()
    for rule in rules:
        if rule.kind == kind and rule.meets and not rule.takes:
            done |= rule.of
            for key in sorted(rule.meets[0]):
                table[key].append(rule)
    by_key = {key: tuple(own) for key, own in table.items()}
    return ClauseRules(by_key, frozenset(by_key), frozenset(done), kind == "step")


def _on_numbers(rules: tuple[Rule, ...]) -> dict[str, NumberRules]:
    """Rules by the dimension they take; those that take bare numbers also under `BARE`."""
    table: dict[str, list[Rule]] = defaultdict(list)
    for rule in rules:
        if rule.takes:
            if not rule.bare_within:
                table[rule.takes].append(rule)
            if rule.bare or rule.bare_within or (rule.words and rule.bare is None):
                table[BARE].append(rule)
    return {name: _by_need(tuple(own)) for name, own in table.items()}


def _by_need(rules: tuple[Rule, ...]) -> NumberRules:
    beside: dict[str, list[int]] = defaultdict(list)
    tables: tuple[dict[str, list[int]], ...] = (defaultdict(list), defaultdict(list), defaultdict(list))
    always: list[int] = []
    for i, rule in enumerate(rules):
        for key in sorted(rule.dimensions):
            beside[key].append(i)
        needs = (rule.words[0] if rule.words else (), rule.of, rule.meets[0] if rule.meets else ())
        own = next(((table, keys) for table, keys in zip(tables, needs, strict=True) if keys), None)
        if own is None:
            always.append(i)
        else:
            for key in sorted(own[1]):
                own[0][key].append(i)
    sized = frozenset().union(*(rule.of for rule in rules if rule.kind == "measurement"))
    named = sized.union(*(rule.of for rule in rules if rule.kind == "known" and rule.reach == "next"))
    by_word, by_thing, by_said = (_kept(table) for table in tables)
    return NumberRules(rules, sized, named, _kept(beside), by_word, by_thing, by_said, tuple(always))


def _kept(table: dict[str, list[int]]) -> _Table:
    return {key: tuple(own) for key, own in table.items()}
