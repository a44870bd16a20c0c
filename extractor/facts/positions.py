"""Positions and looks of sutures: 'posterior superior', 'back on top'; 'white tape', 'striped blue'.

A position is a region and a surface said together, a look the color, pattern and form said together.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass

from extractor.facts.case import Case
from extractor.language.concepts import Concept

FILLERS = frozenset(
    {
        "in",
        "the",
        "on",
        "at",
        "end",
        "side",
        "corner",
        "part",
        "limb",
        "and",
        "one",
        "of",
        "its",
        "toward",
        "position",
        "-",
    }
)
LOOK_FILLERS = frozenset({"and", "-", "the", "colored", "number", "#", "two", "2", "0", "oh", "zero", "one", "braided"})
REGION_REACH = 14
QUADRANT = frozenset({"anterior", "posterior"})


@dataclass(frozen=True)
class Position:
    """A quadrant said in the tokens `[start, end)`."""

    region: str
    surface: str
    start: int
    end: int

    @property
    def name(self) -> str:
        """As the record writes it: `posterior-superior`."""
        return f"{self.region}-{self.surface}"


@dataclass(frozen=True)
class Look:
    """What a suture looks like, as said in the tokens `[start, end)`."""

    color: str
    pattern: str | None
    form: str | None
    usp_size: str | None
    start: int
    end: int


def find_positions(case: Case) -> list[Position]:
    """All quadrants said, in order: a region with the surface nearest to it, each used once."""
    regions = [c for c in case.by_list["region"] if c.name in QUADRANT]
    pairs = []
    for i, region in enumerate(regions):
        for surface in case.within("surface", region.start - 4, region.end + 5):
            gap = _gap(case, region, surface)
            if gap is not None:
                pairs.append((gap, min(region.start, surface.start), i, surface, region))
    used_regions: set[int] = set()
    used_surfaces: set[int] = set()
    found = []
    for _, _, i, surface, region in sorted(pairs, key=lambda p: (p[0], p[1], p[2])):
        if i in used_regions or surface.start in used_surfaces:
            continue
        used_regions.add(i)
        used_surfaces.add(surface.start)
        found.append(
            Position(region.name, surface.name, min(region.start, surface.start), max(region.end, surface.end))
        )
    found += _shared_regions(case, regions, used_regions, used_surfaces)
    return sorted(found, key=lambda p: p.start)


def _shared_regions(
    case: Case, regions: list[Concept], used_regions: set[int], used_surfaces: set[int]
) -> list[Position]:
    """'The posterior pair, white superiorly and green inferiorly': one region said for the surfaces after it."""
    found = []
    starts = [r.start for r in regions]
    for surface in case.by_list["surface"]:
        last = bisect_left(starts, surface.start) - 1
        if surface.start in used_surfaces or last < 0 or last in used_regions:
            continue
        region, sentence = regions[last], case.sentence(surface.start)
        if region.start < sentence.start or surface.start - region.end > REGION_REACH:
            continue
        if case.within("color", region.end, sentence.end):
            found.append(Position(region.name, surface.name, surface.start, surface.end))
    return found


def _gap(case: Case, a: Concept, b: Concept) -> int | None:
    if (a.start, a.end) == (b.start, b.end):
        return 0  # 'posterosuperior' is both
    left, right = (a, b) if a.start <= b.start else (b, a)
    between = case.words[left.end : right.start]
    if left.end > right.start or len(between) > 4 or any(w not in FILLERS for w in between):
        return None
    return len(between)


def find_looks(case: Case) -> list[Look]:
    """All looks said, in order. A look has a color; pattern, form and size are taken from the words beside it."""
    looks = []
    for color in case.by_list["color"]:
        pattern = _beside(case, "pattern", color)
        form = _beside(case, "form", color)
        start = min(c.start for c in (color, pattern, form) if c)
        end = max(c.end for c in (color, pattern, form) if c)
        looks.append(Look(color.name, pattern.name if pattern else None, form.name if form else None, None, start, end))
    return looks


def _beside(case: Case, list_name: str, color: Concept) -> Concept | None:
    """A concept directly before or after the color, with no other color or boundary between."""
    for c in reversed(case.within(list_name, max(0, color.start - 3), color.start)):
        if all(w in LOOK_FILLERS for w in case.words[c.end : color.start]) and not (list_name == "form"):
            return c
    for c in case.within(list_name, color.end, color.end + 4):
        between = case.words[color.end : c.start]
        if all(w in LOOK_FILLERS for w in between) and "and" not in between:
            return c
    return None
