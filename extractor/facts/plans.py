"""Lists of sutures that follow a plan, which tells the place of each.

One word heads several looks ('femoral side: white at the back, green in front'); an order is said ('top row from back
to front, white, green'); or a pair is told like the one before ('the anterior ones in the same fashion, green and
black'). Where nothing but the order of telling says so, the position is inferred, and the reviewer is asked.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from extractor.facts.case import Case
from extractor.facts.looks import Look
from extractor.facts.places import ordered
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

QUADRANT = frozenset({"anterior", "posterior", "middle"})
OPPOSITE = {"anterior": "posterior", "posterior": "anterior"}
BELOW = {"superior": "inferior", "inferior": "superior"}
REGION, SURFACE, LOOK = "R", "S", "L"
SHORT = 12
"""A sentence of more words does not merely say that a pair is like the one before."""
Item = Concept | Look


@dataclass(frozen=True)
class Position:
    """A quadrant said in the tokens `[start, end)`; `inferred` where its surface follows from an order only."""

    region: str
    surface: str
    start: int
    end: int
    inferred: bool = False

    @property
    def name(self) -> str:
        """As the record writes it: `posterior-superior`."""
        return f"{self.region}-{self.surface}"


def by_threes(looks: Sequence[Look], regions: list[Concept], surfaces: list[Concept]) -> list[Position]:
    """'Blue goes in the bottom of the graft at the back, and black in the top at the back': each with its own place.

    Only where each three in a row are a look, a region and a surface, in any order.
    """
    items: list[tuple[str, Item]] = [*((REGION, r) for r in regions), *((SURFACE, s) for s in surfaces)]
    items += [(LOOK, k) for k in looks]
    items.sort(key=lambda item: (item[1].start, item[0]))
    threes = [items[i : i + 3] for i in range(0, len(items), 3)]
    if any(sorted(kind for kind, _ in three) != [LOOK, REGION, SURFACE] for three in threes):
        return []
    found = []
    for three in threes:
        by_kind = dict(three)
        region, surface = by_kind[REGION], by_kind[SURFACE]
        if not isinstance(region, Concept) or not isinstance(surface, Concept):
            return []
        first, second = sorted((region, surface), key=lambda c: c.start)
        look = by_kind[LOOK]
        end = first.end if first.start < look.start < second.start else second.end
        found.append(Position(region.name, surface.name, first.start, end))
    return found


def by_head(
    case: Case, looks: Sequence[Look], regions: list[Concept], surfaces: list[Concept], lately: Sequence[Position]
) -> list[Position]:
    """Positions of a sentence in which each word of one kind heads (or closes) two looks or more; else none."""
    items: list[tuple[str, Item]] = [
        *((REGION, r) for r in regions),
        *((SURFACE, s) for s in surfaces),
        *((LOOK, k) for k in looks),
    ]
    items.sort(key=lambda item: item[1].start)
    for head, other in ((REGION, SURFACE), (SURFACE, REGION)):
        found: list[Position] = []
        before = lately
        parts = list(_parts(items, head))
        full = {heading.name for heading, rest in parts if heading and rest}
        for heading, rest in parts:
            if heading and not rest and heading.name in full:
                continue  # 'tapes on top and sutures below: the two on top ...'
            own = _under(case, heading, rest, other, before)
            if not own:
                break
            found += own
            before = own
        else:
            if found:
                return found
    return []


def _parts(items: Sequence[tuple[str, Item]], head: str) -> Iterator[tuple[Concept | None, list[tuple[str, Item]]]]:
    """The items cut at each head, which stands first in every part or last in every part."""
    first, last = items[0][0] == head, items[-1][0] == head
    if first == last:
        yield None, []
        return
    rest: list[tuple[str, Item]] = []
    heading: Concept | None = None
    for kind, item in items:
        if kind != head or not isinstance(item, Concept):
            rest.append((kind, item))
        elif first:
            if heading:
                yield heading, rest
            heading, rest = item, []
        else:
            yield item, rest
            rest = []
    if first:
        yield heading, rest


def _under(
    case: Case, heading: Concept | None, rest: Sequence[tuple[str, Item]], other: str, before: Sequence[Position]
) -> list[Position]:
    """The positions under one head: as many words of the other kind as looks, in turn or in a row; or looks alone."""
    kinds = "".join(kind for kind, _ in rest)
    count = kinds.count(LOOK)
    if heading is None or count < 2:
        return []
    in_turn, in_rows = {(other + LOOK) * count, (LOOK + other) * count}, {other * count + LOOK * count}
    if kinds in in_turn | in_rows | {LOOK * count + other * count}:
        words = [item for kind, item in rest if kind == other]
        if len({w.name for w in words if isinstance(w, Concept)}) < count:
            return []
        return [_position(heading, w) for w in words if isinstance(w, Concept)]
    if kinds == LOOK * count and other == SURFACE:
        looks = [item for _, item in rest if isinstance(item, Look)]
        return _in_turn(case, heading, looks, before)
    return []


def _position(heading: Concept, word: Concept) -> Position:
    region, surface = (word, heading) if heading.list == "surface" else (heading, word)
    return Position(region.name, surface.name, word.start, word.end)


def _in_turn(case: Case, heading: Concept, looks: Sequence[Look], before: Sequence[Position]) -> list[Position]:
    """'In front green and black', after a pair told with its surfaces at the back: the order is the same."""
    start, end = min(heading.start, looks[0].start), max(heading.end, looks[-1].end)
    pair = _pair(before, heading.name)
    different = len({(k.color, k.pattern, k.form) for k in looks}) == len(looks)
    sentence = case.sentence(start)
    apart = case.within("tissue", start, end) or case.within("tie", sentence.start, sentence.end)
    if len(pair) != len(looks) or not different or apart:
        return []
    said = bool(case.within("same", sentence.start, sentence.end))
    return [
        Position(heading.name, p.surface, k.start, k.start, inferred=not said) for p, k in zip(pair, looks, strict=True)
    ]


def _pair(before: Sequence[Position], region: str) -> list[Position]:
    """The positions told last, where they are all of one other region."""
    last = [p for p in before if p.region == before[-1].region]
    return last if last and last[0].region != region and len({p.surface for p in last}) == len(last) else []


def by_order(
    case: Case, sentence: Span, looks: Sequence[Look], regions: list[Concept], surfaces: list[Concept]
) -> list[Position]:
    """'Top row from back to front: white, green': each look has the next place of the order."""
    for list_name, fixed, own in (("region", surfaces, regions), ("surface", regions, surfaces)):
        said = list(ordered(case, list_name, sentence.start, sentence.end))
        if not said or own or len(fixed) not in (1, len(said)) or len({c.name for c in fixed}) < len(fixed):
            continue
        order = [c.name for c in said[0]]
        row, odd = divmod(len(looks), len(fixed))
        if odd or row < len(order) or any([c.name for c in pair] != order for pair in said):
            continue
        if row > len(order):  # 'from back to front white, red, green': the middle lies between
            order = [order[0], "middle", order[1]] if list_name == "region" else []
        rows = [looks[i : i + row] for i in range(0, len(looks), row)]
        if len(order) != row or not _each_in_its_row(fixed, said, rows):
            continue
        return [
            _position(head, Concept(list_name, name, k.start, k.start))
            for head, own_row in zip(fixed, rows, strict=True)
            for name, k in zip(order, own_row, strict=True)
        ]
    return []


def _each_in_its_row(
    fixed: Sequence[Concept], said: Sequence[tuple[Concept, Concept]], rows: Sequence[Sequence[Look]]
) -> bool:
    """Whether each row of looks has its heading before it, behind the row before; so each its order, if said again."""
    ends = [0, *(row[-1].end for row in rows[:-1])]
    heads = all(end <= c.start < row[0].start for end, c, row in zip(ends, fixed, rows, strict=True))
    again = len(said) == 1 or all(
        end <= a.start < row[0].start for end, (a, _), row in zip(ends, said, rows, strict=True)
    )
    return (heads and again) or len(rows) == 1


def by_first(case: Case, looks: Sequence[Look], regions: list[Concept], surfaces: list[Concept]) -> list[Position]:
    """'Top row white and green, bottom row blue and black, posterior first': the first of each row lies at that end."""
    firsts = [c for c in regions if case.words[c.end : c.end + 1] == ["first"] and c.name in OPPOSITE]
    if len(regions) != 1 or len(firsts) != 1 or len(looks) != 2 * len(surfaces):
        return []
    pairs = list(zip(looks[::2], looks[1::2], strict=True))
    ends = (firsts[0].name, OPPOSITE[firsts[0].name])
    opens = [s.start for s in surfaces] + [looks[-1].end]
    if any(not s.start < a.start < b.start < stop for s, (a, b), stop in zip(surfaces, pairs, opens[1:], strict=True)):
        return []
    return [
        Position(end, surface.name, look.start, look.start)
        for surface, pair in zip(surfaces, pairs, strict=True)
        for end, look in zip(ends, pair, strict=True)
    ]


def by_one_of_two(looks: Sequence[Look], regions: list[Concept], surfaces: list[Concept]) -> list[Position]:
    """'White and blue at the back, white on top': of two at one end the one is told where it lies, so is the other."""
    if len(looks) != 3 or len(regions) != 1 or len(surfaces) != 1 or regions[0].name not in OPPOSITE:
        return []
    first, second, again = looks
    (surface,) = surfaces
    told = [(k.color, k.pattern) == (again.color, again.pattern) for k in (first, second)]
    if sum(told) != 1 or first.color == second.color or surface.start < second.end or surface.name not in BELOW:
        return []
    other = BELOW[surface.name]
    where = [surface.name if is_it else other for is_it in told]
    return [
        Position(regions[0].name, name, k.start, k.start) for name, k in zip([*where, surface.name], looks, strict=True)
    ]


def as_before(case: Case, sentence: Span, regions: list[Concept], lately: Sequence[Position]) -> list[Position]:
    """'The same was done in front': the pair told just before, at the other end; its colors are not said."""
    if len(regions) != 1 or "same" not in sentence.lists:
        return []
    words = [w for w in case.words[sentence.start : sentence.end] if w.isalpha()]
    other = [c for name in ("tissue", "tie", "thing") for c in case.within(name, sentence.start, sentence.end)]
    if other or len(words) > SHORT:
        return []
    if not lately or case.sentence(lately[-1].start).number != sentence.number - 1:
        return []
    before = case.sentence(lately[-1].start)
    if case.within("tie", before.start, before.end):
        return []  # 'Posterior superior was tied to posterior inferior. Other end likewise.'
    pair = _pair(lately, regions[0].name)
    return [Position(regions[0].name, p.surface, regions[0].start, regions[0].end) for p in pair]
