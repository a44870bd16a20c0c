"""Tests of a repair that were not made: 'bridge check: not done', 'I never got around to probing it'.

'Nothing moved on probing' and 'no bridge' tell that a test was made, and what it showed; so a mere denial in the clause
does not do. It must stand beside the words for the test, and be of its doing.
"""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.language.asserted import CONTENT
from extractor.language.clause_words import CONNECTORS, FINITE, PREPOSITIONS
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

BESIDE = frozenset({",", ":", "was", "were", "is", "'s", "we", "i", "has", "have", "been", "simply", "it"})
"""Words between a test and what is said of it behind."""
LEADING = frozenset({
    "a", "an", "the", "any", "to", "for", "of", "do", "did", "make", "perform", "got", "get", "around", "bother",
    "with", "was", "is", "as", "far", "came", "come",
})  # fmt: skip
"""Words between a denial and the test ahead of which it stands."""
BARE = frozenset({"not", "n't", "never", "cannot", "can", "could", "did", "nothing", "no", "none", "without"})
ONTO = frozenset({"on"})
SPARED = frozenset({"spared", "avoided"})
FEELING = frozenset({"be", "been", "felt", "thought", "found", "deemed", "considered", "judged", "seem", "prove"})
"""Words between a 'not' and 'needed': 'was not felt to be needed'."""
FELT = 5
TRIED_WITHIN = 2
"""Words from 'tried' to the test that was given up, at most; 'I tried to open it with the probe' tells of a test."""
WITHIN = 6
"""Tokens from a denial to the test, at most."""
NOBODY = frozenset({"nobody", "us", "none"})
SHOWN = frozenset({"none", "nothing", "negative", "clean", "clear", "nil", "neither"})
"""Answers that tell what a test showed: 'Bridge check: none.'"""
ASKED_OF = frozenset({"we", "i", "you", "us", "they"})
REFUSALS = frozenset({"unnecessary", "deferred", "refused"})
CHECKS, NAMED_IN = frozenset({"check", "test", "testing"}), 5
"""Nouns of testing, and words from a 'no' to them, at most: 'no range of motion check'."""
HEADED = 2
"""Words before a test that only heads what is said of it, at most: 'and bridge check'."""


def left_out(case: Case, clause: Span, trigger: Concept) -> bool:
    """Whether a test is said not to have been made, behind its words or ahead of them."""
    tests = [c for c in case.within("testing", clause.start, clause.end) if c.end >= trigger.start or c == trigger]
    spans = {(c.start, c.end) for c in tests} | {(trigger.start, trigger.end)}
    if any(_refused_behind(case, end) or _refused_ahead(case, start, clause) for start, end in spans):
        return True
    opens = min(start for start, _ in spans)
    if _not_to(case, opens, clause) or _answered_no(case, opens, clause, tests) or _no_check(case, clause):
        return True
    return _given_up(case, opens, max(end for _, end in spans), clause)


def _no_check(case: Case, clause: Span) -> bool:
    """'There was no range of motion check': the 'no' is of the check itself, and not of what it showed."""
    for at in (i for i in range(clause.start + 1, clause.end) if case.words[i] in CHECKS):
        lead = case.words[max(clause.start, at - NAMED_IN) : at]
        named = lead[len(lead) - lead[::-1].index("no") :] if "no" in lead else [","]
        if all(word.isalpha() and (word == "of" or word not in PREPOSITIONS | FINITE) for word in named):
            return True
    return False


def _given_up(case: Case, start: int, end: int, clause: Span) -> bool:
    """'Probing was thought unnecessary', 'I started to probe it | but gave up', 'everything except probing it'."""
    held = case.assertion(start)
    if not held.negated and held.ahead is None:
        return False
    own = [c for name in ("negation", "negation-ahead") for c in case.within(name, clause.start, clause.end)]
    if not own and held.cue is not None and case.words[held.cue] == "but":
        return True  # 'all steps | but the bridge check'
    if not own:
        cues = [c for name in ("trying", "excepting") for c in case.within(name, clause.start, end)]
        return any(start - c.end <= TRIED_WITHIN for c in cues)
    behind = [c for c in case.within("negation", end, clause.end) if _refuses(case, c, end)]
    doing = {c.start for c in case.within("doing", end, clause.end)}
    named = [k.start for name in CONTENT for k in case.within(name, end, clause.end) if k.start not in doing]
    return any(all(at < c.end for at in named) for c in behind)


