"""What is said of a subject behind what is set off, and what somebody says of any: neither is of this case.

'A longer graft, | twenty-eight millimeters, | lay there for somebody else', 'my professor held | that a rim of five
saves the joint'.
"""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.clause_words import DETERMINERS
from extractor.language.clauses import Segmentation, Span
from extractor.language.verbs import VERBS, verbal

MOST_SET_OFF = 2
"""Clauses between a subject and its verb, at most."""
INDEFINITE = frozenset({"a", "an", "any", "no", "every"})
PAST = frozenset({"was", "were", "had", "did"})
SPEAKERS = frozenset({"i", "we"})
OF_THIS = frozenset({"this-case", "now", "side", "joint"})
SAYING = frozenset({"opinion", "telling", "telling-too", "in-print"})
"""Lists of verbs, and of what is read, behind which a rule may be told."""
LAY = frozenset({"lay", "stood", "sat", "hung", "stayed", "waited", "went", "came", "belonged", "belongs"})


def said_of_subject(segments: Segmentation, found: list[Assertion], words: list[str]) -> None:
    """Have a subject set off from its verb told of another time as that is."""
    for clause in segments.clauses[1:]:
        held = found[clause.number]
        verb = words[clause.start]
        if held.mood != "history" or not (verb in VERBS or verb in LAY or verb.endswith("ed")):
            continue
        start, told = segments.sentence_at(clause.start).start, []
        for before in reversed(segments.clauses[max(0, clause.number - 1 - MOST_SET_OFF) : clause.number]):
            if before.start < start or words[before.end - 1] != "," or verbal(words, before):
                break
            told.append(before)
            if words[before.start] in DETERMINERS:
                _set(told, found, held.cue)
                break


def held_of_any(segments: Segmentation, found: list[Assertion], words: list[str]) -> None:
    """'My professor maintained | that a rim of five saves the joint': a rule, whoever holds it."""
    for before, clause in zip(segments.clauses, segments.clauses[1:], strict=False):
        opens = words[clause.start : clause.start + 2]
        rule = opens[:1] == ["that"] and not INDEFINITE.isdisjoint(opens[1:]) and PAST.isdisjoint(clause.said)
        says = not SAYING.isdisjoint(before.lists) and SPEAKERS.isdisjoint(before.said)
        if rule and says and OF_THIS.isdisjoint(clause.lists) and found[clause.number].mood == "performed":
            found[clause.number] = Assertion("habit", False, None, before.start)


def _set(told: list[Span], found: list[Assertion], cue: int | None) -> None:
    for clause in told:
        held = found[clause.number]
        if held.mood in {"performed", "planned"}:
            found[clause.number] = Assertion("history", held.negated, held.ahead, cue)
