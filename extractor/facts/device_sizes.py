"""The size of a device and how many of it, said before it, behind it, or of a pronoun that stands for it."""

from __future__ import annotations

from dataclasses import replace

from extractor.facts.brought import SOLE
from extractor.facts.case import Case
from extractor.facts.device_roles import ALONG, LONG, behind_of, by_role, is_size, role, second
from extractor.facts.sizes_asked import size_asked
from extractor.facts.stitch_counts import is_count
from extractor.grammar.limits import limits_of
from extractor.language.concepts import Concept
from extractor.language.corrections import only_fillers, put_right
from extractor.language.quantities import Quantity

IMPLANT = "all-inside-implant"
NEAR = 4
"""Tokens between a device and a number that may be its size, at most."""
MOST_PARTS = 3
FAR = 16
"""Tokens after a device in which 'a seven millimeter one' may stand for it."""
JOIN = frozenset({
    ",", ":", "of", "is", "was", "in", "with", "a", "an", "the", "it", "at", "about", "has", "have", "had", "having",
    "'s", "both", "each", "all", "were", "are", "this",
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
ADJECTIVES = 2
IN_BONE = 3
"""Tokens behind a size in which its bone is told: 'screw, seven millimeters in the femur'."""
PARTED = ("of", "the")
THOSE = frozenset({"the", "those", "these", "our", "my"})
NOT_SIZE = frozenset({"from", "in", "of"})
"""Plain words behind a number that is no device's size, beside those of `no-device-size` and `extent-word`."""
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
        "over",
        "along",
        "with",
        "using",
        "after",
        "around",
        "via",
        "against",
    }
)
AWAY = frozenset({"behind", "beside", "below", "above", "under", "beneath", "off", "short", "before", "beyond", "past"})
"""Between a length and a device these tell how far off it lies: 'the vessels lie seven millimeters behind the pin'."""
NOT_THE = ["not", "the"]
ARTICLES = frozenset({"a", "an", "the"})
PAUSES = frozenset({",", ":"})
ENDS = frozenset({".", ",", ";", "\n", "and"})
TIMES = frozenset({"x", "times"})
OF_THEM = (["of", "them"], ["of", "those"], ["of", "these"], ["in", "number"], ["in", "total"], ["in", "all"])
NUMBERED = frozenset({"number", "count"})
"""'The number of anchors was four'."""
TELLING = frozenset({"was", "were", "is", "are", "used", "placed", "needed", "total", "all", "in"})
"""Words between devices and how many there were: 'anchors used: two'."""
MOST = 12
"""More devices of a kind than this are none."""


def size_of(case: Case, device: Concept) -> tuple[list[Quantity], int | None]:
    """The size said directly before or after a device, and how many of it."""
    sizes, count = _before(case, device)
    plural = case.words[device.end - 1].endswith("s")
    if sizes and count is None:
        count = _leading(case, sizes[0])
    if count and len(sizes) == 1 and not plural and _spoken_decimal(sizes[0]):
        sizes, count = [replace(sizes[0], value=count + (sizes[0].value or 0) / 10)], None
    if not sizes:
        sizes = _after(case, device) or _pronoun(case, device) or _set_off(case, device) or size_asked(case, device)
    elif len(sizes) == 1:
        sizes += second(case, device, sizes[0])
    if count is None and case.words[device.start - 1] in SOLE:
        count = 1
    return by_role(case, sizes), count or _counted_behind(case, device, sizes, plural=plural)


def _before(case: Case, device: Concept) -> tuple[list[Quantity], int | None]:
    """'Two seven by twenty screws', 'a seven millimeter diameter, twenty millimeter long screw'."""
    sizes: list[Quantity] = []
    plural = case.words[device.end - 1].endswith("s")
    stop = STOP | AWAY | case.grammar.plain_words("extent-word")
    for q in case.numbers_before(device.start):
        at = min([device.start, *(s.start for s in sizes)])
        told = role(case, q)
        start = behind_of(case, q)
        between = case.words[start:at]
        apart = {","} - ({","} if told and len(sizes) == 1 and role(case, sizes[0]) not in (None, told) else set())
        if (at if told else device.start) - start > NEAR:
            break
        if any(w in stop or w in apart for w in between if w != "by"):
            break
        if case.clause(q.start) != case.clause(device.start) and case.within("action", q.end, at):
            break  # '... drilled eight millimeters | passed the graft button sits flat'
        if (
            q.dimension == "length"
            or (q.product is not None and q.dimension is None)
            or (sizes and q.product == sizes[0].product and q.product is not None)
            or _bare_size(case, device, q, plural=plural)
        ):
            if sizes and (q.product is None or q.product != sizes[0].product) and not _other(case, q, sizes):
                break
            sizes.insert(0, q)
        elif (is_count(q) or _counts_implants(device, q)) and NO_COUNT.isdisjoint(between):
            return sizes, _of_them(case, q) or int(q.value or 0)
    return sizes, None


