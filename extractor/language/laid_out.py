"""What was laid out and went back: 'a screw was ready in case the bone was soft. It was not, so the screw went back'.

Also a deed that goes on with one that only might have been: 'a gap would mean opening the back and going inside out'.
"""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.clause_words import FINITE
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept

READY = frozenset({"at-hand", "made-ready", "readied-for"})
BROUGHT = frozenset({"device", "tool", "technique", "form", "stitch-noun", "graft-source"})
BEHIND = 6
"""Clauses behind the one that tells what lay ready in which it may go back, at most."""
NEAR = 2
"""Sentences behind it in which it may, at most."""
POINTING = frozenset({"it", "they", "them", "that", "these", "those"})
UNREAL = frozenset({"conditional", "considered", "planned", "habit"})
NO_DEED = frozenset({"something", "nothing", "anything", "everything", "during", "morning", "evening", "string"})


def went_back(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """Nothing was done with what lay ready and is told to have gone back."""
    for clause in segments.clauses:
        if READY.isdisjoint(clause.lists) or not _ready(inside[clause.number]):
            continue
        if found[clause.number].mood not in {"performed", "conditional"}:
            continue
        named = _names(clause, segments, inside)
        things = {c.key for k in named for c in inside[k.number] if c.list in BROUGHT}
        answer = _answer(clause, segments, inside, words, things) if things else None
        for told in (*named, answer) if answer is not None else ():
            held = found[told.number]
            if held.mood in {"performed", "conditional"}:
                found[told.number] = Assertion("considered", held.negated, held.ahead, clause.start)


def _ready(own: list[Concept]) -> list[Concept]:
    """Words of what lies ready; the 'out' of 'inside-out' is none."""
    within = {i for c in own if c.list in BROUGHT for i in range(c.start, c.end)}
    return [c for c in own if c.list in READY and c.start not in within]


def _names(clause: Span, segments: Segmentation, inside: list[list[Concept]]) -> list[Span]:
    """The clause that tells what lay ready, and the one before it that names this: 'a screw, 8 by 25, | was ready'."""
    if not BROUGHT.isdisjoint(clause.lists) or not clause.number:
        return [clause]
    before = segments.clauses[clause.number - 1]
    return [before, clause] if before.start >= segments.sentence_at(clause.start).start else [clause]


def _answer(
    clause: Span, segments: Segmentation, inside: list[list[Concept]], words: list[str], things: set[str]
) -> Span | None:
    """The clause that tells that it went back, where it was not put to use before."""
    first = segments.sentence_at(clause.start).number
    ready = min(c.start for c in _ready(inside[clause.number]))
    if any(_is_back(c, words) and c.start > ready for c in inside[clause.number]):
        return clause
    for after in segments.clauses[clause.number + 1 : clause.number + 1 + BEHIND]:
        if segments.sentence_at(after.start).number - first > NEAR:
            return None
        own = inside[after.number]
        if any(_is_back(c, words) for c in own):
            same = things & {c.key for c in own} or not POINTING.isdisjoint(after.said)
            bare = words[after.start] in {"and", "but", "then"} and not any(c.list in BROUGHT for c in own)
            return after if same or bare else None
        if any(c.list == "put-to-use" for c in own):
            return None
    return None


def goes_on_unreal(segments: Segmentation, found: list[Assertion], words: list[str]) -> None:
    """'A gap would mean opening the back | and going inside out': the second is no more done than the first."""
    for before, clause in zip(segments.clauses, segments.clauses[1:], strict=False):
        said = words[clause.start : clause.end]
        if said[:1] not in (["and"], ["or"]) or len(said) < 2 or not said[1].endswith("ing") or said[1] in NO_DEED:
            continue
        held = found[before.number]
        led = any(w.endswith("ing") and w not in NO_DEED for w in words[before.start : before.end])
        same = segments.sentence_at(before.start) == segments.sentence_at(clause.start)
        if (
            same
            and led
            and held.mood in UNREAL
            and found[clause.number].mood == "performed"
            and FINITE.isdisjoint(said)
        ):
            found[clause.number] = held


def _is_back(c: Concept, words: list[str]) -> bool:
    return c.list == "laid-back" and words[c.end : c.end + 2] != ["and", "forth"]
