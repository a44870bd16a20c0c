"""Stitches of a repair: technique, configuration, number, size and place, told around one word of technique.

A sentence is shared out among its techniques, as it is among its quantities; what stands in a share
belongs to it. 'One cross, one horizontal mattress' and 'one white and one blue' are one fact each.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.positions import QUADRANT
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

RULE = "<count> <size> sutures, <technique>, <configuration>, at <place>"
REACH = 24
"""Tokens either side of a technique that may tell of it, where its sentence is longer."""
NOUNS = ("form", "technique", "configuration", "device")


@dataclass(frozen=True)
class Zone:
    """The share `[start, end)` of a sentence that tells of one technique (or of one way of stitching)."""

    trigger: Concept
    start: int
    end: int


def find_zones(case: Case) -> list[Zone]:
    """One share for each technique said, and for each configuration said where no technique is."""
    techniques = case.by_list["technique"]
    busy = {case.sentence(c.start).number for c in techniques}
    bare = [c for c in case.by_list["configuration"] if case.sentence(c.start).number not in busy]
    busy |= {case.sentence(c.start).number for c in bare}
    roles = [
        c for c in case.by_list["suture-role"] if c.name != "shuttle" and case.sentence(c.start).number not in busy
    ]
    busy |= {case.sentence(c.start).number for c in roles}
    roots = [c for c in case.by_list["color"] if case.sentence(c.start).number not in busy and _at_root(case, c)]
    triggers = sorted([*techniques, *bare, *roles, *roots], key=lambda c: c.start)
    by_sentence: dict[int, list[Concept]] = defaultdict(list)
    for t in triggers:
        by_sentence[case.sentence(t.start).number].append(t)
    zones = []
    for number, own in by_sentence.items():
        sentence = case.note.segments.sentences[number]
        cuts = [sentence.start, *(_cut(case, a, b) for a, b in zip(own, own[1:], strict=False)), sentence.end]
        for t, start, end in zip(own, cuts, cuts[1:], strict=False):
            zones.append(Zone(t, max(start, t.start - REACH), min(end, t.end + REACH)))
    return zones


def _at_root(case: Case, color: Concept) -> bool:
    """A colored suture through a root: 'a white number two suture was placed through the posterior root'."""
    return any(c.name.endswith("_root") for c in case.within("region", color.end, color.end + 10)) and bool(
        case.within("form", color.start, color.start + 6)
    )


def _cut(case: Case, left: Concept, right: Concept) -> int:
    level = case.note.segments.level
    breaks = [i for i in range(left.end, right.start + 1) if level[i] >= 1]
    pauses = [i for i in breaks if level[i] >= 2]
    return (pauses or breaks or [right.start])[-1]


def stitch_drafts(case: Case, zones: Sequence[Zone]) -> list[FactDraft]:
    """Suture facts of all shares that say more than the technique."""
    drafts: list[FactDraft] = []
    for zone in zones:
        assertion = case.assertion(zone.trigger.start)
        if assertion.mood != "performed" or assertion.declines(zone.trigger.start):
            continue
        if case.within("skin-closure", zone.start, zone.end):
            continue
        drafts += _zone_drafts(case, zone)
    return _merged(drafts)


def _zone_drafts(case: Case, zone: Zone) -> list[FactDraft]:
    shared = _shared(case, zone)
    span = case.span(zone.start, zone.end, RULE)
    split = _each(case, zone, "configuration") or _each(case, zone, "color") or _each(case, zone, "surface")
    if split:
        out = []
        for name, concept, count in split:
            own = {k: v for k, v in shared.items() if k != "count"} | {name: concept.name}
            own |= {"count": count} if count and name != "color" else {}
            if name == "color":
                place = case.nearest("region", concept.start, concept.start, concept.end + 10)
                own |= {"region": place.name} if place else {}
            out.append(FactDraft("sutures", own, (case.span(concept.start, concept.end, RULE), span)))
        return out
    if not {"count", "configuration", "usp_size", "color"} & set(shared):
        return []
    if zone.trigger.list != "technique" and not {"count", "usp_size", "color"} & set(shared):
        return []
    return [FactDraft("sutures", shared, (case.span(zone.trigger.start, zone.trigger.end, RULE), span))]


def _shared(case: Case, zone: Zone) -> dict[str, object]:
    at = zone.trigger.start
    fields: dict[str, object] = {}
    for name in ("technique", "configuration", "color", "pattern", "form", "suture-role"):
        hit = zone.trigger if zone.trigger.list == name else case.nearest(name, at, zone.start, zone.end)
        if hit and (name not in {"pattern", "form"} or fields.get("color")):
            fields["role" if name == "suture-role" else name] = hit.name
    region = _region(case, zone)
    if region:
        fields["region"] = region.name
    tissue = case.nearest("tissue", at, zone.start, zone.end)
    if tissue is None and region and region.name == "middle":
        tissue = case.last("tissue", at)
    if tissue:
        fields["tissue"] = tissue.name
    count = _count(case, zone)
    if count:
        fields["count"] = count
    size = _size(case, zone)
    if size:
        fields["usp_size"] = size
    return fields


def _region(case: Case, zone: Zone) -> Concept | None:
    """The named part nearest to the technique; a bare 'front' or 'back' only where no part is named."""
    found = case.within("region", zone.start, zone.end)
    named = [c for c in found if c.name not in QUADRANT] or found
    return min(named, key=lambda c: abs(c.start - zone.trigger.start), default=None)


def _count(case: Case, zone: Zone) -> int | None:
    """A whole number said of stitches in the share, the one nearest to the technique."""
    found = []
    for q in case.finals(zone.start, zone.end):
        if not is_count(q):
            continue
        after = case.words[q.end : q.end + 2]
        nouns = [c for name in NOUNS for c in case.within(name, q.end, q.end + 5)]
        if (
            after == ["of", "those"]
            or after == ["of", "these"]
            or after == ["of", "them"]
            or any(_clear(case, q.end, c.start) for c in nouns)
        ):
            found.append(q)
    best = min(found, key=lambda q: abs(q.start - zone.trigger.start), default=None)
    return int(best.value) if best and best.value else None


def is_count(q: Quantity) -> bool:
    """Whether a quantity may be a number of things."""
    return (
        q.dimension is None
        and q.kind in {"count", "quantity"}
        and q.value is not None
        and float(q.value).is_integer()
        and 1 <= q.value <= 40
    )


def _clear(case: Case, start: int, end: int) -> bool:
    return not any(case.words[i] in {",", ".", "and", "portals", "in", "with"} for i in range(start, end))


def _size(case: Case, zone: Zone) -> str | None:
    sizes = [q for q in case.numbers(zone.start, zone.end) if q.kind == "suture-size"]
    best = min(sizes, key=lambda q: abs(q.start - zone.trigger.start), default=None)
    return best.text if best else None


def _each(case: Case, zone: Zone, list_name: str) -> list[tuple[str, Concept, int | None]]:
    """Two or more ways each told with its own number, or as first and second."""
    found = case.within(list_name, zone.start, zone.end)
    if len({c.name for c in found}) < 2:
        return []
    out: list[tuple[str, Concept, int | None]] = []
    for c in found:
        before = case.words[max(zone.start, c.start - 4) : c.start]
        floor = max(out[-1][1].end if out else zone.start, c.start - (6 if list_name == "surface" else 0))
        near = [q for q in case.numbers(floor, c.start) if q.end <= c.start and is_count(q)]
        if list_name != "surface":
            near = [q for q in islice(case.numbers_before(c.start), 1) if q.end == c.start and is_count(q)]
        counted = int(near[-1].value or 0) if near else None
        if list_name == "surface" and counted is None:
            return []
        if (
            counted is None
            and not {"first", "second", "third", "one", "other", "a"} & set(before)
            and list_name == "configuration"
        ):
            return []
        out.append((list_name, c, counted))
    return out


def _merged(drafts: list[FactDraft]) -> list[FactDraft]:
    """The same stitches told twice are one fact."""
    seen: dict[tuple[object, ...], FactDraft] = {}
    for d in drafts:
        key = tuple(sorted((k, str(v)) for k, v in d.fields.items()))
        old = seen.get(key)
        seen[key] = FactDraft(d.kind, d.fields, (*old.spans, *d.spans)) if old else d
    return list(seen.values())
