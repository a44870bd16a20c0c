"""Grades of cartilage: the system, and the grade as it stands in the clause."""

from __future__ import annotations

import re

from extractor.facts.case import Case
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.quantity_words import quantity_words

SCALE = frozenset({"on", "the", "by", "of", "in", "to", "according", "after", "degree", "grade"})
MOST_BETWEEN = 4
"""Words between a grade and its scale, at most: 'three on the Outerbridge scale'."""
SPANNING = frozenset({"to", "-"})
BETWEEN = SPANNING | {",", "or"}
ROMAN = {"i": 1, "ii": 2, "iii": 3, "iv": 4}
SUBGRADE = re.compile(r"([1-4]|i{1,3}|iv)([a-d])$")
"""The international scale parts its grades by letters: '3b'."""
DEGREE, SPEAKER, WORN = "degree", "i", "chondral-lesion"
ORDINAL = {"first": "1", "second": "2", "third": "3", "fourth": "4"}


def grade_of(case: Case, clause: Span, trigger: Concept) -> dict[str, object] | None:
    """The grade said in the clause; a grade over a range has none."""
    system = case.nearest("grade-system", trigger.start, clause.start, clause.end)
    word = case.nearest("grade-word", trigger.start, clause.start, clause.end)
    system = system or _scale_behind(case, clause)
    if not (system or word):
        value = _ordinal(case, clause, trigger, None) if trigger.name == WORN else None
        return {"system": None, "value": value} if value else None
    before = _grade_before(case, system) if system and not word else None
    before = before or _ordinal(case, clause, system, word)
    if before is not None:
        return {"system": system.name if system else None, "value": before}
    if word and word.end - word.start > 1:
        told = _grade_value(case, word.end - 1) or ORDINAL.get(case.words[word.start])  # 'degree two', 'second degree'
        return {"system": system.name if system else None, "value": told}
    for start in dict.fromkeys(c.end for c in (word, system) if c):
        value = _behind(case, clause, system, start)
        if value is not None:
            return {"system": system.name if system else None, "value": value} if value else None
    return None


def _behind(case: Case, clause: Span, system: Concept | None, start: int) -> str | None:
    """The grade within three words behind its noun or its scale, hedges passed over; '' for a grade over a range."""
    at, end = start, min(start + 3, clause.end + 2)
    while at < min(end, len(case.words)):
        if system and system.start <= at < system.end:
            at += 1  # the 'I' of 'I C R S'
            continue
        aside = _aside(case, at)
        if aside:
            at, end = aside, end + aside - at  # 'Outerbridge, I would say two': an 'I' who speaks
            continue
        value = _grade_value(case, at)
        if value is not None:
            after = case.words[at + 1 : at + 2]
            other = _grade_value(case, at + 2) if after and after[0] in BETWEEN else None
            if other is not None and case.words[at + 3 : at + 4] == ["?"]:
                return _settled(case, at + 4, {value, other}) or ""
            return "" if other is not None and after[0] in SPANNING else value
        at += 1
    return None


def _aside(case: Case, at: int) -> int:
    """The token behind what the speaker says of himself, 'I think', 'I would say', which opens at a token; else 0."""
    lexicon = quantity_words()
    if case.words[at] != SPEAKER:
        return 0
    ends = [found[1] for table in (lexicon.filler, lexicon.before) if (found := table.at(case.words, at))]
    return max(ends, default=0)


def _grade_before(case: Case, system: Concept) -> str | None:
    """'Three on the Outerbridge scale'."""
    at = system.start - 1
    while at >= 0 and system.start - at <= MOST_BETWEEN and case.words[at] in SCALE:
        at -= 1
    if at >= system.start - 1 or at < 0:
        return None
    return _grade_value(case, at) or ORDINAL.get(case.words[at])  # 'damage of third degree after Outerbridge'


def _scale_behind(case: Case, clause: Span) -> Concept | None:
    """The scale named right behind a clause: 'cartilage degree two | after Outerbridge'."""
    found = case.within("grade-system", clause.end, min(clause.end + MOST_BETWEEN, case.sentence(clause.start).end))
    return found[0] if found and SCALE.issuperset(case.words[clause.end : found[0].start]) else None


def _ordinal(case: Case, clause: Span, scale: Concept | None, word: Concept | None) -> str | None:
    """'A lesion of fourth grade according to ICRS', 'third degree on the patella, after Outerbridge'.

    Not 'the second grade two lesion', which has its number behind it; and a degree needs a scale, or worn cartilage,
    beside it.
    """
    nouns = [word.start] if word else []
    if scale and not word:
        nouns = [i for i in range(clause.start + 1, clause.end) if case.words[i] == DEGREE]
    for at in nouns:
        value = ORDINAL.get(case.words[at - 1]) if at else None
        if value and _grade_value(case, at + 1) is None:
            return value
    return None


def _grade_value(case: Case, at: int) -> str | None:
    if at >= len(case.words):
        return None
    word = case.words[at]
    if word in ROMAN:
        return str(ROMAN[word])
    if sub := SUBGRADE.match(word):
        return f"{ROMAN.get(sub[1], sub[1])}{sub[2]}"
    q = case.number_over(at) or next(iter(case.numbers(at, at + 1)), None)  # 'two or three? Call it three'
    if q is None or q.dimension is not None or q.value is None:
        return None
    return str(int(q.value)) if float(q.value).is_integer() and 0 <= q.value <= 4 else None


def _settled(case: Case, at: int, asked: set[str]) -> str | None:
    """'Outerbridge one, two? I would go with two.': of two grades asked about, the one the next sentence says."""
    if at >= len(case.words):
        return None
    end = case.sentence(at).end
    spoken = (i for i in range(at, end) if case.words[i] != "i")  # who speaks, and no numeral
    said = {value for i in spoken if (value := _grade_value(case, i)) in asked}
    return said.pop() if len(said) == 1 else None
