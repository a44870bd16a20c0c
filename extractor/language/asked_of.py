"""Whose number was asked for: 'What was the tourniquet yesterday, on the man? Ninety-eight. And today? Fifty-five.'.

A bare answer is of the case that its question is of. A short question that comes back to this case, with nothing of
its own to ask for, tells that the one before it was of another.
"""

from __future__ import annotations

from extractor.language.asserted import CONTENT, Assertion
from extractor.language.clause_words import OPEN_QUESTION
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.numbers import atom_at
from extractor.language.verbs import verbal

ASKED = "?"
CLOSES = frozenset({".", "?", "!", "\n"})
MOST_ANSWER = 8
"""Tokens of a bare answer, at most: 'About fifty-five minutes.'"""
MOST_BACK = 6
"""Tokens of a question that only comes back to this case, at most: 'And on this one?'"""
MOST_ALONE = 3
"""... and of one that says nothing else: 'This one?'"""
HERE = frozenset({"now", "this-case"})
ON_THEM = (
    ["she"],
    ["he"],
    ["on", "her"],
    ["on", "him"],
    ["for", "her"],
    ["for", "him"],
    ["with", "her"],
    ["with", "him"],
)
JOINS = frozenset({"and", "but", "so"})
ASKED_FOR = CONTENT | {"dimension"}

Unit = list[Span]


def asked_of_another(
    segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> None:
    """Give questions and answers of another case the mood of another time."""
    if ASKED not in words and OPEN_QUESTION.isdisjoint(words):
        return
    units = _units(segments, words)
    for n, (asked, answer) in enumerate(zip(units, units[1:], strict=False)):
        if not _asks(asked, words) or not _is_bare_answer(answer, words):
            continue
        past = next((found[c.number] for c in asked if found[c.number].mood == "history"), None)
        cue = past.cue if past else None
        if past is None and n + 2 < len(units) and _comes_back(units[n + 2], inside, words):
            past, cue = found[asked[0].number], units[n + 2][0].start
            _set(asked, found, cue)
        if past is not None and not _says_here(answer, inside):
            _set(answer, found, cue)


def _units(segments: Segmentation, words: list[str]) -> list[Unit]:
    """Clauses by what closes with a sign, though a question and its answer were read as one sentence."""
    units: list[Unit] = [[]]
    for clause in segments.clauses:
        answers = units[-1] and words[clause.start - 1] == "," and atom_at(words, clause.start) is not None
        if answers and (words[units[-1][0].start] in OPEN_QUESTION or words[units[-1][0].start] in JOINS):
            units.append([])
        units[-1].append(clause)
        if words[clause.end - 1] in CLOSES:
            units.append([])
    return [unit for unit in units if unit]


def _asks(unit: Unit, words: list[str]) -> bool:
    """'What was the rim?', 'how wide was it, | nine': a question, whose sign may be read as a pause."""
    return words[unit[-1].end - 1] == ASKED or (
        words[unit[-1].end - 1] == "," and (words[unit[0].start] in OPEN_QUESTION or words[unit[0].start] in JOINS)
    )


def _is_bare_answer(unit: Unit, words: list[str]) -> bool:
    """'Ninety-eight minutes.', 'A graft of twenty-eight.': a number, and no verb."""
    start, end = unit[0].start, unit[-1].end
    short = end - start <= MOST_ANSWER and words[end - 1] != ASKED
    return short and not any(verbal(words, c) for c in unit) and any(atom_at(words, i) for i in range(start, end))


def _comes_back(unit: Unit, inside: list[list[Concept]], words: list[str]) -> bool:
    """'And today?', 'And on this one?', 'And on her?': asks for no thing or size of its own."""
    start, end = unit[0].start, unit[-1].end
    alone = end - start <= MOST_ALONE and _says_here(unit, inside)  # 'Today?'
    if not _asks(unit, words) and not alone or end - start > MOST_BACK or not (words[start] in JOINS or alone):
        return False
    if any(c.list in ASKED_FOR and c.list not in HERE for clause in unit for c in inside[clause.number]):
        return False
    return _says_here(unit, inside) or words[start + 1 : end - 1] in ON_THEM


def _says_here(unit: Unit, inside: list[list[Concept]]) -> bool:
    return any(c.list in HERE for clause in unit for c in inside[clause.number])


def _set(unit: Unit, found: list[Assertion], cue: int | None) -> None:
    for clause in unit:
        held = found[clause.number]
        if held.mood in {"performed", "planned"}:
            found[clause.number] = Assertion("history", held.negated, held.ahead, cue)
