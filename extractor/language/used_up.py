"""A color, device or suture of which there was none left: 'green is finished, | sister gives me yellow'.

What was used up is not what was used; what is named behind it is. The words stand in the list `used-up`.
"""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept

MATERIAL = frozenset({"color", "device", "form"})
"""Lists of what may be used up."""
PLACES = frozenset({"region", "surface", "tie"})
WITHIN = 3
"""Tokens between what is used up and the words that say so, at most."""
LEADING = "lacking"
"""The name in the list of what stands before: 'out of green'."""
ENDED = "ended"
"""... and of what may also say that the work with it is done: 'blue is finished, next the white'."""
BEHIND = 2
"""Clauses behind in which what came in its place is named, at most."""


def used_up(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion]) -> None:
    """Deny what was used up, and only what stands from there on in its clause."""
    for clause in segments.clauses:
        if "used-up" not in clause.lists:
            continue
        cue = next((c for c in inside[clause.number] if c.list == "used-up"), None)
        held = found[clause.number]
        if cue is None or held.negated or held.ahead is not None:
            continue
        named = [c for c in inside[clause.number] if c.list in MATERIAL and _beside(c, cue)]
        if not named or (cue.name == ENDED and not _replaced(clause, named[0], segments, inside)):
            continue
        found[clause.number] = Assertion(held.mood, False, min(cue.start, named[0].start) - 1, held.cue)


def _beside(named: Concept, cue: Concept) -> bool:
    if cue.name == LEADING:
        return 0 <= named.start - cue.end <= WITHIN
    return 0 <= cue.start - named.end <= WITHIN


def _replaced(clause: Span, named: Concept, segments: Segmentation, inside: list[list[Concept]]) -> bool:
    """Whether another of its kind is named behind in the sentence, at no place of its own, or right before."""
    sentence = segments.sentence_at(clause.start)
    for other in segments.clauses[max(0, clause.number - 1) : clause.number + 1 + BEHIND]:
        apart = other == clause or not sentence.start <= other.start < sentence.end
        own = inside[other.number]
        kinds = [c for c in own if c.list == named.list and c.name != named.name]
        placed = any(c.list in PLACES for c in own)
        if not apart and kinds and (other.number < clause.number or not placed):
            return True
    return False
