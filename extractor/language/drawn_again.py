"""'I marked it at eighteen, rubbed that off, and marked it at nineteen': what was wiped away before it was done anew.

The same deed is told twice, each time with its number, and between them that the first was taken off again.
"""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.clause_words import DETERMINERS
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.numbers import atom_at

AWAY = frozenset({"off", "away", "erased", "undone"})
"""Words by which a mark is no more there; 'off the bone' tells where something came from."""
DEEDS = frozenset({"action", "verb", "technique", "tie"})
AGAIN = frozenset({"again", "anew", "afresh", "new", "another"})
"""With one of these the second is told to stand for the first, by whatever verb."""
FAR = 4
"""Clauses between the two tellings, at most."""
MOOD = "withdrawn"


def drawn_again(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """Withdraw what was taken away before the same was done again with another number."""
    for away in segments.clauses[1:]:
        at = next((i for i in range(away.start, away.end) if words[i] in AWAY), None)
        if at is None or _has_number(away, words) or words[at + 1 : at + 2] and words[at + 1] in DETERMINERS:
            continue
        first = next((c for c in reversed(_near(segments, away, -1)) if _has_number(c, words)), None)
        again = next((c for c in _near(segments, away, 1) if _has_number(c, words)), None)
        if first is None or again is None or found[first.number].mood != "performed":
            continue
        anew = not _deeds(first, inside) and not AGAIN.isdisjoint(again.said)
        if anew or _deeds(first, inside) & _deeds(again, inside):
            for told in segments.clauses[first.number : again.number]:
                held = found[told.number]
                found[told.number] = Assertion(MOOD, held.negated, held.ahead, away.start)


def _near(segments: Segmentation, clause: Span, step: int) -> tuple[Span, ...]:
    """The clauses behind or before one in its sentence, or in one beside it."""
    sentence = segments.sentence_at(clause.start).number
    low, high = (clause.number + 1, clause.number + 1 + FAR) if step > 0 else (clause.number - FAR, clause.number)
    near = segments.clauses[max(0, low) : high]
    return tuple(c for c in near if abs(segments.sentence_at(c.start).number - sentence) <= 1)


def _deeds(clause: Span, inside: list[list[Concept]]) -> set[str]:
    return {c.key for c in inside[clause.number] if c.list in DEEDS}


def _has_number(clause: Span, words: list[str]) -> bool:
    return any(words[i] != "one" and atom_at(words, i) for i in range(clause.start, clause.end))
