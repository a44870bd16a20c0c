"""How a sentence that tells of stitches is shared out among its techniques, and a share among its heads."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from extractor.facts.case import Case
from extractor.facts.stitch_counts import Head
from extractor.facts.stitch_heads import names_means
from extractor.facts.stitch_words import graft_in_hand, size_of, traction_word
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.corrections import taken_back

REACH = 24
"""Tokens either side of a technique that may tell of it, where its sentence is longer."""
SIZED_WITHIN = 3
"""Tokens from a suture's size to its color, at most."""
ADDING = frozenset({"and", "plus"})
JOINING = ADDING | {"another", "a", "the", "further", "then"}
LEADING = frozenset({"and", "then", "for", "in", "at", "on", "the", "but", "over", "so", "to"})
SPEAKERS = frozenset({"i", "we"})
TELLS_OF_STITCHES = frozenset({"configuration", "suture-role", "form", "color"})
"""Without one of these no stitches are told but by a technique; a word of traction asks for a form."""


@dataclass(frozen=True)
class Zone:
    """The share `[start, end)` of a sentence that tells of one technique (or of one way of stitching)."""

    trigger: Concept | None
    start: int
    end: int
    heads: tuple[Head, ...]


def zones_of(case: Case, sentence: Span, heads: Sequence[Head], quadrants: bool) -> list[Zone]:
    """One share for each technique said, or one for the sentence where only a way of stitching is."""
    said = case.within("technique", sentence.start, sentence.end) if "technique" in sentence.lists else []
    said = [c for c in said if not names_means(case, c, heads)]
    triggers = [c for i, c in enumerate(said) if i + 1 == len(said) or c.end <= said[i + 1].start]  # 'all | inside out'
    put_right = {a for a, b in zip(triggers, triggers[1:], strict=False) if taken_back(case.words, a.end, b.start)}
    triggers = [c for c in triggers if c not in put_right]
    if not triggers and not quadrants:
        triggers = by_its_tools(case, sentence)
    if not triggers:
        other = None if quadrants else _other_trigger(case, sentence)
        if other is None:
            return []
        return [_zone(case, other, sentence.start, sentence.end, heads)]
    if not quadrants and not any(holds(case, c.start) for c in triggers):
        # 'Two tapes as a cinch, ..., didn't need any all-inside stitches': those told ahead of what was not done
        ahead = case.part(sentence.start, sentence, case.clause(triggers[0].start).start)
        other = _other_trigger(case, ahead) if ahead.end > ahead.start else None
        if other is not None:
            return [_zone(case, other, ahead.start, ahead.end, heads)]
    level = case.note.segments.level
    cuts = [sentence.start]
    trailing = _trail(triggers, heads)
    for left, right in zip(triggers, triggers[1:], strict=False):
        if trailing:
            opens = next(h.start for h in heads if left.end <= h.start < right.start)
            cuts.append(_place_ahead(case, left.end, parting(case, left.end, opens)))
            continue
        leads = [h.begins for h in heads if left.end <= h.start and h.end <= right.start <= h.end + 5]
        near = [s for s in leads if not any(level[i] >= 2 for i in range(s + 1, right.start + 1))]
        cut = parting(case, left.end, near[-1] if near else right.start)
        cuts.append(_place_ahead(case, left.end, cut))
    cuts.append(sentence.end)
    return [
        _zone(case, trigger, start, end, heads) for trigger, start, end in zip(triggers, cuts, cuts[1:], strict=False)
    ]


def by_its_tools(case: Case, sentence: Span) -> list[Concept]:
    """'Four sutures through a zone-specific cannula': the technique by its tool, where none is told."""
    if "technique-tool" not in sentence.lists or "technique" in sentence.lists:
        return []
    tools = case.within("technique-tool", sentence.start, sentence.end)
    if len({c.name for c in tools}) != 1:
        return []
    return [Concept("technique", c.name.removeprefix("by-"), c.start, c.end) for c in tools[:1]]


def _sewn_before(case: Case, start: int, at: int) -> int:
    """'The graft ends were whipstitched, | then four sutures went in': where what is told of a tendon ends."""
    ends = [case.clause(c.start).end for c in case.within("skin-closure", start, at) if c.name == "tendon"]
    return max((end for end in ends if end <= at), default=start)


