"""A verdict in a word or two on what the sentence before looked at: 'Pull on the ACL for me. Tight, intact.'."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.language.clause_words import FINITE
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

VERDICT = 7
"""Tokens of a sentence that is only a verdict, at most."""
ASIDE = 3
"""Tokens of a word between that says nothing, at most: 'Good.', 'Thank you.'"""
HEAD = 8
"""Tokens of a sentence that only names what is looked at, at most."""
OPENS = 5
"""Words of a sentence among which it says that something is looked at, at most."""
BACK = 2
"""Clauses between what was found and what was so likewise, at most: 'intact | when I saw it later, | as were both'."""
ELSE = frozenset({"operation", "device", "finding", "technique", "color", "form"})
"""Lists of which a sentence that only looks at a structure says nothing."""


def answered(case: Case, clause: Span, list_name: str) -> list[Concept]:
    """The structures of the sentence before, where that only looks at them and this one only tells what they are."""
    sentence = case.sentence(clause.start)
    words = case.words[sentence.start : sentence.end]
    if not sentence.number or sentence.end - sentence.start > VERDICT or not FINITE.isdisjoint(words):
        return []
    own = {c.list for k in case.note.segments.clauses_of(sentence) for c in case.in_clause[k.number]}
    if own & {"structure", "compartment", "joint", "thing", "operation", "device", "region"}:
        return []
    sentences = case.note.segments.sentences
    before = sentences[sentence.number - 1]
    named = case.within(list_name, before.start, before.end)
    if not named and before.number and before.end - before.start <= ASIDE:
        before = sentences[before.number - 1]
        named = case.within(list_name, before.start, before.end)
    return named if len(named) == 1 and _only_looks(case, before) else []


def _only_looks(case: Case, sentence: Span) -> bool:
    told = {c.list for k in case.note.segments.clauses_of(sentence) for c in case.in_clause[k.number]}
    if told & ELSE or any(case.numbers(sentence.start, sentence.end)):
        return False
    said = case.words[sentence.start : sentence.end]
    looked = not case.grammar.plain_words("looked-at-now").isdisjoint(said[:OPENS])
    heading = len(said) <= HEAD and FINITE.isdisjoint(said) and "action" not in told
    return looked or heading


def told_before(case: Case, clause: Span) -> Span:
    """The clause that one of likewise goes on with: the one before, past any that tells of nothing itself."""
    clauses, sentence = case.note.segments.clauses, case.sentence(clause.start)
    before = clauses[clause.number - 1]
    for _ in range(BACK):
        lists = before.lists
        lone = before.end - before.start == 1  # an 'and'
        if not before.number or not (lone or before.start > sentence.start) or lists & {"structure", "finding"}:
            break
        before = clauses[before.number - 1]
    return before
