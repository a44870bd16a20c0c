"""Devices: what was used, its size, and how many. A size next to a device is never a measurement.

Of the list `device` every one is logged, of the list `tool` (drills, reamers) only one said with its size.
"""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.stitch_heads import is_count
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

RULE = "<size> <device>"
NEAR = 4
"""Tokens between a device and a number that may be its size, at most."""
MOST_PARTS = 3
JOIN = frozenset({",", "of", "size", "measuring", "is", "was", "in", "sized", "with", "a"})
STOP = frozenset(
    {
        ".",
        ";",
        "\n",
        "and",
        "then",
        "to",
        "at",
        "from",
        "through",
        "into",
        "for",
        "on",
        "wide",
        "deep",
        "long",
        "but",
        "so",
    }
)


def device_drafts(case: Case) -> tuple[list[FactDraft], frozenset[int]]:
    """Devices used, and the numbers (in the note's quantities) that are their sizes."""
    taken: set[int] = set()
    sized: list[tuple[Concept, list[Quantity], int | None]] = []
    for device in sorted([*case.by_list["device"], *case.by_list["tool"]], key=lambda c: c.start):
        sizes, count = _size(case, device)
        if device.list == "tool" and not sizes:
            continue
        taken |= {case.number_at(q) for q in sizes}
        assertion = case.assertion(device.start)
        if assertion.mood != "performed" or assertion.declines(device.start):
            continue
        sized.append((device, sizes, count))
    drafts: list[FactDraft] = []
    told = {d.name for d, sizes, count in sized if sizes or count}
    for device, sizes, count in sized:
        if not sizes and not count and device.name in told:
            continue
        drafts.append(_draft(case, device, sizes, count))
    return _merged(drafts), frozenset(taken)


def _merged(drafts: list[FactDraft]) -> list[FactDraft]:
    """A device told again is one fact; of the same size at another place it is another."""
    facts: dict[tuple[object, ...], dict[object, FactDraft]] = {}
    for draft in drafts:
        at = facts.setdefault(tuple(draft.fields.get(name) for name in ("kind", "size", "length")), {})
        site = draft.fields.get("site")
        told = next((place for place in at if site is None or place in (site, None)), site)
        old = at.pop(told, None)
        merged = FactDraft("devices", {**draft.fields, **old.fields}, (*old.spans, *draft.spans)) if old else draft
        at[merged.fields.get("site")] = merged
    return [draft for at in facts.values() for draft in at.values()]


def _draft(case: Case, device: Concept, sizes: list[Quantity], count: int | None) -> FactDraft:
    fields: dict[str, object] = {"kind": device.name}
    if sizes:
        fields |= {"size": sizes[0].value, "unit": sizes[0].unit or "mm"}
        if len(sizes) > 1:
            fields["length"] = sizes[1].value
    if count:
        fields["count"] = count
    site = case.nearest("bone", device.start, *_clause(case, device))
    if site:
        fields["site"] = site.name
    start = min([device.start, *(q.start for q in sizes)])
    end = max([device.end, *(q.end for q in sizes)])
    return FactDraft("devices", fields, case.spans([(start, end)], RULE))


def _clause(case: Case, device: Concept) -> tuple[int, int]:
    clause = case.clause(device.start)
    return clause.start, clause.end


def _size(case: Case, device: Concept) -> tuple[list[Quantity], int | None]:
    """The size said directly before or after a device, and how many of it."""
    sizes: list[Quantity] = []
    count = None
    for q in case.numbers_before(device.start):
        at = min([device.start, *(s.start for s in sizes)])
        if device.start - q.end > NEAR or any(w in STOP or w == "," for w in case.words[q.end : at] if w != "by"):
            break
        if (
            q.dimension == "length"
            or (q.product is not None and q.dimension is None)
            or (sizes and q.product == sizes[0].product and q.product is not None)
        ):
            if sizes and (q.product is None or q.product != sizes[0].product):
                break
            sizes.insert(0, q)
        elif is_count(q):
            count = int(q.value or 0)
            break
    if sizes and count is None:
        lead = next(case.numbers_before(sizes[0].start), None)
        count = int(lead.value or 0) if lead and lead.end == sizes[0].start and is_count(lead) else None
    if not sizes:
        sizes = _after(case, device)
    return sizes, count


def _after(case: Case, device: Concept) -> list[Quantity]:
    """'Cannula, ten millimeter, goes in'; 'a drill of six millimeter'."""
    found: list[Quantity] = []
    for q in case.numbers(device.end, device.end + NEAR):
        between = case.words[device.end : q.start]
        if q.dimension == "length" and all(w in JOIN for w in between) and len(between) <= 2:
            clause_follow = case.words[q.end : q.end + 1]
            if clause_follow and clause_follow[0] in {"long", "wide", "deep", "from", "apart", "in"}:
                continue
            found.append(q)
            if q.product is not None:
                at = case.number_at(q) + 1
                found += [p for p in case.note.quantities[at : at + MOST_PARTS] if p.product == q.product]
            break
    return found