def _other(case: Case, q: Quantity, sizes: list[Quantity]) -> bool:
    """Whether a size is the other one of a device, by its own words: 'a twenty long eight millimeter screw'."""
    told = role(case, q)
    return (
        len(sizes) == 1
        and told is not None
        and role(case, sizes[0]) != told
        and (told == ALONG or role(case, sizes[0]) is not None)
    )


def _leading(case: Case, size: Quantity) -> int | None:
    """How many there were, said before the size: 'two seven millimeter anchors', 'two of the seven millimeter ...'."""
    lead = next(case.numbers_before(size.start), None)
    if lead is None or not is_count(lead) or (lead.value or 0) > MOST:
        return None
    between = case.words[lead.end : size.start]
    part = between[:1] == ["of"] and all(w in THOSE for w in between[1:])
    return int(lead.value or 0) if part or not between else None


def _counted_behind(case: Case, device: Concept, sizes: list[Quantity], *, plural: bool) -> int | None:
    """'Anchors, two of them', 'anchors, three millimeters, times two', 'the number of anchors was four'."""
    at = max([device.end, *(behind_of(case, q) for q in sizes)])
    q = next(iter(case.numbers(at, at + NEAR)), None)
    if q is None or not is_count(q) or (q.value or 0) > MOST or q.product is not None:
        return None
    between = case.words[at : q.start]
    words = [w for w in between if w not in PAUSES]
    behind = case.words[q.end : q.end + 2]
    closed = not behind or behind[0] in ENDS
    if len(words) == 1 and words[0] in TIMES:
        return int(q.value or 0) if closed else None
    named = case.words[max(0, device.start - 2) : device.start]
    of_number = plural and not NUMBERED.isdisjoint(named)
    told = set(words) <= TELLING and plural and (of_number or bool(PAUSES & set(between)))
    bare = not words and not of_number and not (case.words[at : at + 1] == [":"] and not sizes)
    if not told or not (closed or behind in OF_THEM) or (bare and behind not in OF_THEM):
        return None
    return int(q.value or 0)


def right_size(case: Case, device: Concept, sizes: list[Quantity]) -> Quantity | None:
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
    if q.dimension is not None or q.value is None or not _right_before(case, device, q):
        return False
    if q.kind not in {"quantity", "count"}:
        return not plural and _numbered(case, q)
    if device.name == IMPLANT:
        return False  # 'two implant all inside'; its size is never said so
    return q.value > 1 and not (plural and float(q.value).is_integer())


def _right_before(case: Case, device: Concept, q: Quantity) -> bool:
    """'The 4.75 knotless anchor': nothing but a word or two of what the device is like stands between."""
    between = case.words[q.end : device.start]
    return len(between) <= ADJECTIVES and case.grammar.plain_words("device-adjective").issuperset(between)


def _numbered(case: Case, q: Quantity) -> bool:
    """'A number eight screw': its size, and not which of several it is."""
    named = q.kind == "ordinal" and case.words[q.start] == "number"
    least = limits_of(case.grammar.folders).constants["bare-device-size-least"].value
    return (
        bool(named and q.value and (q.value >= least or not q.value.is_integer()))
        and case.words[q.start - 1] in ARTICLES
    )


