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
    "used", "placed", "put", "went", "goes", "is",
})  # fmt: skip
"""Plain words between one device's size or place and the next one's."""
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


def _leads_on(case: Case, start: int, end: int) -> bool:
    """Whether only a bone and small words stand between."""
    placed = {i for c in case.within("bone", start, end) for i in range(c.start, c.end)}
    return all(case.words[i] in BETWEEN or i in placed for i in range(start, end))


def _bone(case: Case, start: int, end: int) -> bool:
    return bool(case.within("bone", start, end))
