"""Every sentence beside a rule is a test: the rule reads it as shown, or must not read it.

The sentences are the packs' own. They are read by the function behind `extractor grammar test`.
"""

from __future__ import annotations

import json
from dataclasses import replace
from functools import cache

import pytest

from extractor.grammar.packs import Grammar, load_grammar, shipped_grammars
from extractor.grammar.rules import Rule
from extractor.outputs.examples import failures_of, try_examples

RULES = load_grammar().rules


@cache
def lines_of(file: str) -> tuple[str, ...]:
    return tuple((shipped_grammars() / file).read_text(encoding="utf-8").splitlines())


def place(rule: Rule, sentence: str) -> str:
    """File and line of a sentence, which stands somewhere after its rule's heading."""
    written = json.dumps(sentence, ensure_ascii=False)
    for number, line in enumerate(lines_of(rule.file)[rule.line :], rule.line + 1):
        if written in line:
            return f"{rule.file}:{number}"
    return rule.where


def cases(kind: str) -> list[object]:
    """Each rule cut down to one of its sentences; the rule is otherwise as it is in force."""
    found: list[object] = []
    for rule in RULES:
        for sentence in getattr(rule, kind):
            shown, never = ((sentence,), ()) if kind == "examples" else ((), (sentence,))
            one = replace(rule, examples=shown, never=never)
            found.append(pytest.param(one, id=f"{place(rule, sentence)}-{sentence}"))
    return found


@pytest.mark.parametrize("rule", cases("examples"))
def test_example_is_read_as_shown(rule: Rule, grammar: Grammar) -> None:
    assert not [str(failure) for failure in failures_of(rule, grammar)]


@pytest.mark.parametrize("rule", cases("never"))
def test_sentence_is_never_read(rule: Rule, grammar: Grammar) -> None:
    assert not [str(failure) for failure in failures_of(rule, grammar)]


def test_every_rule_shows_two_sentences_and_one_it_must_not_read() -> None:
    assert RULES and all(len(rule.examples) >= 2 and rule.never for rule in RULES)


def test_a_wrong_example_is_seen(grammar: Grammar) -> None:
    """The tests above can fail: another value, a sentence of another rule, and one under `never` that is read."""
    rule = next(r for r in RULES if r.kind == "measurement" and " -> " in r.examples[0])
    sentence = rule.examples[0].split(" -> ")[0]
    for wrong in (
        replace(rule, examples=(f"{sentence} -> 987 mm",)),
        replace(rule, examples=("The weather was fine.",)),
        replace(rule, never=(sentence,)),
    ):
        tally = try_examples([wrong], grammar)
        assert tally.failures and all(str(f).startswith(f"{rule.file}:{rule.line}: ") for f in tally.failures)
