"""Devices: what was used, its size, and how many. A size next to a device is never a measurement.

Of the list `device` every one is logged, of the list `tool` (drills, reamers) only one said with its size.
"""

from __future__ import annotations

from dataclasses import replace

from extractor.facts.brought import SOLE, Said, ones, place, used
from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.further import at_other_bones
from extractor.facts.instead import counted_instead, sizes_instead
from extractor.facts.stitch_counts import is_count
from extractor.grammar.limits import limits_of
from extractor.language.clause_words import DETERMINERS
from extractor.language.concepts import Concept
from extractor.language.corrections import only_fillers, put_right
from extractor.language.quantities import Quantity

RULE = "<size> <device>"
NEAR = 4
"""Tokens between a device and a number that may be its size, at most."""
MOST_PARTS = 3
FAR = 16
"""Tokens after a device in which 'a seven millimeter one' may stand for it."""
JOIN = frozenset({
    ",", ":", "of", "is", "was", "in", "with", "a", "an", "the", "it", "at", "about", "has", "have", "had", "having",
    "'s", "both", "each",
})  # fmt: skip
"""Plain words between a device and its size, beside those of `device-size-filler`."""
SITED = frozenset({"on", "for", "side", "at"})
"""... and where a bone stands between them: 'screw on the femur: seven by twenty'."""
SET_OFF = 10
"""Tokens from a device to a size set off behind it, at most."""
ONE = frozenset({"one", "ones", "size"})
MAKE = frozenset({"make", "it", "a", "an", "the", "that", "give", "me"})
"""Words that only lead up to the size which takes the place of another."""
NO_COUNT = frozenset(
    {"the", "a", "an", "each", "its", "this", "that", "my", "our", "out", "through", "up", "down", "by"}
)
"""Between a number and a device these say that the number counts something else: 'one comes out the cannula'."""
PARTED = ("of", "the")
THOSE = frozenset({"the", "those", "these", "our", "my"})
NOT_SIZE = frozenset({"from", "in", "of"})
"""Plain words behind a number that is no device's size, beside those of `no-device-size` and `extent-word`."""
TECHNIQUE_BACK = 2
"""Sentences before in which the technique of counted implants may have been named."""
DONE_OR_MEANT = frozenset({"performed", "planned"})
IMPLANT = "all-inside-implant"
PASSIVE = frozenset({"was", "were", "is", "are", "then", "also", "both", "has", "been"})
OUT_WITHIN = 4
CLOSES = frozenset({",", ".", ";", "\n", "to", "over", "then", "through"})
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
        "but",
        "so",
    }
)


def device_drafts(case: Case) -> tuple[list[FactDraft], frozenset[int]]:
    """Devices used, and the numbers (in the note's quantities) that are their sizes."""
    taken: set[int] = set()
    told: list[Said] = []
    said = [*case.by_list["device"], *case.by_list["tool"], *_implants(case)]
    said += [*ones(case, said), *sizes_instead(case, said)]
    for device in sorted(said, key=lambda c: c.start):
        sizes, count = _size(case, device)
        if device.list == "tool" and not sizes:
            continue
        taken |= {case.number_at(q) for q in sizes}
        right = _put_right(case, device, sizes) if len(sizes) == 1 else None
        if right:
            sizes = [right]
            taken.add(case.number_at(right))
        assertion = case.assertion(device.start)
        if assertion.mood != "performed" or assertion.declines(device.start) or _not_that_size(case, sizes):
            instead = counted_instead(case, device)
            told += [Said(device, [], instead)] if instead else []
            continue
        if not _taken_out(case, device, sizes):
            others = at_other_bones(case, device, sizes)
            taken |= {case.number_at(q) for other in others for q in other.sizes}
            told += [Said(device, sizes, None if others and count == 1 + len(others) else count), *others]
    sized = [(s.device, s.sizes, s.count) for s in used(case, told)]
    drafts: list[FactDraft] = []
    known = {d.name for d, sizes, count in sized if sizes or count}
    counts = {(d.name, count) for d, sizes, count in sized if sizes}
    for device, sizes, count in sized:
        if not sizes and (device.name in known if not count else (device.name, count) in counts):
            continue  # named again
        drafts.append(_draft(case, device, sizes, count))
    return _merged(drafts), frozenset(taken)


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
        fields |= {"size": sizes[0].value, "unit": sizes[0].unit or "mm"}
        if len(sizes) > 1:
            fields["length"] = sizes[1].value
    if count:
        fields["count"] = count
    site = place(case, device)
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


