"""A side announced without its knee: 'ACL on the left', 'Right side, arthroscopy', 'This is her left'.

Asked only where no side of a knee is said in the whole note, and only at its head, where the case is announced; two
sides announced so tell none.
"""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.language.clause_words import FINITE
from extractor.language.concepts import Concept

SENTENCES, TOKENS = 3, 60
"""How far the head of a note reaches, at most."""
OWNERS = frozenset({"the", "his", "her", "their", "'s", "a"})
NAMED = frozenset({"side", "one", "sided", "hand"})
"""Behind a side these make it one of two: 'the right one', 'left hand side'."""
CLOSES = frozenset({".", ",", "\n", ")", ";", ":", "and", "today", "with", "we", "i", "that", "this"})
"""Behind 'the left' these do not go on with it, as 'the left portal' does."""


def announced_sides(case: Case) -> list[Concept]:
    """The sides announced at the head of a note, where they are all the same one."""
    found = [side for side in case.by_list["side"] if _at_head(case, side) and _announces(case, side)]
    return found if len({side.name for side in found}) == 1 else []


def _at_head(case: Case, side: Concept) -> bool:
    return side.start < TOKENS and case.sentence(side.start).number < SENTENCES


def _announces(case: Case, side: Concept) -> bool:
    words, start, end = case.words, side.start, side.end
    after = words[end : end + 1]
    first = start == case.sentence(start).start
    apart = first or words[start - 1] in {",", ":", "and"}
    if apart and not case.grammar.plain_words("side-confirmed").isdisjoint(after):
        return words[end + 1 : end + 2] in ([], ["."], [","], ["and"])  # 'time-out done, left confirmed'
    if after and after[0] in NAMED:
        of = words[end + 1 : end + 3]
        return "of" not in of and (first or words[start - 1] in OWNERS | {",", "on"})
    if start and words[start - 1] in OWNERS:
        return not after or after[0] in CLOSES
    return _alone(case, side) and not first


def _alone(case: Case, side: Concept) -> bool:
    """'ACL reconstruction, right.': a side set apart behind what is done; 'right' may be no more than a nod."""
    words, start, end = case.words, side.start, side.end
    closes = end >= len(words) or words[end] in {".", "\n"}
    named = bool(case.within("operation", case.sentence(start).start, start))
    if words[start - 1] != "," and not (closes and named):  # 'Medial meniscus repair left.'
        return False
    if not closes and words[end] not in {",", ";"}:
        return False
    ahead = case.clause(start - 1)
    if FINITE & set(words[ahead.start : start]):
        return False
    if side.name == "left":
        return named or bool(case.within("structure", ahead.start, start))
    return named
