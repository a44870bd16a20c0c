"""Positions of sutures: 'posterior superior', 'back on top', 'same stump, underside'.

A position is a region and a surface. Most are said together; else a surface takes the region said last ('the
posterior pair, white superiorly and green inferiorly'; 'beneath that, blue'), or regions the surface that heads
their sentence ('on top, white at the back and green in front').
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import pairwise

from extractor.facts.case import Case
from extractor.facts.looks import Look
from extractor.facts.places import BOTH, Places
from extractor.facts.plans import (
    OPPOSITE,
    QUADRANT,
    Position,
    as_before,
    by_first,
    by_head,
    by_one_of_two,
    by_order,
    by_threes,
)
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

FILLERS = frozenset({"in", "the", "on", "at", "and", "one", "ones", "of", "its", "toward", "-", "is", "it", "'s"})
"""Plain words between a region and its surface, beside those of `place-filler`."""
WIDE = 4
"""Words that may stand between a region and its surface."""
REACH = 24
"""Words after a region at which a surface may still be its."""
OTHER = frozenset({"other", "opposite", "far"})
POINTING = frozenset({"same", "there", "that", "this", "it", "its", "also", "again", "here", "them", "these"})
LEFT, ALONE = frozenset({"left", "leave", "leaving"}), frozenset({"alone", "empty", "bare", "free", "be"})
TO_EACH_OTHER = frozenset({"to", "onto", "with"})
TURNS = frozenset({"i", "we", "to", "from", "with", "so", "then", "let", "us", "'s", "up", "there"})
SHORT = 8
"""A sentence of no more words goes on with the place of the one before."""


def find_positions(case: Case, looks: Sequence[Look], places: Places) -> list[Position]:
    """All quadrants said, in order."""
    starts = [k.start for k in looks]
    found: list[Position] = []
    last: Concept | None = None
    told = -2
    lately: list[Position] = []
    heading: Concept | None = None
    for sentence in case.note.segments.sentences:
        surfaces = _surfaces(case, sentence, places)
        regions = _regions(case, sentence, last, places)
        own_looks = looks[bisect_left(starts, sentence.start) : bisect_left(starts, sentence.end)]
        listed = _listed(case, sentence, own_looks, regions, surfaces, lately if told >= sentence.number - 2 else [])
        near = told == sentence.number - 1 and len(surfaces) == len(own_looks)
        before = last if near or (told >= sentence.number - 2 and _goes_on(case, sentence)) else None
        own, ends = _paired(case, regions, surfaces, len(own_looks), before) if not listed else (listed, _end(listed))
        own = own or _put_right(case, own_looks, regions, surfaces, found)
        own = own or _under(heading, own_looks, regions, surfaces)
        heading = _heading(case, sentence, heading, own_looks, regions, surfaces)
        found += own
        if own:
            last, told, lately = ends or _end(own), sentence.number, own
        elif regions and (own_looks or _turns_to(case, sentence, regions)):
            last, told = regions[-1], sentence.number
    return sorted(found, key=lambda p: p.start)


def _heading(
    case: Case,
    sentence: Span,
    before: Concept | None,
    looks: Sequence[Look],
    regions: list[Concept],
    surfaces: list[Concept],
) -> Concept | None:
    """The surface that heads what follows: 'Superior surface.', 'Inferior surface: posterior blue'."""
    if not surfaces:
        return before if looks and regions else None
    (first, *more) = surfaces
    if more or (regions and regions[0].start < first.start):
        return None
    fillers = case.grammar.plain_words("place-filler") | {"first"}
    colon = next((i for i in range(first.end, sentence.end) if case.words[i] not in fillers), sentence.end)
    headed = case.words[colon : colon + 1] == [":"]
    return first if headed or (not looks and not regions and sentence.end - sentence.start <= SHORT) else None


def _under(
    heading: Concept | None, looks: Sequence[Look], regions: list[Concept], surfaces: list[Concept]
) -> list[Position]:
    """'Superior surface. Posterior white, anterior green.': ends told under the surface that heads them."""
    if heading is None or surfaces or len(regions) != len(looks) or len({r.name for r in regions}) < len(regions):
        return []
    return [Position(r.name, heading.name, r.start, r.end) for r in regions]


def _put_right(
    case: Case, looks: Sequence[Look], regions: list[Concept], surfaces: list[Concept], before: Sequence[Position]
) -> list[Position]:
    """'... anterior, superior leaf. No, sorry, inferior leaf.': a correction names the half of a place it changes."""
    said = [*regions, *surfaces]
    if looks or not before or len({c.name for c in said}) != 1 or not case.correction(said[0].start):
        return []
    last = before[-1]
    place = (last.region, said[0].name) if surfaces else (said[0].name, last.surface)
    return [Position(*place, said[0].start, said[0].end)]


def _end(listed: Sequence[Position]) -> Concept:
    return Concept("region", listed[-1].region, listed[-1].start, listed[-1].end)


def _listed(
    case: Case,
    sentence: Span,
    looks: Sequence[Look],
    regions: list[Concept],
    surfaces: list[Concept],
    lately: Sequence[Position],
) -> list[Position]:
    """Quadrants of a sentence whose list follows a plan: one word heads several looks, or an order is said."""
    if len(looks) > 1:
        if any(_tied_across(case.words[a.end : b.start]) for a, b in pairwise(looks)):
            return []
        told = by_threes(looks, regions, surfaces) or by_one_of_two(looks, regions, surfaces)
        told = told or by_first(case, looks, regions, surfaces)
        told = told or by_head(case, looks, regions, surfaces, lately)
        return told or by_order(case, sentence, looks, regions, surfaces)
    return as_before(case, sentence, regions, lately) if not looks and not surfaces else []


def _tied_across(between: Sequence[str]) -> bool:
    """'White to blue': two looks that go to each other, and are no list of what is at a place."""
    return not TO_EACH_OTHER.isdisjoint(between) and TO_EACH_OTHER.issuperset(w for w in between if w != "the")


def _goes_on(case: Case, sentence: Span) -> bool:
    words = case.words[sentence.start : sentence.end]
    return sum(w.isalpha() for w in words) <= SHORT or not POINTING.isdisjoint(words)


def _turns_to(case: Case, sentence: Span, regions: Sequence[Concept]) -> bool:
    """'Now the native meniscus behind the gap.': one end is named, of a tissue that takes sutures."""
    lists = ("tissue", "suture-tissue", "form")
    if len({c.name for c in regions}) > 1:
        return False
    return any(case.within(n, sentence.start, sentence.end) for n in lists) or _only_turns(case, sentence, regions)


def _only_turns(case: Case, sentence: Span, regions: Sequence[Concept]) -> bool:
    """'Posterior end.', 'I started in the back.': a few words, and an end of the meniscus is all that they name."""
    named = {i for c in regions for i in range(c.start, c.end)}
    words = [case.words[i] for i in range(sentence.start, sentence.end) if i not in named and case.words[i].isalpha()]
    small = FILLERS | TURNS | case.grammar.plain_words("place-filler") | case.grammar.plain_words("turning")
    return len(words) <= SHORT and small.issuperset(words)


def _surfaces(case: Case, sentence: Span, places: Places) -> list[Concept]:
    """Surfaces said, one said twice in a row once, and none that a suture only came from or that got none.

    'A white stitch from above and a blue one from below' says of each where it lies.
    """
    kept: list[Concept] = []
    said = places.within("surface", sentence.start, sentence.end)
    empty = {c.start for c in said if len(said) > 1 and _got_none(case, c)}
    both_ways = len({c.name for c in said}) > 1 and all(_comes_with_a_look(case, c) for c in said)
    for c in said:
        if (case.words[c.start - 1] == "from" and not both_ways) or _in_order(case, c) or c.start in empty:
            continue
        if kept and kept[-1].name == c.name and c.start - kept[-1].end <= WIDE and not _colored(case, kept[-1], c):
            kept[-1] = kept[-1] if _at_its_end(case, kept[-1]) and not _at_its_end(case, c) else c
        else:
            kept.append(c)
    return kept


def _at_its_end(case: Case, c: Concept) -> bool:
    """'The anterior inferior one, on the tibial side': a surface right beside the end that it is of."""
    return any(r.end == c.start or r.start == c.end for r in case.within("region", c.start - 1, c.end + 1))


def _comes_with_a_look(case: Case, c: Concept) -> bool:
    """'A white stitch from above', 'one blue from the top'."""
    return any(c.start - k.end < WIDE for k in case.within("color", max(0, c.start - 2 * WIDE), c.start))


def _got_none(case: Case, c: Concept) -> bool:
    """'Nothing on the underside, | white on top': a denial that names no suture leaves the place empty."""
    clause = case.clause(c.start)
    words = clause.said
    empty = case.assertion(c.start).declines(c.start) or bool(words & LEFT and words & ALONE)
    return empty and not case.within("color", clause.start, clause.end)


def _in_order(case: Case, c: Concept) -> bool:
    """'From back to front and top to bottom' says an order, no place; 'posterosuperior to posteroinferior' does not."""
    words = case.words
    onward = case.within(c.list, c.end + 1, c.end + 2) if words[c.end : c.end + 1] == ["to"] else []
    other = [*onward, *(o for o in _before(case, c) if words[c.start - 1] == "to" and o.end == c.start - 1)]
    return any(o.name != c.name and not _is_both(case, c) and not _is_both(case, o) for o in other)


def _is_both(case: Case, c: Concept) -> bool:
    """Whether one word says a region and a surface."""
    return all(case.within(name, c.start, c.start + 1) for name in ("region", "surface"))


def _before(case: Case, c: Concept) -> list[Concept]:
    return case.within(c.list, max(0, c.start - WIDE), c.start)


def _colored(case: Case, a: Concept, b: Concept) -> bool:
    between = [c for name in ("color", "region") for c in case.within(name, a.end, b.start)]
    return bool(between) or (a.start, a.end) == (b.start, b.end)


def _regions(case: Case, sentence: Span, last: Concept | None, places: Places) -> list[Concept]:
    """Ends of the defect or graft said; 'the other end' is the one that was not said last."""
    found = [c for c in places.within("region", sentence.start, sentence.end) if c.name in QUADRANT or c.name == BOTH]
    found = [c for c in found if not _in_order(case, c)]
    found += [c for c in landmarks(case) if sentence.start <= c.start < sentence.end]
    if OTHER.isdisjoint(sentence.said):
        return sorted(found, key=_start)
    ends = case.grammar.plain_words("other-end")
    for i in range(sentence.start, sentence.end - 1):
        if case.words[i] in OTHER and case.words[i + 1] in ends:
            before = [c for c in found if c.start < i]
            known = before[-1] if before else last
            if known and known.name in OPPOSITE:
                found.append(Concept("region", OPPOSITE[known.name], i, i + 2))
    return sorted(found, key=_start)


def landmarks(case: Case) -> list[Concept]:
    """Ends named by what lies beside them. Which end lies where follows only from two of them told apart."""
    found = case.by_list["landmark"]
    return found if len({c.name for c in found}) > 1 else []


def _paired(
    case: Case, regions: list[Concept], surfaces: list[Concept], looks: int, before: Concept | None
) -> tuple[list[Position], Concept | None]:
    """Positions of one sentence, and the region of the last."""
    if not regions and not surfaces:
        return [], None
    longest = max((s.end - s.start for s in surfaces), default=0)
    pairs = sorted(
        (gap, min(r.start, surfaces[j].start), i, j)
        for i, r in enumerate(regions)
        for j in _opening(surfaces, r.start - WIDE - longest, r.end + WIDE + 1)
        if (gap := _gap(case, r, surfaces[j])) is not None
    )
    used: dict[int, int] = {}
    taken: set[int] = set()
    for _, _, i, j in pairs:
        if i not in used and j not in taken:
            used[i] = j
            taken.add(j)
    laid = [(regions[i], surfaces[j], _span(regions[i], surfaces[j])) for i, j in used.items()]
    shared: set[int] = set()
    if looks:
        behind = bool(regions) and len(surfaces) > len(regions) and surfaces[0].start < regions[0].start
        behind = behind and 0 not in taken  # 'on top at the back, blue below it, in front ...'
        for j, surface in enumerate(surfaces):
            last = bisect_left(regions, surface.start, key=_start) - 1
            full = last >= 0 and any(r is regions[last] and s.name == surface.name for r, s, _ in laid)
            if (behind or full) and j not in taken:  # 'white superiorly and blue inferiorly at the back'
                after = bisect_right(regions, surface.start, key=_start)
                if after < len(regions) and regions[after].start - surface.end <= REACH:
                    shared.add(after)
                    laid.append((regions[after], surface, (surface.start, surface.end)))
                    continue
            at = bisect_left(regions, surface.start, key=_start) - 1
            region = regions[at] if at >= 0 else before if not regions else None
            if j in taken or region is None or (at >= 0 and surface.start - region.end > REACH):
                continue
            if at >= 0:
                shared.add(at)
            laid.append((region, surface, (surface.start, surface.end)))
        laid += _headed(regions, surfaces, laid, used.keys() | shared, looks)
    laid.sort(key=lambda item: item[2])
    found = [Position(r.name, s.name, *span) for r, s, span in laid]
    return found, laid[-1][0] if laid else None


def _headed(
    regions: list[Concept],
    surfaces: list[Concept],
    laid: list[tuple[Concept, Concept, tuple[int, int]]],
    used: set[int],
    looks: int,
) -> list[tuple[Concept, Concept, tuple[int, int]]]:
    """Regions after one surface: 'on top, white at the back and green in front'. Only where the looks come out even."""
    left = [r for i, r in enumerate(regions) if i not in used and surfaces and surfaces[0].start < r.start]
    if not left or len(laid) + len(left) != looks:
        return []
    return [(r, surfaces[bisect_left(surfaces, r.start, key=_start) - 1], (r.start, r.end)) for r in left]


def _start(c: Concept) -> int:
    return c.start


def _opening(said: Sequence[Concept], start: int, end: int) -> range:
    """Which of concepts in the order told open in the tokens `[start, end)`."""
    return range(bisect_left(said, start, key=_start), bisect_left(said, end, key=_start))


def _span(a: Concept, b: Concept) -> tuple[int, int]:
    return min(a.start, b.start), max(a.end, b.end)


def _gap(case: Case, region: Concept, surface: Concept) -> int | None:
    """Words between a region and a surface that are one position, None where they are not.

    A pause parts them only where the surface stands first: 'front stump, top side', but 'white superior, anterior ...'.
    """
    if (region.start, region.end) == (surface.start, surface.end):
        return 0  # 'posterosuperior' is both
    first, second = (region, surface) if region.start <= surface.start else (surface, region)
    between = case.words[first.end : second.start]
    if first.end > second.start or len(between) > WIDE:
        return None
    fillers = FILLERS | case.grammar.plain_words("place-filler") if between else FILLERS
    if any(w not in fillers and (w != "," or first is surface) for w in between):
        return None
    return len(between)
