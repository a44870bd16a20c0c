"""Neighbors that make one measure, and units carried from one measure to its neighbors."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from extractor.language import links
from extractor.language.gaps import SENTENCE_ENDS, STOPS, is_held_up, read_gap
from extractor.language.measure import QUANTITY, Measure
from extractor.language.numbers import confusable, spelled
from extractor.language.quantity_words import QuantityWords
from extractor.language.sorts import follows_noun
from extractor.language.units import convert, unit_words

MOST_DIGITS = 3
"""Digits said one by one ahead of the number they spell, at most."""
HEARD_AND = frozenset({("in",), ("at",), ("an",), ("plus",)})
"""What is heard, or said, for 'and' between the units of one span: 'an hour at five minutes'."""
Pair = Callable[[Sequence[str], Measure, Measure, QuantityWords], "Measure | None"]
"""Makes one measure of two neighbors, or None."""


def join_pairs(words: Sequence[str], measures: list[Measure], pair: Pair, lexicon: QuantityWords) -> list[Measure]:
    """Join neighbors from left to right wherever `pair` makes one of two."""
    joined: list[Measure] = []
    for measure in measures:
        one = pair(words, joined[-1], measure, lexicon) if joined else None
        if one is None:
            joined.append(measure)
        else:
            joined[-1] = one
    return joined


def again(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> Measure | None:
    """The number said again digit by digit (found by the measure reader) joins the first saying."""
    if b.sort != "again":
        return None
    if not lexicon.sizes.keys().isdisjoint(words[a.end : b.start]):
        return replace(a, twice=True)  # 'twenty-four millimeters in diameter, two four'
    rivals = a.rivals if b.twice else (*a.rivals, *((b.value,) if b.value is not None else ()))
    return replace(a, end=b.end, unit=a.unit or b.unit, twice=b.twice, rivals=rivals)


def repeated(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> Measure | None:
    """'Twelve millimeters, I repeat, twelve millimeters': one number, said twice for safety."""
    if a.sort != QUANTITY or b.sort != QUANTITY or a.value is None or a.value != b.value or a.unit is None:
        return None
    opens = a.end + (words[a.end] in STOPS)
    cue = lexicon.said_again.at(words, opens) if b.unit in {a.unit, None} else None
    if cue is None or cue[0] != "repeat" or not STOPS.issuperset(words[cue[1] : b.start]):
        return None
    return replace(a, end=b.end, number_start=b.number_start, number_end=b.number_end, twice=True)


def spelt_first(words: Sequence[str], measures: list[Measure]) -> list[Measure]:
    """'Four zero, forty millimeters': digits said ahead of the number they spell are the same number, said twice."""
    joined: list[Measure] = []
    for measure in measures:
        digits, opens = _digits_before(words, joined, measure)
        value = measure.value
        wrong = value is not None and digits.isdigit() and confusable(value, float(digits))
        if value is None or not digits or not (digits == spelled(value) or wrong):
            joined.append(measure)
            continue
        while joined and joined[-1].start >= opens:
            joined.pop()
        rivals = (*measure.rivals, float(digits)) if wrong else measure.rivals
        joined.append(replace(measure, start=opens, twice=not wrong, rivals=rivals))
    return joined


def _digits_before(words: Sequence[str], before: Sequence[Measure], number: Measure) -> tuple[str, int]:
    """The two or three digits that end right before a number but for a comma, and the token they open at."""
    digits, at = "", number.start
    if number.sort != QUANTITY:
        return "", at
    if at and words[at - 1] == ",":
        at -= 1
    for measure in reversed(before[-MOST_DIGITS:]):
        if measure.end != at or measure.unit is not None or measure.start != measure.number_start:
            break
        digit = measure.text if measure.sort == "identifier" else _digit(measure)
        if not digit.isdigit() or len(digit) + len(digits) > MOST_DIGITS:
            break
        digits, at = digit + digits, measure.start
    return (digits, at) if len(digits) > 1 else ("", number.start)


def _digit(measure: Measure) -> str:
    """The one digit a bare number word says, or nothing."""
    plain = measure.sort == QUANTITY and measure.value is not None and measure.value in range(10)
    return str(int(measure.value or 0)) if plain else ""


def span_of_time(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> Measure | None:
    """'an hour and five minutes', 'one hour twenty'; 'two hours in 22 minutes', as 'and' is heard."""
    if a.unit is None or a.value is None or b.value is None or a.value != int(a.value) or b.about or b.sort != QUANTITY:
        return None
    smaller = unit_words().smaller.get(a.unit.name)
    gap = tuple(words[a.end : b.start])
    heard = gap in HEARD_AND and b.unit is not None
    if not smaller or not (heard or gap in ((), ("and",), (",",), (",", "and"))):
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
    return replace(
        a, end=b.end, number_end=b.number_end, value=convert(a.value, a.unit, unit) + b.value, unit=unit, article=False
    )


def plus_minus(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> Measure | None:
    """'ninety plus or minus five degrees' is about ninety degrees."""
    if not links.same_kind(a, b) or a.value is None or b.value is None:
        return None
    opens = a.end + (words[a.end : a.end + 1] == [","])
    if lexicon.plus_minus.whole(words, opens, b.start) is None:
        return None
    return replace(a, end=b.end, unit=a.unit or b.unit, about=True, inherited=a.unit is None and b.unit is not None)


def renamed(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> Measure | None:
    """'tissue number 4061, no, 4069': the identifier is put right."""
    if a.sort != "identifier" or b.unit is not None or b.start - a.end > links.MOST_FREE:
        return None
    text, opens = b.text or "".join(words[b.number_start : b.number_end]).upper(), b.start
    while opens - 1 > a.end and len(words[opens - 1]) == 1 and words[opens - 1].isalpha():
        opens -= 1
        text = words[opens].upper() + text
    gap = read_gap(words, a.end, opens, lexicon)
    if not gap.cue or gap.before or gap.after or len(text) != len(a.text) or not text[-1:].isdigit():
        return None
    return replace(a, end=b.end, number_start=opens, number_end=b.number_end, text=text)


def fallen(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> Measure | None:
    """'60-50 minutes' falls, so that it is no range; which of the two is meant is asked. Lengths make a product."""
    if not a.bare or a.value is None or b.value is None or b.unit is None or b.unit.dimension == "length":
        return None
    triple = a.start > 1 and words[a.start - 1] in ("-", "to")
    if tuple(words[a.end : b.start]) != ("-",) or a.value <= b.value or triple:
        return None
    return replace(b, start=a.start, rivals=(*b.rivals, a.value))


def year_of(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> Measure | None:
    """'June 20, 29': the year 2029, which the recognizer took for a day and something else."""
    if a.value != 20 or a.sort not in ("date", QUANTITY) or not b.bare or b.value is None or not 20 <= b.value <= 50:
        return None
    month = words[a.number_start - 1] if a.number_start else ""
    if month not in lexicon.months and month not in lexicon.months_needing_a_year:
        return None
    if tuple(words[a.end : b.start]) not in ((), (",",)) or follows_noun(words, b.end, lexicon):
        return None
    return replace(b, start=a.start, number_start=a.number_start, value=2000 + b.value, sort="year")


def range_of(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> Measure | None:
    """Two values of a range become one measure with a low and a high end."""
    upper = b.value is None and b.low is None and a.end == b.start
    if upper and b.high is not None and tuple(words[b.start : b.start + 2]) == ("up", "to"):
        b = replace(b, start=b.number_start, value=b.high, high=None)  # 'ten up to fifteen'
    if a.value is None and a.low is not None and a.high is None and a.unit is None:
        a = replace(a, value=a.low, low=None)  # 'at least six to eight weeks'
    if not (links.is_range(words, a, b, lexicon) or _held_up(words, a, b)) or a.value is None or b.value is None:
        return None
    unit = b.unit or a.unit
    low, high = sorted((links.value_in(a.value, a.unit, unit), links.value_in(b.value, b.unit, unit)))
    return replace(
        b,
        start=a.start,
        value=None,
        low=low,
        high=high,
        unit=unit,
        about=a.about or (b.about and not b.maybe),
        inherited=a.unit is None or b.unit is None,
        number_start=a.number_start,
        earlier=a.earlier,
        sort=links.sort_of(a, b),
    )


def _held_up(words: Sequence[str], a: Measure, b: Measure) -> bool:
    """'Bend it, zero to, stop there, ninety-five degrees': a span of motion with a remark in it."""
    angle = b.unit is not None and b.unit.dimension == "angle"
    rising = a.bare and a.value is not None and b.value is not None and a.value < b.value
    return angle and rising and is_held_up(words, a.end, b.start)


def products(words: Sequence[str], measures: list[Measure], lexicon: QuantityWords) -> dict[int, tuple[int, int]]:
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


def hedged_units(words: Sequence[str], measures: list[Measure]) -> list[Measure]:
    """'the rim is eight millimeters, in back six, seven maybe': a bare hedge takes the unit said in its sentence."""
    ready = list(measures)
    unit, end = None, 0
    for i, measure in enumerate(ready):
        if any(words[k] in SENTENCE_ENDS for k in range(end, measure.start)):
            unit = None
        if measure.bare and measure.maybe and measure.low is not None and measure.high is not None and unit:
            if measure.end >= len(words) or not words[measure.end][:1].isalnum():
                ready[i] = replace(measure, unit=unit, inherited=True)
        unit, end = measure.unit or unit, measure.end
    return ready


def carry_units(words: Sequence[str], measures: list[Measure], parts: dict[int, tuple[int, int]]) -> list[Measure]:
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
            carried[i] = replace(
                b, unit=unit, inherited=b.inherited or (b.unit is None and unit is not None), about=b.about or a.about
            )
    return carried
