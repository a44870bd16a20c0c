"""Devices: what was used, its size, and how many. A size next to a device is never a measurement.

Of the list `device` every one is logged, of the list `tool` (drills, reamers) only one said with its size.
"""

from __future__ import annotations

from extractor.facts.brought import Said, ones, place, used
from extractor.facts.case import Case
from extractor.facts.device_roles import only_length
from extractor.facts.device_sizes import IMPLANT, right_size, size_of
from extractor.facts.draft import FactDraft
from extractor.facts.further import at_other_bones, in_sizes
from extractor.facts.instead import changed_to, counted_instead, said_wrong, sizes_changed, sizes_instead
from extractor.facts.stitch_counts import is_count
from extractor.language.clause_words import DETERMINERS
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

RULE = "<size> <device>"
NEAR = 4
"""Tokens before a noun of stitches in which their number stands, at most."""
TECHNIQUE_BACK = 2
"""Sentences before in which the technique of counted implants may have been named."""
DONE_OR_MEANT = frozenset({"performed", "planned"})
PASSIVE = frozenset({"was", "were", "is", "are", "then", "also", "both", "has", "been"})
OUT_WITHIN = 4


def device_drafts(case: Case) -> tuple[list[FactDraft], frozenset[int]]:
    """Devices used, and the numbers (in the note's quantities) that are their sizes."""
    taken: set[int] = set()
    told: list[Said] = []
    inside = {i for c in case.by_list["device"] for i in range(c.start, c.end)}
    tools = [c for c in case.by_list["tool"] if c.start not in inside]  # the 'pin' of a guide pin is no second one
    said = [*case.by_list["device"], *tools, *_implants(case)]
    said += [*ones(case, said), *sizes_instead(case, said), *sizes_changed(case, said)]
    for device in sorted(said, key=lambda c: c.start):
        sizes, count = size_of(case, device)
        changed = changed_to(case, device, max([device.end, *(q.end for q in sizes)]))
        taken |= {case.number_at(q) for q in (*sizes, *changed)}
        sizes = changed or sizes
        if device.list == "tool" and not sizes:
            continue
        right = right_size(case, device, sizes) if len(sizes) == 1 else None
        if right:
            sizes = [right]
            taken.add(case.number_at(right))
        assertion = case.assertion(device.start)
        if assertion.mood != "performed" or assertion.declines(device.start) or _not_that_size(case, sizes):
            instead = counted_instead(case, device)
            told += [Said(device, [], instead)] if instead else []
            continue
        if not _taken_out(case, device, sizes):
            others = at_other_bones(case, device, sizes) or in_sizes(case, device, sizes, count)
            taken |= {case.number_at(q) for other in others for q in other.sizes}
            own = Said(device, sizes, None if others and count == 1 + len(others) else count)
            told += others if others and not sizes else [own, *others]  # 'two cannulas, a seven and an eight'

    told = [a for a, b in zip(told, [*told[1:], None], strict=False) if b is None or not _for(case, a, b)]
    sized = [(s.device, s.sizes, s.count) for s in used(case, told)]
    drafts: list[FactDraft] = []
    known = {d.name for d, sizes, count in sized if sizes or count}
    counts = {(d.name, count) for d, sizes, count in sized if sizes}
    for device, sizes, count in sized:
        if not sizes and (device.name in known if not count else (device.name, count) in counts):
            continue  # named again
        drafts.append(_draft(case, device, sizes, count))
    return _merged(drafts), frozenset(taken)


def _for(case: Case, first: Said, then: Said) -> bool:
    """Whether one telling of a device was put right by the next."""
    end = max([first.device.end, *(q.end for q in first.sizes)])
    start = min([then.device.start, *(q.start for q in then.sizes)])
    return first.device.name == then.device.name and said_wrong(case, end, start)


def _not_that_size(case: Case, sizes: list[Quantity]) -> bool:
    """'Not the eight millimeter screw that was on the card, a seven went in'."""
    lead = case.words[max(0, sizes[0].start - 2) : sizes[0].start] if sizes else []
    return lead[:1] == ["not"] and lead[-1] in DETERMINERS


def _taken_out(case: Case, device: Concept, sizes: list[Quantity]) -> bool:
    """'Femoral screw seven by twenty removed': an implant of before, which this operation took out."""
    if device.key not in case.grammar.concepts_in("lasting"):
        return False
    end = max([device.end, *(q.end for q in sizes)])
    end += case.words[end : end + 2] in ([",", "was"], [",", "were"])
    after = [w for w in case.words[end : end + OUT_WITHIN] if w not in PASSIVE]
    removed, taken = case.grammar.plain_words("removed-again"), case.grammar.plain_words("taken-out-again")
    return not removed.isdisjoint(after[:1]) or (after[1:2] == ["out"] and after[0] in taken)


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
        name = "length" if only_length(case, device, sizes) else "size"
        fields |= {name: sizes[0].value, "unit": sizes[0].unit or "mm"}
        if len(sizes) > 1:
            fields["length"] = sizes[1].value
    if count:
        fields["count"] = count
    site = place(case, device, sizes)
    if site:
        fields["site"] = site.name
    start = min([device.start, *(q.start for q in sizes)])
    end = max([device.end, *(q.end for q in sizes)])
    return FactDraft("devices", fields, case.spans([(start, end)], RULE))


def _implants(case: Case) -> list[Concept]:
    """'All-inside in the posterior horn, two implants': implants that the technique of their sentence names."""
    known = {i for c in case.by_list["device"] for i in range(c.start, c.end)}
    found = []
    for noun in case.by_list["stitch-noun"]:
        sentence = case.sentence(noun.start)
        before = case.note.segments.sentences[max(0, sentence.number - TECHNIQUE_BACK)]
        said = case.within("technique", before.start, noun.start)
        techniques = [c.name for c in said if case.assertion(c.start).mood in DONE_OR_MEANT and not _declined(case, c)]
        counted = any(is_count(q) and q.end == noun.start for q in case.numbers(noun.start - NEAR, noun.start))
        if noun.start not in known and counted and techniques[-1:] == ["all_inside"]:
            found.append(Concept("device", IMPLANT, noun.start, noun.end))
    return found


def _declined(case: Case, technique: Concept) -> bool:
    return case.assertion(technique.start).declines(technique.start)
