"""Sentences that tell of sutures and from which none was read: asked about, so that no suture is lost in silence.

A color that no suture of the record has, or colors at places of which it has none, or a number of stitches of a
technique that gave no stitch. Sutures that are only handled ('the white was retrieved') are known from elsewhere.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft, FlagDraft
from extractor.facts.first_thoughts import only_wished
from extractor.facts.looks import Look
from extractor.facts.places import Places
from extractor.facts.plans import QUADRANT
from extractor.facts.stitch_counts import MOST, is_count
from extractor.facts.stitch_heads import find_heads
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.corrections import taken_back
from extractor.language.quantities import Quantity

RULE = "a suture told and not read"
NAMED = ("form", "suture-role")
CONTEXT = ("tissue", *NAMED)
READ = frozenset({"sutures", "ties", "claims"})
FEW = 4
"""Tokens of a sentence that tells of stitches no more than their number, at most."""
NEAR = 4
"""Tokens between a number of stitches and their technique, at most."""


def unread_sutures(case: Case, looks: Sequence[Look], places: Places, facts: Sequence[FactDraft]) -> list[FlagDraft]:
    """A doubt for each sentence of this operation whose sutures no fact holds."""
    starts = [k.start for k in looks]
    read = {n for d in facts if d.kind in READ for n in _sentences(case, d)}
    sutures = [d.fields for d in facts if d.kind == "sutures"]
    known = {str(f["color"]) for f in sutures if f.get("color")}
    ways = {str(f["technique"]) for f in sutures if f.get("technique")}
    flags = []
    elsewhere, old = case.grammar.plain_words("no-suture"), case.grammar.plain_words("old-suture")
    for sentence in case.note.segments.sentences:
        if not elsewhere.isdisjoint(sentence.said):
            continue
        own = looks[bisect_left(starts, sentence.start) : bisect_left(starts, sentence.end)]
        given_up = {k.color for k in own if not _performed(case, k.start)}
        own = [k for k in own if _performed(case, k.start) and case.words[k.start - 1] not in old]
        strange = [k for k in own if k.color not in known]
        if sentence.number in read:
            strange = [k for k in strange if k.color not in given_up]  # 'I wanted black, but nobody sees black here'
            strange = [k for k in strange if not only_wished(case, k.start, k.end, _next(own, k, sentence))]
            if strange and not taken_back(case.words, sentence.start, sentence.end):
                flags.append(_doubt(case, [(k.start, k.end) for k in strange]))
            continue
        colors = _strange_colors(case, sentence, known)
        if _tells_places(places, sentence, own, strange=bool(strange)) or _names_sutures(case, sentence, strange):
            flags.append(_doubt(case, [(k.start, k.end) for k in own]))
        elif colors:
            flags.append(_doubt(case, [(c.start, c.end) for c in colors]))
        elif counted := _counted(case, sentence, ways) or (None if sutures else _alone(case, sentence)):
            said = case.note.tokens.said(*counted)
            message = f"'{said}' is said of stitches, and no stitch is read from it; how many are there, and where?"
            flags.append(FlagDraft("suture-count-mismatch", message, case.spans([counted], RULE)))
    return flags


def _next(own: Sequence[Look], look: Look, sentence: Span) -> int:
    """Where the look behind one stands, or the sentence ends."""
    return next((k.start for k in own if k.start > look.start), sentence.end)


def _doubt(case: Case, pieces: list[tuple[int, int]]) -> FlagDraft:
    told = ", ".join(dict.fromkeys(case.note.tokens.said(*piece) for piece in pieces))
    message = f"'{told}' is said of sutures, and no suture is read from it; where does each lie?"
    return FlagDraft("term-uncertain", message, case.spans(pieces, RULE))


def _sentences(case: Case, draft: FactDraft) -> set[int]:
    starts = case.note.tokens.starts
    return {case.sentence(bisect_left(starts, span.start)).number for span in draft.spans}


def _performed(case: Case, at: int) -> bool:
    assertion = case.assertion(at)
    return assertion.mood == "performed" and not assertion.declines(at)


def _tells_places(places: Places, sentence: Span, own: Sequence[Look], *, strange: bool) -> bool:
    """Whether colors are told with places, two of either at least; colors known from elsewhere with surfaces."""
    regions = {c.name for c in places.within("region", sentence.start, sentence.end) if c.name in QUADRANT}
    surfaces = {c.name for c in places.within("surface", sentence.start, sentence.end)}
    if not strange and not surfaces:
        return False  # 'the white through the posterior tunnel, the blue through the anterior one'
    return len({k.color for k in own}) > 1 and len(regions) + len(surfaces) > 1


def _names_sutures(case: Case, sentence: Span, own: Sequence[Look]) -> bool:
    """Whether a color is said of a suture in so many words: 'a purple tape'."""
    if not own:
        return False
    return any(k.form for k in own) or any(case.within(name, sentence.start, sentence.end) for name in NAMED)


def _strange_colors(case: Case, sentence: Span, known: set[str]) -> list[Concept]:
    """Two colors or more that no suture has, where sutures or what they lie in are named: 'white roofward, blue'."""
    if "color" not in sentence.lists:
        return []
    found = [c for c in case.within("color", sentence.start, sentence.end) if _performed(case, c.start)]
    names = {c.name for c in found}
    if len(names) < 2 or names & known:
        return []
    before = case.note.segments.sentences[max(0, sentence.number - 1)]
    named = any(case.within(name, before.start, sentence.end) for name in CONTEXT)
    return found if named else []


def _alone(case: Case, sentence: Span) -> tuple[int, int] | None:
    """'Four stitches.', 'Four stitches in the body': stitches in a few words of their own, or beside a place.

    Where the note tells of none otherwise.
    """
    if case.within("skin-closure", sentence.start, sentence.end):
        return None
    heads = [h for h in find_heads(case, sentence) if h.noun and h.way == "counted" and (h.count or 0) > 1]
    told = [h for h in heads if _performed(case, h.start)]
    if sentence.end - sentence.start > FEW:
        told = [h for h in told if case.within("region", max(sentence.start, h.start - NEAR), h.end + NEAR)]
    return (told[0].start, told[0].end) if told else None


def _bounded(q: Quantity) -> bool:
    """'At least four', 'four or five': a number of stitches that is left open."""
    bounds = [bound for bound in (q.low, q.high) if bound is not None]
    counts = q.dimension is None and q.value is None and q.product is None and q.kind in {"count", "quantity"}
    return counts and bool(bounds) and all(1 < bound <= MOST and float(bound).is_integer() for bound in bounds)


def _counted(case: Case, sentence: Span, ways: set[str]) -> tuple[int, int] | None:
    """A number of stitches beside a technique that no stitch of the record has."""
    if "technique" not in sentence.lists:
        return None
    for way in case.within("technique", sentence.start, sentence.end):
        if way.name in ways or not _performed(case, way.start):
            continue
        for q in case.numbers(max(sentence.start, way.start - NEAR), way.end + NEAR):
            if (is_count(q) and q.value != 1 or _bounded(q)) and q.end <= sentence.end:
                return min(q.start, way.start), max(q.end, way.end)
    return None