def _size(case: Case, device: Concept) -> tuple[list[Quantity], int | None]:
    """The size said directly before or after a device, and how many of it."""
    sizes: list[Quantity] = []
    count = None
    plural = case.words[device.end - 1].endswith("s")
    stop = STOP | case.grammar.plain_words("extent-word")
    for q in case.numbers_before(device.start):
        at = min([device.start, *(s.start for s in sizes)])
        between = case.words[q.end : at]
        if device.start - q.end > NEAR or any(w in stop or w == "," for w in between if w != "by"):
            break
        if case.clause(q.start) != case.clause(device.start) and case.within("action", q.end, at):
            break  # '... drilled eight millimeters | passed the graft button sits flat'
        if (
            q.dimension == "length"
            or (q.product is not None and q.dimension is None)
            or (sizes and q.product == sizes[0].product and q.product is not None)
            or _bare_size(case, device, q, plural=plural)
        ):
            if sizes and (q.product is None or q.product != sizes[0].product):
                break
            sizes.insert(0, q)
        elif (is_count(q) or _counts_implants(device, q)) and NO_COUNT.isdisjoint(between):
            count = _of_them(case, q) or int(q.value or 0)
            break
    if sizes and count is None:
        lead = next(case.numbers_before(sizes[0].start), None)
        count = int(lead.value or 0) if lead and lead.end == sizes[0].start and is_count(lead) else None
    if count and len(sizes) == 1 and not plural and _spoken_decimal(sizes[0]):
        sizes, count = [replace(sizes[0], value=count + (sizes[0].value or 0) / 10)], None
    if not sizes:
        sizes = _after(case, device) or _pronoun(case, device) or _set_off(case, device)
    if count is None and case.words[device.start - 1] in SOLE:
        count = 1
    return sizes, count


def _put_right(case: Case, device: Concept, sizes: list[Quantity]) -> Quantity | None:
    """'An eight millimeter cannula, no, make it ten': the size that takes the place of the one before the device."""
    behind = max(device.end, sizes[0].end)
    q = next(iter(case.numbers(behind, behind + SET_OFF)), None)
    if q is None or q.dimension not in (None, "length") or q.product is not None or q.value is None:
        return None
    closed = q.end >= len(case.words) or not case.words[q.end][:1].isalpha() or case.words[q.end] in ONE
    if not closed or not put_right(case.words, behind, q.start, MAKE):
        return None
    return replace(q, unit=q.unit or sizes[0].unit, dimension="length")


def _counts_implants(device: Concept, q: Quantity) -> bool:
    """'Two implant all inside': a number before implants counts them, be it said in the singular."""
    whole = q.dimension is None and q.kind == "quantity" and q.value is not None and q.value.is_integer()
    return whole and device.name == IMPLANT and q.end == device.start


def _of_them(case: Case, q: Quantity) -> int | None:
    """'One of the two buttons was used': how many of those that were there."""
    before = next(case.numbers_before(q.start), None)
    between = case.words[before.end : q.start] if before else []
    part = before and between[:1] == ["of"] and len(between) == len(PARTED) and between[1] in THOSE
    return int(before.value) if before and part and before.value and is_count(before) else None


def _spoken_decimal(q: Quantity) -> bool:
    """Whether a number may be the tenths of 'a four five reamer': of one thing nothing can be counted before it."""
    return q.dimension is None and q.value is not None and q.value in range(1, 10)


def _bare_size(case: Case, device: Concept, q: Quantity, *, plural: bool) -> bool:
    """'The ten cannula', 'a two point four guide pin': a bare number right before one device is its size.

    Before several a whole number counts them, and one with a decimal is the size of each.
    """
    if q.dimension is not None or q.kind not in {"quantity", "count"} or q.value is None or q.end != device.start:
        return False
    if device.name == IMPLANT:
        return False  # 'two implant all inside'; its size is never said so
    return q.value > 1 and not (plural and float(q.value).is_integer())


