"""Further devices of a kind, told by their sizes and bones alone.

'Two screws, seven by twenty in the femur and nine by twenty-five in the tibia' are two devices of one name.
"""

from __future__ import annotations

from dataclasses import replace

from extractor.facts.brought import Said
from extractor.facts.case import Case
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

BETWEEN = frozenset({
    ",", ";", ":", "and", "then", "on", "in", "at", "for", "the", "a", "an", "another", "one", "side", "was", "were",
    "used", "placed", "put", "went", "goes", "is", "of", "other", "size", "sizes", "with",
})  # fmt: skip
"""Plain words between one device's size or place and the next one's."""
CLOSING = frozenset({".", ",", ";", "one", "\n", "were", "was"})
ONE_MORE = frozenset({"a", "an", "one"})
LEAST = 2
"""A size in millimeters, at least."""
REACH = 40
"""Tokens behind a device in which others of its kind are told, at most."""
PLACE = 4
"""Tokens behind a size in which its bone is told, at most."""


def at_other_bones(case: Case, device: Concept, sizes: list[Quantity]) -> list[Said]:
    """The same device at other bones, in its sentence; each has a diameter and a length, as 'nine by twenty-five'."""
    if len(sizes) < 2 or sizes[0].product is None:
        return []
    found: list[Said] = []
    at = max([device.end, *(q.end for q in sizes)])
    end = min(case.sentence(device.start).end, at + REACH)
    numbers = [q for q in case.numbers(at, end) if q.product is not None and q.product != sizes[0].product]
    for q in numbers:
        if found and q.product == found[-1].sizes[0].product:
            continue
        own = [p for p in numbers if p.product == q.product]
        if len(own) != 2 or not _leads_on(case, at, q.start):
            break
        behind = own[-1].end
        if not _bone(case, at, q.start) and not _bone(case, behind, min(end, behind + PLACE)):
            break
        found.append(Said(replace(device, start=q.start, end=behind), own, None))
        at = behind
    return found


def in_sizes(case: Case, device: Concept, sizes: list[Quantity], count: int | None) -> list[Said]:
    """'Two cannulas, a seven and an eight millimeter one': as many sizes as there are devices; gives all but the first.

    The first may have been read as the size of the device itself.
    """
    if not count or count < 2 or (sizes and sizes[0].start < device.start):
        return []
    at, found = device.end, list[Quantity]()
    for q in case.numbers(device.end, min(case.sentence(device.start).end, device.end + REACH)):
        if q.kind == "count" and case.words[q.start] == "one":
            continue
        if len(found) == count or not _leads_on(case, at, q.start) or q.product is not None:
            break
        if q.dimension not in (None, "length") or q.value is None or q.value < LEAST:
            return []
        found.append(q)
        at = q.end
    closed = at >= len(case.words) or case.words[at] in CLOSING or bool(case.within("bone", at, at + PLACE))
    if len(found) != count or not closed or not any(q.dimension for q in found):
        return []
    further = found[1:] if sizes else found
    return [Said(replace(device, start=q.start, end=q.end), [replace(q, unit=q.unit or "mm")], None) for q in further]


def sizes_before(case: Case, device: Concept, sizes: list[Quantity]) -> list[Said]:
    """'A seven and an eight millimeter cannula': the one whose size stands before the other's."""
    if len(sizes) != 1 or sizes[0].start > device.start or sizes[0].product is not None:
        return []
    at = sizes[0].start - (case.words[sizes[0].start - 1] in ONE_MORE)
    joined = at < sizes[0].start and case.words[at - 1] == "and"
    last = next(case.numbers_before(at), None) if joined else None
    q = last if last is not None and last.end == at - 1 else None
    if q is None or q.dimension not in (None, "length") or q.value is None or q.value < LEAST or q.product is not None:
        return []
    own = replace(q, unit=q.unit or sizes[0].unit)
    return [Said(replace(device, start=q.start, end=q.end), [own], None)] if case.words[q.start - 1] in ONE_MORE else []


def _leads_on(case: Case, start: int, end: int) -> bool:
    """Whether only a bone and small words stand between."""
    placed = {i for c in case.within("bone", start, end) for i in range(c.start, c.end)}
    return all(case.words[i] in BETWEEN or i in placed for i in range(start, end))


def _bone(case: Case, start: int, end: int) -> bool:
    return bool(case.within("bone", start, end))
