"""What one accepts as a rule: 'I do not accept a graft of less than nine', 'a rim below three I do not trust'.

No size of this case is told so. The verbs stand in the lists `demanding` and `accepting`; which of them needs a denial,
and what tells of the present only, is plain English.
"""

from __future__ import annotations

from extractor.grammar.packs import Grammar
from extractor.language.asserted import Assertion
from extractor.language.clause_words import FINITE
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.numbers import atom_at
from extractor.language.verbs import PAST

SPEAKERS = frozenset({"i", "we"})
HELPING = frozenset({"do", "will", "would", "wo", "ca", "can", "'d", "'ll", "should", "must", "shall"})
NOT = frozenset({"not", "n't", "never", "hardly", "rarely", "seldom", "no", "longer"})
BESIDE = frozenset({"also", "always", "still", "just", "really", "simply", "personally", "usually"})
UNDER = frozenset(
    "less under below beneath thinner smaller narrower shorter more over above larger longer wider thicker beyond fewer"
    .split()
)  # fmt: skip
LINKS = frozenset({"than", "of", "at", "about"})
INDEFINITE = frozenset({"a", "an", "any", "nothing", "anything"})
STILL_THERE = frozenset("is are 's remains remained stays stayed left had has have been".split())
"""Verbs by which what is told of a thing is so today: 'a rim of less than two remains'."""
AFTERWARDS = frozenset({"span", "weight-bearing-status"})
COMES_BACK = frozenset({"now", "this-case"})
NAMED_WITHIN = 5
"""Words from an indefinite article to the bound of its size, at most: 'a root tunnel of less than'."""


def policy(
    clauses: tuple[Span, ...],
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
    grammar: Grammar,
) -> None:
    """Give the sizes that one asks for or accepts as a rule the mood of a habit."""
    for n, clause in enumerate(clauses):
        if found[clause.number].mood != "performed":
            continue
        if words[clause.start] not in INDEFINITE and SPEAKERS.isdisjoint(clause.said):
            continue
        demanding, accepting = grammar.plain_words("demanding"), grammar.plain_words("accepting")
        verbs = demanding | accepting
        if words[clause.start] not in INDEFINITE and verbs.isdisjoint(clause.said):
            continue
        lists = clause.lists
        if lists & (AFTERWARDS | COMES_BACK) or any(c.key == "dimension:flexion" for c in inside[clause.number]):
            continue
        after = clauses[n + 1] if n + 1 < len(clauses) else None
        if (
            _demanded(clause, words, demanding)
            or _not_accepted(clause, words, accepting)
            or _refused_in_front(clause, after, words, verbs)
        ):
            found[clause.number] = Assertion("habit", False, None, clause.start)


def _verb(clause: Span, words: list[str]) -> tuple[str, bool]:
    """What 'I' or 'we' do in a clause, in the present, and whether it is denied: 'I would never accept'."""
    at = next((i for i in range(clause.start, clause.end) if words[i] in SPEAKERS), None)
    if at is None:
        return "", False
    denied, at = False, at + 1
    while at < clause.end and (words[at] in HELPING or words[at] in NOT or words[at] in BESIDE):
        denied = denied or words[at] in NOT
        at += 1
    return (words[at] if at < clause.end else ""), denied


def _demanded(clause: Span, words: list[str], demanding: frozenset[str]) -> bool:
    verb, denied = _verb(clause, words)
    return verb in demanding and not denied and _sized(clause, words)


def _not_accepted(clause: Span, words: list[str], accepting: frozenset[str]) -> bool:
    verb, denied = _verb(clause, words)
    return denied and verb in accepting and _bound(words, clause.start, clause.end) is not None


def _refused_in_front(clause: Span, after: Span | None, words: list[str], verbs: frozenset[str]) -> bool:
    """'A graft below nine | I send back', 'a rim under three has no business there', 'nothing under nine counts'."""
    opens = words[clause.start]
    if opens not in INDEFINITE:
        return False
    at = _bound(words, clause.start, min(clause.end, clause.start + NAMED_WITHIN))
    if at is None:
        return False
    said = words[clause.start : clause.end]
    if any(w in PAST or w.endswith("ed") for w in said):
        return False
    told = clause if not SPEAKERS.isdisjoint(said) else after
    if told is not None and (told is clause or words[told.start] in SPEAKERS):
        verb, denied = _verb(told, words)
        return FINITE.isdisjoint(words[clause.start : at]) and (verb in verbs or denied) and verb not in PAST
    no_business = any(words[i] == "has" and words[i + 1] in {"no", "nothing"} for i in range(at, clause.end - 1))
    does = any(w.isalpha() and w.endswith("s") and w not in FINITE | UNDER for w in words[at + 2 : clause.end])
    return no_business or (opens == "nothing" and does and STILL_THERE.isdisjoint(said))


def _bound(words: list[str], start: int, end: int) -> int | None:
    """The token of a number that only bounds: 'less than | nine', 'below | nine'."""
    for i in range(start, end):
        if words[i] in UNDER:
            at = i + 1
            while at < len(words) and words[at] in LINKS:
                at += 1
            if at < len(words) and atom_at(words, at) is not None:
                return at
    return None


def _sized(clause: Span, words: list[str]) -> bool:
    return any(atom_at(words, i) is not None for i in range(clause.start, clause.end))
