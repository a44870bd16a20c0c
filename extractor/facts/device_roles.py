"""Which of a device's sizes is its diameter and which its length, where words of dimension say so.

'A screw seven millimeters in diameter and twenty-five long', 'a twenty-five millimeter long seven millimeter screw'.
"""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

ACROSS, ALONG = "device-across", "device-along"
"""Lists of dimensions; `ALONG` tells a length only of the devices of `device-with-length`."""
LONG = "device-with-length"
LEADS = frozenset({"of", ":", "is", "was"})
JOINS = frozenset({",", "and", "by", "with", "a", "an", "of", "it", "is", "was", "x"})
"""Plain words between the two sizes of a device."""
MOST_JOINS = 4
IN_SIZE = (["in", "size"], ["in", "caliber"])


def _named(case: Case, at: int, *, opens: bool) -> Concept | None:
    """The word of dimension that opens at a token, or ends before it."""
    found = case.within("dimension", at if opens else at - MOST_JOINS, at + 1 if opens else at)
    return next((c for c in reversed(found) if (c.start if opens else c.end) == at), None)


def _of(case: Case, c: Concept | None) -> str | None:
    return next((name for name in (ACROSS, ALONG) if c and c.key in case.grammar.concepts_in(name)), None)


def role(case: Case, q: Quantity) -> str | None:
    """What the words right before or behind a number say that it is: `ACROSS`, `ALONG` or nothing."""
    ahead = _named(case, q.start, opens=False)
    if ahead is None and case.words[q.start - 1 : q.start] and case.words[q.start - 1] in LEADS:
        ahead = _named(case, q.start - 1, opens=False)
    last = next(case.numbers_before(q.start), None)
    if ahead and not (last and last.end == ahead.start):
        return _of(case, ahead)
    return ACROSS if _sized(case, q) else _of(case, _named(case, q.end, opens=True))


def _sized(case: Case, q: Quantity) -> bool:
    """'Eight millimeters in size'."""
    return case.words[q.end : q.end + 2] in IN_SIZE


def behind_of(case: Case, q: Quantity) -> int:
    """The token behind a number and the dimension that is named with it."""
    if _sized(case, q):
        return q.end + 2
    c = _named(case, q.end, opens=True)
    return c.end if c and _of(case, c) else q.end


def is_size(case: Case, device: Concept, q: Quantity) -> bool:
    """Whether a number behind a device is one of its sizes by the dimension named with it.

    'Eight millimeters wide' may be a trough that a reamer made: of a tool only the diameter tells.
    """
    told = role(case, q)
    if told == ALONG:
        return device.key in case.grammar.concepts_in(LONG)
    if _sized(case, q):
        return True
    named = _named(case, q.end, opens=True) or _named(case, q.start, opens=False)
    return told == ACROSS and (device.list == "device" or (named is not None and named.name == "diameter"))


def second(case: Case, device: Concept, size: Quantity) -> list[Quantity]:
    """The other size of a device, told by its dimension behind it: '..., twenty-five millimeters long'."""
    if device.key not in case.grammar.concepts_in(LONG) or role(case, size) == ALONG:
        return []
    at = max(device.end, behind_of(case, size))
    q = next(iter(case.numbers(at, at + MOST_JOINS + 1)), None)
    if q is None or q.dimension not in (None, "length") or q.product is not None or q.value is None:
        return []
    words = [w for w in case.words[at : q.start] if w not in JOINS]
    ahead = _named(case, q.start, opens=False)
    inside = set(case.words[ahead.start : ahead.end]) if ahead else set()
    return [q] if role(case, q) == ALONG and set(words) <= inside | LEADS else []


def by_role(case: Case, sizes: list[Quantity]) -> list[Quantity]:
    """The sizes with the diameter first, whichever was told first."""
    if len(sizes) != 2 or sizes[0].product is not None:
        return sizes
    roles = [role(case, q) for q in sizes]
    return sizes[::-1] if roles[0] == ALONG or roles[1] == ACROSS else sizes


def only_length(case: Case, device: Concept, sizes: list[Quantity]) -> bool:
    """'A screw of twenty-five millimeters in length': one size, and it is no diameter."""
    return len(sizes) == 1 and device.key in case.grammar.concepts_in(LONG) and role(case, sizes[0]) == ALONG
