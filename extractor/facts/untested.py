"""Tests of a repair that were not made: 'bridge check: not done', 'I never got around to probing it'.

'Nothing moved on probing' and 'no bridge' tell that a test was made, and what it showed; so a mere denial in the clause
does not do. It must stand beside the words for the test, and be of its doing.
"""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

BESIDE = frozenset({",", ":", "was", "were", "is", "'s", "we", "i", "has", "have", "been", "simply", "it"})
"""Words between a test and what is said of it behind."""
LEADING = frozenset({
    "a", "an", "the", "any", "to", "for", "of", "do", "did", "make", "perform", "got", "get", "around", "bother",
    "with",
})  # fmt: skip
"""Words between a denial and the test ahead of which it stands."""
BARE = frozenset({"not", "n't", "never", "no", "none", "without"})
WITHIN = 6
"""Tokens from a denial to the test, at most."""


def left_out(case: Case, clause: Span, trigger: Concept) -> bool:
    """Whether a test is said not to have been made, behind its words or ahead of them."""
    tests = [c for c in case.within("testing", clause.start, clause.end) if c.end > trigger.start or c == trigger]
    spans = {(c.start, c.end) for c in tests} | {(trigger.start, trigger.end)}
    return any(_refused_behind(case, end) or _refused_ahead(case, start, clause) for start, end in spans)


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
    behind = case.words[denial.end : denial.end + 1]
    return bool(behind) and behind[0] in case.grammar.plain_words("not-made")


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
    return denial.end - denial.start == 1 and case.words[denial.start] in BARE
