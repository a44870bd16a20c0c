"""The examples of the rules, read through the whole program: what a rule shows it must do."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from extractor.facts.draft import FactDraft
from extractor.facts.engine import read_facts
from extractor.grammar.packs import Grammar
from extractor.grammar.rules import Rule
from extractor.language.annotate import annotate

ARROW = re.compile(r"\s*->\s*")
EXPECTED = re.compile(r"(?P<sign>[<>]?)\s*(?P<low>-?[\d.]+)(?:\s+to\s+(?P<high>-?[\d.]+))?\s*(?P<unit>\S+)?$")
DENIED = ("declined", "absent")


@dataclass(frozen=True)
class Failure:
    """An example that did not read as shown: the rule, the sentence, and what was read instead."""

    rule: Rule
    sentence: str
    problem: str

    def __str__(self) -> str:
        """One line, opening with file and line."""
        return f"{self.rule.where}: rule '{self.rule.name}': \"{self.sentence}\" {self.problem}"


@dataclass(frozen=True)
class Tally:
    """How many rules and sentences were tried, and what failed."""

    rules: int
    sentences: int
    failures: tuple[Failure, ...]


def chosen(grammar: Grammar, names: Iterable[str]) -> list[Rule]:
    """Rules of these names, or of packs of these names; all where none is given."""
    wanted = list(names)
    return [r for r in grammar.rules if not wanted or r.name in wanted or r.pack in wanted]


def try_examples(rules: Iterable[Rule], grammar: Grammar) -> Tally:
    """Read every example and every `never` sentence of some rules."""
    failures: list[Failure] = []
    tried = sentences = 0
    for rule in rules:
        tried += 1
        sentences += len(rule.examples) + len(rule.never)
        failures += failures_of(rule, grammar)
    return Tally(tried, sentences, tuple(failures))


def failures_of(rule: Rule, grammar: Grammar) -> Iterator[Failure]:
    """What a rule shows and does not do.

    An example must give a fact by that rule, with the value behind '->' where there is one. A sentence under `never`
    must give none, or only one that is denied (a step declined, a finding absent).
    """
    for example in rule.examples:
        sentence, *shown = ARROW.split(example, maxsplit=1)
        own = _read(rule, sentence, grammar)
        if not own:
            yield Failure(rule, sentence, "is not read by it")
        elif shown and not any(_fits(draft, shown[0]) for draft in own):
            yield Failure(rule, sentence, f"should give {shown[0]}, and gives {'; '.join(map(_said, own))}")
    for sentence in rule.never:
        read = _read(rule, ARROW.split(sentence, maxsplit=1)[0], grammar)
        own = [d for d in read if d.fields.get("status") not in DENIED]
        if own:
            yield Failure(rule, sentence, f"must not be read by it, and gives {'; '.join(map(_said, own))}")


def _read(rule: Rule, sentence: str, grammar: Grammar) -> list[FactDraft]:
    """The facts that a rule read in a sentence; a 'known' rule gives none, so its claim stands in."""
    reading = read_facts(annotate(sentence, grammar))
    own = [d for d in reading.drafts if any(s.rule == rule.name for s in d.spans)]
    if rule.kind == "known" and not own and any(claim.rule.name == rule.name for claim in reading.claims):
        return [FactDraft("known", {"what": rule.value}, ())]
    return own


def _fits(draft: FactDraft, shown: str) -> bool:
    """Whether a fact has the value shown: '9 mm', '< 20 mL', '0 to 90 deg', or a plain word for its value."""
    fields = draft.fields
    match = EXPECTED.match(shown.strip())
    if not match:
        return shown.strip() in {str(value) for value in fields.values()}
    low, high = float(match["low"]), float(match["high"]) if match["high"] else None
    if match["sign"]:
        least = match["sign"] == ">"
        wanted = {"low": low if least else None, "high": None if least else low, "value": None}
    elif high is not None:
        wanted = {"low": low, "high": high, "value": None}
    else:
        wanted = {"value": low, "low": None, "high": None}
    values = all(_same(fields.get(name), value) for name, value in wanted.items())
    return values and (match["unit"] is None or fields.get("unit") == match["unit"])


def _same(found: object, wanted: float | None) -> bool:
    if wanted is None or not isinstance(found, (int, float)):
        return found is wanted
    return math.isclose(found, wanted, rel_tol=1e-6, abs_tol=1e-9)


def _said(draft: FactDraft) -> str:
    fields = {k: v for k, v in draft.fields.items() if v not in (None, [], (), False)}
    return f"{draft.kind} " + ", ".join(f"{k} {v}" for k, v in fields.items())
