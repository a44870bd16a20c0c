"""Quantities of a note: numbers with units, ranges, bounds, corrections, counts, products.

    read_quantities("eighteen , no , nineteen millimeters".split())

gives one quantity of 19 mm whose earlier value is 18. The steps, each one pass over the note:
single measures (`measures.py`), spans of time, ranges, corrections and counts, products and lists.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from extractor.language import links
from extractor.language.measures import QUANTITY, Measure, follows_noun, read_measures
from extractor.language.quantity_words import QuantityWords, quantity_words
from extractor.language.units import Unit, canonical, convert, unit_words

CLEAN = 10
"""Significant digits kept, so that arithmetic leaves no dust."""


@dataclass(frozen=True)
class Quantity:
    """One quantity of a note, over reading tokens `[start, end)`.

    Attributes:
        start: first token, a hedge or bound included.
        end: token after the last, corrections and earlier values included.
        value: the final single value in canonical units; None for a range, a bound or an identifier.
        low: low end of a range, or of "at least".
        high: high end of a range, or of "at most".
        unit: canonical UCUM code; None for a bare number.
        dimension: "length", "angle", ...; None for a bare number.
        approximate: said to be about right.
        earlier: values corrected, in the same unit.
        said_unit: UCUM code as said.
        part: place in a product "A by B by C".
        product: number shared by the parts of one product.
        unit_inherited: the unit was said for a neighbor.
        said_twice: repeated for safety.
        rivals: values of the other saying, where the two disagree.
        kind: "quantity", or "count", "ordinal", "suture-size", "identifier", "date", "year", "age", "clock",
            "gauge", "grade", "fraction".
        number_start: first token of the final number.
        number_end: token after the final number.
        counted: values counted along the way, not corrected.
        text: a suture size ("2-0") or identifier ("A6107") as written.
    """

    start: int
    end: int
    value: float | None
    low: float | None
    high: float | None
    unit: str | None
    dimension: str | None
    approximate: bool = False
    earlier: tuple[float, ...] = ()
    said_unit: str | None = None
    part: int = 0
    product: int | None = None
    unit_inherited: bool = False
    said_twice: bool = False
    rivals: tuple[float, ...] = ()
    kind: str = QUANTITY
    number_start: int = -1
    number_end: int = -1
    counted: tuple[float, ...] = ()
    text: str | None = None


def read_quantities(words: Sequence[str]) -> list[Quantity]:
    """Read every number of a note.

    Args:
        words: reading tokens, lower-cased; punctuation is its own token, a line break is a newline.

    Returns:
        Quantities left to right, not overlapping. Time grows linearly with the number of words.
    """
    lexicon = quantity_words()
    measures = _unit_corrections(words, read_measures(words), lexicon)
    for pair in (_again, _span_of_time, _range):
        measures = _join_pairs(words, measures, pair, lexicon)
    measures = _settle(words, measures, lexicon)
    parts = _products(words, measures, lexicon)
    measures = _carry_units(words, measures, parts)
    return [_quantity(words, m, *parts.get(i, (0, None)), lexicon=lexicon) for i, m in enumerate(measures)]


# --- pairs ---

_Pair = Callable[[Sequence[str], Measure, Measure, QuantityWords], "Measure | None"]


def _join_pairs(words: Sequence[str], measures: list[Measure], pair: _Pair, lexicon: QuantityWords) -> list[Measure]:
    """Join neighbors from left to right wherever `pair` makes one of two."""
    joined: list[Measure] = []
    for measure in measures:
        one = pair(words, joined[-1], measure, lexicon) if joined else None
        if one is None:
            joined.append(measure)
        else:
            joined[-1] = one
    return joined


def _again(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> Measure | None:
    """The number said again digit by digit (found by the measure reader) joins the first saying."""
    if b.sort != "again":
        return None
    rivals = a.rivals if b.twice else (*a.rivals, *((b.value,) if b.value is not None else ()))
    return replace(a, end=b.end, unit=a.unit or b.unit, twice=b.twice, rivals=rivals)


def _span_of_time(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> Measure | None:
    """'an hour and five minutes', 'one hour twenty'."""
    if a.unit is None or a.value is None or b.value is None or a.value != int(a.value) or b.about or b.sort != QUANTITY:
        return None
    smaller = unit_words().smaller.get(a.unit.name)
    gap = tuple(words[a.end : b.start])
    if not smaller or gap not in ((), ("and",), (",",), (",", "and")):
        return None
    if b.unit is None:
        plain = gap in ((), ("and",)) and not follows_noun(words, b.end, lexicon) and a.unit.dimension == "time"
        if not plain or not 1 <= b.value < 60 or (gap and b.end < len(words) and words[b.end][:1].isalnum()):
            return None
        unit = unit_words().units[next(iter(smaller))]
    elif b.unit.name in smaller:
        unit = b.unit
    else:
        return None
    return replace(a, end=b.end, number_end=b.number_end, value=convert(a.value, a.unit, unit) + b.value, unit=unit, article=False)


def _range(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> Measure | None:
    """Two values of a range become one measure with a low and a high end."""
    if not links.is_range(words, a, b, lexicon) or a.value is None or b.value is None:
        return None
    unit = b.unit or a.unit
    low, high = sorted((links.value_in(a.value, a.unit, unit), links.value_in(b.value, b.unit, unit)))
    return replace(
        b, start=a.start, value=None, low=low, high=high, unit=unit, about=a.about or (b.about and not b.maybe),
        inherited=a.unit is None or b.unit is None, number_start=a.number_start, earlier=a.earlier,
    )


def _unit_corrections(words: Sequence[str], measures: list[Measure], lexicon: QuantityWords) -> list[Measure]:
    """'eighteen centimeters, I mean millimeters': the unit alone is put right."""
    ready = []
    for n, measure in enumerate(measures):
        limit = measures[n + 1].start if n + 1 < len(measures) else len(words)
        ready.append(_unit_corrected(words, measure, min(limit, measure.end + 8), lexicon))
    return ready


def _unit_corrected(words: Sequence[str], measure: Measure, limit: int, lexicon: QuantityWords) -> Measure:
    if measure.unit is None or measure.value is None:
        return measure
    for k in range(measure.end + 1, limit):
        unit = unit_words().at(words, k, False)
        if unit is None:
            continue
        gap = links.read_gap(words, measure.end, k, lexicon)
        if not gap.cue or gap.before or gap.after or unit[0].dimension != measure.unit.dimension or unit[0] == measure.unit:
            return measure
        return replace(measure, unit=unit[0], end=unit[1], earlier=((measure.value, measure.unit),))
    return measure


# --- corrections and counts ---


def _settle(words: Sequence[str], measures: list[Measure], lexicon: QuantityWords) -> list[Measure]:
    """Fold corrections, counts and repetitions into the value that stands at their end."""
    settled: list[Measure] = []
    n = 0
    while n < len(measures):
        end = _count_end(words, measures, n, lexicon)
        if end > n:
            group = replace(
                measures[end], start=measures[n].start,
                counted=tuple(m.value for m in measures[n:end] if m.value is not None),
            )
        else:
            group = measures[n]
        n, changed = end + 1, end > n
        while n < len(measures):
            following = measures[n]
            if _corrects_product(words, settled, group, measures, n, lexicon):
                settled[-1] = _corrected(settled[-1], following)
                group, n, changed = _corrected(group, measures[n + 1]), n + 2, True
            elif links.is_correction(words, group, following, lexicon) and not _is_first_part(words, settled, group, following, lexicon):
                group, n, changed = _corrected(group, following), n + 1, True
            elif links.is_denied_after(words, group, following, lexicon) and following.value is not None:
                group = replace(group, end=following.end, unit=group.unit or following.unit, earlier=(*group.earlier, (following.value, following.unit)))
                n += 1
            elif links.is_repeat(words, group, following, changed, lexicon):
                group = replace(following, start=group.start, earlier=group.earlier, counted=group.counted, about=group.about or following.about,
                                twice=group.twice or not changed, rivals=group.rivals)
                n += 1
            else:
                break
        settled.append(group)
    return settled


def _count_end(words: Sequence[str], measures: list[Measure], n: int, lexicon: QuantityWords) -> int:
    """The last of a rising count of at least three that starts at `n`, else `n`."""
    end = n
    while end + 1 < len(measures) and links.is_count(words, measures[end], measures[end + 1], lexicon):
        end += 1
    if end - n < 2:
        return n
    if end + 1 < len(measures) and links.is_list(words, measures[end], measures[end + 1]) == "and":
        return n  # 'six, eight, ten and twelve' is a list
    return end


def _corrected(a: Measure, b: Measure) -> Measure:
    """`b` in place of `a`, with what `a` said kept as earlier."""
    values = [v for v in (a.value, a.low, a.high) if v is not None]
    earlier = (*a.earlier, *((v, a.unit) for v in values), *b.earlier)
    return replace(b, start=min(a.start, b.start), end=max(a.end, b.end), unit=b.unit or a.unit, earlier=earlier,
                   inherited=b.inherited or (b.unit is None and a.unit is not None), counted=(*a.counted, *b.counted))


def _corrects_product(
    words: Sequence[str], settled: list[Measure], group: Measure, measures: list[Measure], n: int, lexicon: QuantityWords
) -> bool:
    """'eighteen by nine, no, nineteen by ten': a whole product put right."""
    if not settled or n + 1 >= len(measures):
        return False
    return (
        links.is_product(words, settled[-1], group, lexicon)
        and links.is_product(words, measures[n], measures[n + 1], lexicon)
        and links.is_correction(words, replace(group, unit=None), replace(measures[n], unit=None), lexicon)
    )


def _is_first_part(words: Sequence[str], settled: list[Measure], group: Measure, b: Measure, lexicon: QuantityWords) -> bool:
    """'eighteen by nine, no, nineteen': which of the two is meant is left open when it is nearer the first."""
    if not settled or not links.is_product(words, settled[-1], group, lexicon):
        return False
    first, second = settled[-1].value, group.value
    if first is None or second is None or b.value is None or b.unit is not None and group.unit is None:
        return False
    if abs(b.value - first) >= abs(b.value - second):
        return False
    settled[-1] = replace(settled[-1], rivals=(*settled[-1].rivals, b.value))
    return True


# --- products and lists ---


def _products(words: Sequence[str], measures: list[Measure], lexicon: QuantityWords) -> dict[int, tuple[int, int]]:
    """(part, product number) of every measure that stands in a product, by its place."""
    parts: dict[int, tuple[int, int]] = {}
    number = 0
    for i in range(1, len(measures)):
        before, _ = parts.get(i - 1, (0, 0))
        if before >= 2 or not links.is_product(words, measures[i - 1], measures[i], lexicon):
            continue
        if i - 1 not in parts:
            number += 1
            parts[i - 1] = (0, number)
        parts[i] = (before + 1, number)
    return parts


def _carry_units(words: Sequence[str], measures: list[Measure], parts: dict[int, tuple[int, int]]) -> list[Measure]:
    """Give the bare members of a product or list the unit said for another."""
    carried = list(measures)
    last = len(carried) - 1
    joined = False  # whether the list read from its end has shown an "and"
    for i in range(last - 1, -1, -1):
        a, b = carried[i], carried[i + 1]
        if i in parts and parts.get(i + 1, (0, None))[1] == parts[i][1]:
            joined = False
            if a.unit is None and b.unit is not None:
                carried[i] = replace(a, unit=b.unit, inherited=True)
            continue
        link = links.is_list(words, a, b)
        joined = link == "and" or (link == "," and joined)
        if joined and a.bare and b.unit is not None and b.sort == QUANTITY and not b.article and i not in parts:
            carried[i] = replace(a, unit=b.unit, inherited=True)
        elif a.unit is not None:
            joined = False
    for i in range(1, last + 1):
        same = i in parts and parts.get(i - 1, (0, None))[1] == parts[i][1]
        if same:
            a, b = carried[i - 1], carried[i]
            unit = b.unit or a.unit
            carried[i] = replace(b, unit=unit, inherited=b.inherited or (b.unit is None and unit is not None), about=b.about or a.about)
    return carried


# --- out ---


def _quantity(words: Sequence[str], m: Measure, part: int, product: int | None, lexicon: QuantityWords) -> Quantity:
    """A measure in canonical units."""
    into = canonical(m.unit) if m.unit else None

    def put(value: float | None, unit: Unit | None) -> float | None:
        if value is None:
            return None
        if m.unit is None or into is None:
            return _clean(value)
        return _clean(convert(links.value_in(value, unit, m.unit), m.unit, into))

    earlier = tuple(v for v in (put(value, unit or m.unit) for value, unit in m.earlier) if v is not None)
    return Quantity(
        start=m.start, end=m.end, value=put(m.value, m.unit), low=put(m.low, m.unit), high=put(m.high, m.unit),
        unit=into.code if into else ("a" if m.sort == "age" else None),
        dimension=into.dimension if into else ("age" if m.sort == "age" else None),
        approximate=m.about, earlier=earlier, said_unit=m.unit.code if m.unit else None, part=part, product=product,
        unit_inherited=m.inherited and m.unit is not None, said_twice=m.twice,
        rivals=tuple(v for v in (put(r, m.unit) for r in m.rivals) if v is not None),
        kind=_kind(words, m, product, lexicon), number_start=m.number_start, number_end=m.number_end,
        counted=tuple(v for v in (put(c, m.unit) for c in m.counted) if v is not None), text=m.text or None,
    )


def _kind(words: Sequence[str], m: Measure, product: int | None, lexicon: QuantityWords) -> str:
    if m.sort != QUANTITY or m.unit is not None or product is not None:
        return m.sort
    if m.pronoun or (m.value == 1 and words[m.number_start] == "one"):
        return "count"
    if m.value is not None and m.value == int(m.value) and _counts(words, m.end, lexicon):
        return "count"
    return QUANTITY


def _counts(words: Sequence[str], i: int, lexicon: QuantityWords) -> bool:
    """Whether a plural stands within three words, the first of them no word that ends a value."""
    if not follows_noun(words, i, lexicon):
        return False
    for word in words[i : i + 3]:
        if not word[:1].isalpha():
            return False
        if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us", "is")):
            return True
    return False


def _clean(value: float) -> float:
    return float(f"{value:.{CLEAN}g}")
