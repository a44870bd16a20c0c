"""Which of two sides said is told of with work of this operation.

A knee is named in a hundred ways that are no work on it ('The right leg hangs free', 'an old scar over the right knee',
'his right knee is next'), and no list has them all. The work is told in few words: it is announced, confirmed, prepped,
opened, treated, closed and dressed. So where both sides are said, one that nothing of the kind is told of is no second
operated side.
"""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.language.concepts import Concept

Mention = tuple[Concept, Concept, int, int]
"""A side, what it is said of, and the tokens that both stand in."""
PARTS = frozenset({"structure", "operation"})
"""A side said of one of these is the operated one: 'left medial meniscus'."""
WORK = ("operation", "now", "heading", "portal-site")
"""Lists whose words in a sentence tell of this operation."""
BARE = 4
"""Tokens of a sentence that is no more than a side and its knee, at most: 'So, right knee.'."""
POINTS = frozenset({"this", "that", "it", "here", "we", "operating"})
IS = frozenset({"is", "was", "'s", "are", "on", "doing", "do", "did"})
ARTICLES = frozenset({"a", "an", "the", "his", "her", "their"})
TOLD = frozenset({"i", "we", "was", "were"})
"""Words by which a clause tells of a deed, and not of how a leg lies: 'The right leg hangs free'."""


def worked_on(case: Case, found: list[Mention]) -> list[Mention]:
    """The mentions of the sides that work is told of, where it is told of any and two sides are said."""
    if len({side.name for side, _, _, _ in found}) < 2:
        return found
    sides = {mention[0].name for mention in found if _worked(case, mention) and not _but(case, mention, found)}
    return [m for m in found if m[0].name in sides] if sides else found


def _worked(case: Case, mention: Mention) -> bool:
    side, joint, start, end = mention
    sentence = case.sentence(start)
    if sentence.number == 0 or joint.list in PARTS or joint is side or sentence.end - sentence.start <= BARE:
        return True
    said = case.words[sentence.start : sentence.end]
    clause = case.clause(start)
    if case.assertion(start).mood == "planned" and case.within("operation", clause.start, clause.end):
        return False  # 'the right knee will get a meniscus repair in spring'
    if not case.grammar.plain_words("worked-on").isdisjoint(said):
        return True
    if case.said(case.grammar.concepts_in("work-confirmed"), sentence) or _acted_on(case, start):
        return True
    return _identified(case, sentence.start, start) or any(case.within(n, sentence.start, sentence.end) for n in WORK)


def _acted_on(case: Case, at: int) -> bool:
    """'The tunnel in the left tibia was reamed', 'I bend and extend the left knee': a deed in the words themselves."""
    clause = case.clause(at)
    found = case.within("structure", clause.start, clause.end) and case.within("finding", clause.start, clause.end)
    if found and case.note.assertions[clause.number].done:
        return True  # 'the left knee shows a radial split of the lateral meniscus'
    told = not TOLD.isdisjoint(clause.said)
    return told and case.note.assertions[clause.number].done and bool(case.within("action", clause.start, clause.end))


def _but(case: Case, mention: Mention, found: list[Mention]) -> bool:
    """'It was booked as a right knee, but it is the left': of two sides the one behind the 'but' holds."""
    sentence = case.sentence(mention[2])
    for side, _, start, _ in found:
        if side.name != mention[0].name and mention[3] < start < sentence.end:
            clause = case.clause(start)
            opens = case.words[clause.start] == "but" and clause.start >= mention[3]
            if opens and _identified(case, clause.start, start):
                return True
    return False


def _identified(case: Case, opens: int, start: int) -> bool:
    """'So this is the left knee', 'we are on the left knee'."""
    at = start - 1
    if at >= opens and case.words[at] == "this":
        return True  # 'so this left knee has a bucket handle'
    while at > opens and case.words[at] in ARTICLES:
        at -= 1
    return at > opens and case.words[at] in IS and not POINTS.isdisjoint(case.words[max(opens, at - 2) : at])