def _after(case: Case, device: Concept) -> list[Quantity]:
    """'Cannula, ten millimeter, goes in'; 'a drill of six millimeter'; 'a screw, nine by twenty five'."""
    numbers = list(case.numbers(device.end, device.end + NEAR + 2))
    start = device.end
    joins = JOIN | case.grammar.plain_words("device-size-filler")
    for q, after in zip(numbers, [*numbers[1:], None], strict=False):
        if q.kind == "ordinal" and q.start == start:
            start = q.end  # 'screw number two is eight by twenty-five'
            continue
        between = case.words[start : q.start]
        if "it" in between and case.words[device.end - 1].endswith("s"):
            return []  # 'looped over two buttons it is eight millimeters'
        placed = {i for c in case.within("bone", start, q.start) for i in range(c.start, c.end)}
        known = joins | SITED if placed else joins
        if role(case, q) == ALONG and not placed and device.key in case.grammar.concepts_in(LONG):
            placed = {i for c in case.within("dimension", start, q.start) for i in range(c.start, c.end)}
        if len(between) > NEAR + len(placed) or any(
            case.words[i] not in known for i in range(start, q.start) if i not in placed
        ):
            return []
        again = after and case.words[after.start] not in ONE and only_fillers(case.words, q.end, after.start)
        if after and again and q.dimension is None and q.product is None:
            start = after.start  # 'eight, well, eight and a quarter millimeters'
            continue
        bare = q.dimension is None and q.product is None and q.kind == "quantity"
        bare = bare and (
            between[-1:] == ["of"] or "size" in between or _apposed(case, q, between) or _behind(case, q, between)
        )
        bare = bare or (q.dimension is None and is_size(case, device, q))
        if not (q.dimension == "length" or (q.product is not None and q.dimension is None) or bare):
            return []
        told = bare or between[-1:] == ["of"] or is_size(case, device, q)
        placed_in = case.words[q.end : q.end + 1] == ["in"] and case.within("bone", q.end, q.end + IN_BONE)
        if not told and not placed_in and case.words[q.end : q.end + 1] and _of_no_device(case, case.words[q.end]):
            return []
        sizes = [q, *_second(case, q)]
        sizes += second(case, device, q) if len(sizes) == 1 else []
        behind = sizes[-1].end
        if between and any(case.within(name, behind, behind + 1) for name in ("device", "tool")):
            return []  # 'guide pin, ten millimeter reamer'
        return sizes
    return []


def _of_no_device(case: Case, word: str) -> bool:
    """Whether the word behind a number tells that it is no device's size: 'anchor, ten deep', '..., two sutures'."""
    lists = ("no-device-size", "extent-word")
    return word in NOT_SIZE or any(word in case.grammar.plain_words(name) for name in lists)


def _apposed(case: Case, q: Quantity, between: list[str]) -> bool:
    """'Guide pin, the two point four, through ...': a size set off by commas, that counts nothing."""
    closed = case.words[q.end : q.end + 1] in ([], [","], ["."], ["one"])
    return between in ([",", "the"], [",", "a"], [",", "an"]) and closed and q.value is not None and q.value > 2


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
    numbers = case.numbers(device.end, min(sentence.end, device.end + SET_OFF))
    said = (q for q in numbers if case.words[q.start] not in ONE)
    q = next((q for q in said if case.words[q.start - 2 : q.start] != NOT_THE), None)
    opens = q.start - (case.words[q.start - 1] == "the") if q else 0
    if q is None or case.words[opens - 1] != "," or not (q.dimension == "length" or q.product is not None):
        return []
    sizes = [q, *(_second(case, q) if q.product is not None else [])]
    end = sizes[-1].end
    closed = end >= sentence.end or case.words[end] in {",", ".", ";"}
    between = [
        c for name in ("device", "tool", "thing", "dimension", "structure", "form")
        for c in case.within(name, device.end, q.start) if c.key != "thing:portal" and case.words[c.end - 1] not in ONE
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


def _alone(case: Case, device: Concept, q: Quantity) -> bool:
    """'As reamer I took a nine', 'the screw I used was an eight millimeter': a size that stands for the device."""
    between = frozenset(case.words[device.end : q.start])
    closed = q.end >= len(case.words) or case.words[q.end] in {".", ";", "\n", "too"}
    if not closed or case.words[q.start - 1] not in ARTICLES - {"the"} or q.product is not None or q.value is None:
        return False
    if not case.note.assertions[case.clause(q.start).number].done:
        return False  # 'I would ordinarily take an eight'
    limits = limits_of(case.grammar.folders).constants
    least, most = (limits[f"bare-device-size-{end}"].value for end in ("least", "most"))
    fits = q.dimension == "length" or (q.dimension is None and q.kind == "quantity" and least <= q.value <= most)
    return fits and bool(between & (case.grammar.plain_words("put-in") | {"was", "is"}))


def _pronoun(case: Case, device: Concept) -> list[Quantity]:
    """A size said of a pronoun: 'the cannula was placed and it was a seven millimeter one'."""
    sentence = case.sentence(device.start)
    for q in case.numbers(device.end, min(sentence.end, device.end + FAR)):
        named = [c for name in ("device", "tool", "thing") for c in case.within(name, device.end, q.start)]
        if named:
            return []
        if q.dimension == "length" and case.words[q.end : q.end + 1] and case.words[q.end] in ONE:
            return [q]
        if _alone(case, device, q):
            return [q]
    return []
