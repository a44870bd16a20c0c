"""Every sentence beside a rule is a test: the rule reads it as shown, or must not read it."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar, load_grammar
from extractor.grammar.rules import Rule
from extractor.outputs.examples import failures_of, try_examples

RULES = load_grammar().rules


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    return load_grammar()


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: f"{rule.where}-{rule.name}")
def test_examples(rule: Rule, grammar: Grammar) -> None:
    assert not [str(failure) for failure in failures_of(rule, grammar)]


def test_every_rule_shows_two_sentences_and_one_it_must_not_read() -> None:
    assert RULES and all(len(rule.examples) >= 2 and rule.never for rule in RULES)


def test_a_wrong_example_is_seen(grammar: Grammar) -> None:
    """The tests above can fail: another value, a sentence of another rule, and one under `never` that is read."""
    rule = next(r for r in RULES if r.kind == "measurement" and " -> " in r.examples[0])
    sentence = rule.examples[0].split(" -> ")[0]
    for wrong in (
        {"examples": (f"{sentence} -> 987 mm",)},
        {"examples": ("The weather was fine.",)},
        {"never": (sentence,)},
    ):
        broken = Rule(**{**rule.__dict__, **wrong})
        tally = try_examples([broken], grammar)
        assert tally.failures and all(str(f).startswith(f"{rule.file}:{rule.line}: ") for f in tally.failures)