def _trail(triggers: Sequence[Concept], heads: Sequence[Head]) -> bool:
    """'One is in front, outside-in, and two are in the body, inside-out': each technique closes what it is of."""
    floor = 0
    for trigger in triggers:
        own = sum(floor <= h.start and h.end <= trigger.start for h in heads)
        if own != 1 and not (own and trigger is triggers[0]):  # ahead of the first may stand the number of all
            return False
        floor = trigger.end
    return all(h.start < floor for h in heads)


def _place_ahead(case: Case, floor: int, cut: int) -> int:
    """'... | and in the body | I switched to inside-out': a place alone leads in what is told behind it."""
    level = case.note.segments.level
    opens = next((i for i in range(cut - 1, floor, -1) if level[i] >= 1), floor)
    regions = case.within("region", opens, cut)
    plain = [w for w in case.words[opens:cut] if w not in LEADING]
    placed = len(regions) == 1 and regions[0].end == cut and len(plain) == regions[0].end - regions[0].start
    return opens if placed and opens > floor and case.words[cut] in SPEAKERS else cut


def _zone(case: Case, trigger: Concept, start: int, end: int, heads: Sequence[Head]) -> Zone:
    """A share cut down to what is near its trigger, each head within carrying on as far again."""
    first, reach = trigger.start - REACH, trigger.end + REACH
    for head in reversed(heads):
        if first <= head.end <= trigger.start:
            first = min(first, head.start - REACH)
    start = max(start, first)
    if trigger.list == "technique":
        start = _sewn_before(case, start, min([trigger.start, *(h.start for h in heads if h.start >= start)]))
    for head in heads:
        if trigger.end <= head.start < reach:
            reach = max(reach, head.end + REACH)
    end = min(end, reach)
    return Zone(trigger, start, end, tuple(h for h in heads if start <= h.start < end))


def _other_trigger(case: Case, sentence: Span) -> Concept | None:
    """What else shows that stitches are told: a configuration, a role, a colored suture through a root."""
    if TELLS_OF_STITCHES.isdisjoint(sentence.lists):
        return None
    ways = [c for c in case.within("configuration", sentence.start, sentence.end) if not _tied_so(case, c)]
    roles = [c for c in case.within("suture-role", sentence.start, sentence.end) if c.name != "shuttle"]
    if not roles and (word := traction_word(case, sentence.start, sentence.end)):
        roles = [word]
    regions = case.within("region", sentence.start, sentence.end)
    roots = [c for c in regions if c.name.endswith("_root")]
    roots += [c for c in case.within("tissue", sentence.start, sentence.end) if c.name == "root"]
    horns = [c for c in regions if c.name.endswith("_horn")]
    sewn_on = roots or (horns and graft_in_hand(case, horns[0].start))
    colors = case.within("color", sentence.start, sentence.end) if sewn_on else []
    if colors and not case.within("form", sentence.start, sentence.end) and not _threads(case, sentence, colors):
        colors = []
    return next(iter([*ways, *roles, *colors]), None)


def _tied_so(case: Case, way: Concept) -> bool:
    """'The sutures were tied vertically': how knots run, and no way of stitching."""
    adverb = case.words[way.end - 1].endswith("ly")
    return adverb and any(c.end >= way.start - 1 for c in case.within("tie", max(0, way.start - 3), way.start))


def _threads(case: Case, sentence: Span, colors: Sequence[Concept]) -> bool:
    """'Number two white in the posterior horn': colors, each with a size of suture before it."""
    sized = [c for c in colors if size_of(case, c.start, max(sentence.start, c.start - SIZED_WITHIN), c.start)]
    return len(sized) == len(colors)


def holds(case: Case, at: int) -> bool:
    """Whether what stands at a token is told as done in this case."""
    assertion = case.assertion(at)
    return assertion.mood == "performed" and not assertion.declines(at)


def parting(case: Case, left: int, right: int) -> int:
    """Where the words between two parts of a sentence part: right before the second, else the last pause or connector.

    'Four, vertical mattress, on the superior surface | and two below': what is joined on by an 'and' begins there.
    """
    level = case.note.segments.level
    joined = right
    while joined - 1 > left and case.words[joined - 1] in JOINING:
        joined -= 1
    if joined < right and case.words[joined] in ADDING:
        return joined
    breaks = [i for i in range(left, right + 1) if level[i] >= 1]
    pauses = [i for i in breaks if level[i] >= 2]
    joins = [] if breaks else [i for i in range(left, right) if case.words[i] in ADDING]
    return (pauses or breaks or joins or [right])[-1]