def _after(case: Case, device: Concept) -> list[Quantity]:
    """'Cannula, ten millimeter, goes in'; 'a drill of six millimeter'; 'a screw, nine by twenty five'."""
    numbers = list(case.numbers(device.end, device.end + NEAR + 2))
    start = device.end
    joins = JOIN | case.grammar.plain_words("device-size-filler")
    for q, after in zip(numbers, [*numbers[1:], None], strict=False):
        between = case.words[start : q.start]
        placed = {i for c in case.within("bone", start, q.start) for i in range(c.start, c.end)}
        known = joins | SITED if placed else joins
        if len(between) > NEAR + len(placed) or any(
            case.words[i] not in known for i in range(start, q.start) if i not in placed
        ):
            return []
        if after and q.dimension is None and q.product is None and only_fillers(case.words, q.end, after.start):
            start = after.start  # 'eight, well, eight and a quarter millimeters'
            continue
        bare = q.dimension is None and q.product is None and q.kind == "quantity"
        bare = bare and (between[-1:] in (["of"], ["size"]) or _apposed(case, q, between) or _behind(case, q, between))
        if not (q.dimension == "length" or (q.product is not None and q.dimension is None) or bare):
            return []
        told = bare or between[-1:] == ["of"]
        if not told and case.words[q.end : q.end + 1] and _of_no_device(case, case.words[q.end]):
            return []
        sizes = [q, *_second(case, q)]
        behind = sizes[-1].end
        if "," in between and any(case.within(name, behind, behind + 1) for name in ("device", "tool")):
            return []  # 'guide pin, ten millimeter reamer'
        return sizes
    return []


def _of_no_device(case: Case, word: str) -> bool:
    """Whether the word behind a number tells that it is no device's size: 'anchor, ten deep', '..., two sutures'."""
    lists = ("no-device-size", "extent-word")
    return word in NOT_SIZE or any(word in case.grammar.plain_words(name) for name in lists)


def _apposed(case: Case, q: Quantity, between: list[str]) -> bool:
    """'Guide pin, the two point four, through ...': a size set off by commas, that counts nothing."""
    closed = case.words[q.end : q.end + 1] in ([], [","], ["."])
    return between == [",", "the"] and closed and q.value is not None and q.value > 2


def _behind(case: Case, q: Quantity, between: list[str]) -> bool:
    """'Guide pin two point four, reamer eight, ...': a bare number right behind one device, that counts nothing.

    Small whole numbers number the devices ('anchor one, anchor two').
    """
    if between or q.value is None or case.words[q.start - 1].endswith("s"):
        return False
    closed = not case.words[q.end : q.end + 1] or case.words[q.end] in CLOSES
    constants = limits_of(case.grammar.folders).constants
    least, most = (constants[f"bare-device-size-{end}"].value for end in ("least", "most"))
    return not q.value.is_integer() or (closed and least <= q.value <= most)


def _set_off(case: Case, device: Concept) -> list[Quantity]:
    """'Cannula in laterally, seven millimeters, ...': the first size behind, set off and told of nothing else."""
    sentence = case.sentence(device.start)
    q = next(iter(case.numbers(device.end, min(sentence.end, device.end + SET_OFF))), None)
    if q is None or case.words[q.start - 1] != "," or not (q.dimension == "length" or q.product is not None):
        return []
    sizes = [q, *(_second(case, q) if q.product is not None else [])]
    end = sizes[-1].end
    closed = end >= sentence.end or case.words[end] in {",", ".", ";"}
    between = [
        c for name in ("device", "tool", "thing", "dimension", "structure", "form")
        for c in case.within(name, device.end, q.start) if c.key != "thing:portal"
    ]  # fmt: skip
    return sizes if closed and not between else []


def _second(case: Case, q: Quantity) -> list[Quantity]:
    """The length after a size: 'nine by twenty five', 'size nine, length twenty five'."""
    at = case.number_at(q) + 1
    following = case.note.quantities[at : at + MOST_PARTS]
    if q.product is not None:
        return [p for p in following if p.product == q.product]
    then = following[:1]
    words = case.words[q.end : then[0].start] if then else []
    return list(then) if "length" in words and len(words) <= MOST_PARTS and then[0].dimension == "length" else []


def _pronoun(case: Case, device: Concept) -> list[Quantity]:
    """A size said of a pronoun: 'the cannula was placed and it was a seven millimeter one'."""
    sentence = case.sentence(device.start)
    for q in case.numbers(device.end, min(sentence.end, device.end + FAR)):
        named = [c for name in ("device", "tool", "thing") for c in case.within(name, device.end, q.start)]
        if named:
            return []
        if q.dimension == "length" and case.words[q.end : q.end + 1] and case.words[q.end] in ONE:
            return [q]
    return []
