"""What a rule asks of a clause and of its surroundings."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.grammar.rules import Rule
from extractor.language.clauses import Span


def clause_meets(rule: Rule, keys: frozenset[str]) -> bool:
    """Whether everything that must stand in the clause does, and nothing that must not."""
    if not rule.unless.isdisjoint(keys):
        return False
    for wanted in rule.meets:
        if wanted.isdisjoint(keys):
            return False
    return True


def context_meets(case: Case, rule: Rule, clause: Span) -> bool:
    """Whether what must stand in the sentence or the one before, or must be the last said, does."""
    if rule.max_words is not None and _is_longer(case, clause, rule.max_words):
        return False
    if not rule.unless_note.isdisjoint(case.keys):
        return False
    if rule.note and any(wanted.isdisjoint(case.keys) for wanted in rule.note):
        return False
    for key in rule.unless_lately:
        last = case.last(key.split(":", 1)[0], clause.end)
        if last is not None and last.key == key:
            return False
    if not (rule.near or rule.beside or rule.lately or rule.unless_near):
        return True
    sentence = case.sentence(clause.start)
    if rule.beside and not all(case.said(wanted, sentence) for wanted in rule.beside):
        return False
    before = case.note.segments.sentences[max(0, sentence.number - 1)]
    if rule.near and not all(case.said(wanted, sentence) or case.really_said(wanted, before) for wanted in rule.near):
        return False
    if rule.unless_near and case.said(rule.unless_near, sentence):
        return False
    for wanted in rule.lately:
        list_name = next(iter(wanted)).split(":", 1)[0]
        last = case.last(list_name, clause.start)
        here = any(c.key in wanted for c in case.within(list_name, clause.start, clause.end))
        if not here and (last is None or last.key not in wanted):
            return False
    return True


def _is_longer(case: Case, clause: Span, words: int) -> bool:
    """Whether a clause has more words than so many, signs not counted."""
    said = case.words[clause.start : clause.end]
    return len(said) > words and len([w for w in said if w.isalnum()]) > words


def why_not(case: Case, rule: Rule, clause: Span) -> str | None:
    """For `explain`: the one thing a rule that nearly fired still wants, None where it wants more or nothing."""
    keys = case.clause_keys[clause.number]
    missing = [wanted for wanted in rule.meets if not wanted & keys]
    if rule.unless & keys:
        return (
            f"the clause says {' '.join(sorted(k.split(':')[1] for k in rule.unless & keys))}" if not missing else None
        )
    if len(missing) == 1 and len(rule.meets) > 1:
        return f"nothing said of {' | '.join(sorted(k.split(':')[1] for k in missing[0])[:4])}"
    if not missing and not context_meets(case, rule, clause):
        return "what must stand around it does not"
    return None