def _refuses(case: Case, denial: Concept, end: int) -> bool:
    """Whether a denial behind a test is of its being made: '... was not felt to be necessary', '... can be spared'."""
    verb = next((i for i in range(end, denial.start) if case.words[i] in FINITE), denial.start)
    if any(case.within(name, verb, denial.start) for name in CONTENT):
        return False
    if denial.name in REFUSALS or case.words[denial.start] in SPARED:
        return True
    said = [w for w in case.words[denial.end : denial.end + FELT] if w not in LEADING | FEELING]
    return bool(said) and said[0] in case.grammar.plain_words("not-made") - ONTO


def _not_to(case: Case, start: int, clause: Span) -> bool:
    """'It was not worthwhile to probe it', 'nobody checked for a bridge': of the test itself, by its infinitive."""
    at = start - 1
    while at > clause.start and case.words[at].endswith("ly"):
        at -= 1
    if at < clause.start:
        return False
    if case.words[at] in NOBODY or case.words[max(clause.start, at - 1) : at + 1] == ["no", "one"]:
        return True
    denials = (c for name in ("negation", "negation-ahead") for c in case.within(name, clause.start, at))
    infinitive = case.words[at] == "to" and not case.words[start].endswith(("ing", "tion"))
    return infinitive and case.words[start - 1 : start + 1] != ["to", "the"] and next(denials, None) is not None


def _answered_no(case: Case, start: int, clause: Span, tests: list[Concept]) -> bool:
    """'Did we probe it? No.', 'bridge check: no': denied from elsewhere, and not by what the test found.

    A 'none' tells what was found, and so does the answer to 'does it move on probing'.
    """
    held, words = case.assertion(start), case.words
    own = [c for name in ("negation", "negation-ahead") for c in case.within(name, clause.start, clause.end)]
    if not held.negated or own or held.cue is None:
        return False
    answer = held.cue if held.cue >= clause.end else clause.end
    if not SHOWN.isdisjoint(words[answer : answer + 2]):
        return False
    asked = not ASKED_OF.isdisjoint(words[clause.start : min(start, clause.start + HEADED)])
    asked = asked and clause.start == case.sentence(start).start
    heads = start - clause.start <= HEADED and words[clause.start] not in CONNECTORS - {"and", "but"}
    return asked or (heads and bool(tests))


def _refused_behind(case: Case, end: int) -> bool:
    """'... was not performed', '... we skipped', ': not done'."""
    sentence_end = case.sentence(end - 1).end
    at = end
    while at < sentence_end and case.words[at] in BESIDE:
        at += 1
    denial = next(iter(case.within("negation", end, min(at + 1, sentence_end))), None)
    if denial is None:
        return False
    if not _bare(case, denial):
        return True
    made, behind = case.grammar.plain_words("not-made"), case.words[denial.end : denial.end + 2]
    return any(word in made and (n == 0 or word not in LEADING | BESIDE | ONTO) for n, word in enumerate(behind))


def _refused_ahead(case: Case, start: int, clause: Span) -> bool:
    """'I stopped short of ...', 'no indication for ...', 'did not do a ...'."""
    for name in ("negation", "negation-ahead"):
        for denial in case.within(name, max(clause.start, start - WITHIN), start):
            gap = case.words[denial.end : start]
            if case.words[denial.start : denial.end] == ["no"]:
                if len(gap) == 2 and gap[1] == "for":
                    return True  # 'no reason for'
            elif LEADING.issuperset(gap) and (gap or not _bare(case, denial)):
                return True
    return False


def _bare(case: Case, denial: Concept) -> bool:
    return BARE.issuperset(case.words[denial.start : denial.end])
