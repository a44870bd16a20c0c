"""Corrections, counts and repetitions folded into the value that stands at their end."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.language import links
from extractor.language.gaps import read_gap
from extractor.language.measure import Measure
from extractor.language.quantity_words import QuantityWords
from extractor.language.said_anew import is_looked_at_again
from extractor.language.units import unit_words

MOST_EARLIER = 32
"""Earlier values folded into one, at most; keeps the time linear whatever is said."""

MARKS = (5, 10)
"""Steps of the marks of probes and rulers, in millimeters (common practice, no source)."""
STEP = 2
"""How far a number said alone may be from the one before to be a second look at it. This project's choice."""
MOST_STEPS = 64
"""Marks counted along in one go, at most, for the same reason."""


def settle(words: Sequence[str], measures: list[Measure], lexicon: QuantityWords) -> list[Measure]:
    """Fold corrections, counts and repetitions into the value that stands at their end."""
    settled: list[Measure] = []
    measures = _marks_apart(words, measures, lexicon)
    n = 0
    while n < len(measures):
        end = _count_end(words, measures, n, lexicon)
        if end > n:
            group = replace(
                measures[end],
                start=measures[n].start,
                counted=tuple(
                    v for m in measures[n:end] for v in (*m.counted, m.value) if v not in (None, measures[end].value)
                ),
            )
        else:
            group = measures[n]
        n, changed = end + 1, end > n
        while n < len(measures) and len(group.earlier) < MOST_EARLIER:
            following = measures[n]
            if _corrects_product(words, settled, group, measures, n, lexicon):
                settled[-1] = _corrected(settled[-1], following)
                group, n, changed = (
                    replace(_corrected(group, measures[n + 1]), start=measures[n + 1].start),
                    n + 2,
                    True,
                )
            elif links.is_correction(words, group, following, lexicon) and not _is_first_part(
                words, settled, group, following, lexicon
            ):
                group, n, changed = _corrected(group, following), n + 1, True
            elif changed and group.counted and _sums_up(words, group, following):
                group = replace(following, start=group.start, counted=(*group.counted, group.value or 0.0))
                n += 1
            elif links.is_denied_after(words, group, following, lexicon) and following.value is not None:
                group = replace(
                    group,
                    end=following.end,
                    unit=group.unit or following.unit,
                    earlier=(*group.earlier, (following.value, following.unit)),
                )
                n += 1
            elif links.is_repeat(words, group, following, changed, lexicon):
                once_more = following.unit is None and group.unit is not None
                if once_more or (
                    following.unit is None and not links.is_repeat(words, group, following, False, lexicon)
                ):
                    # Said again at rest: the first saying is the one that tells what is measured.
                    group, n = replace(group, end=following.end), n + 1
                    continue
                group = replace(
                    following,
                    start=group.start,
                    earlier=group.earlier,
                    counted=group.counted,
                    about=group.about or following.about,
                    twice=group.twice or not changed,
                    rivals=group.rivals,
                )
                n += 1
            elif links.is_alone(words, group, following, lexicon):
                again = measures[n + 1] if n + 1 < len(measures) else None
                if again is None or not links.is_said_after(words, group, following, again, lexicon):
                    group = _left_open(group, following)
                    break
                group, n, changed = _corrected(group, again), n + 2, True
            else:
                break
        settled.append(group)
    return settled


def _sums_up(words: Sequence[str], count: Measure, final: Measure) -> bool:
    """'... twenty, not quite twenty five, so twenty four millimeters': what a count along the marks comes to."""
    if count.value is None or final.value is None or count.unit is not None or final.unit is None:
        return False
    said = [w for w in words[count.end : final.start] if w != ","]
    return said in (["so"], ["and", "so"]) and 0 < abs(final.value - count.value) < min(MARKS)


def _count_end(words: Sequence[str], measures: list[Measure], n: int, lexicon: QuantityWords) -> int:
    """The last of a rising count of at least three that starts at `n`, else `n`."""
    end = n
    while (
        end + 1 < len(measures)
        and end - n < MOST_STEPS
        and links.is_count(words, measures[end], measures[end + 1], lexicon)
    ):
        end += 1
    if end - n + len(measures[n].counted) < 2 and not _put_right_next(words, measures, n, end, lexicon):
        return n
    if end + 1 < len(measures) and links.is_list(words, measures[end], measures[end + 1]) == "and":
        if not _stops_between_marks(words, measures[n : end + 2]):
            return n  # 'six, eight, ten and twelve' is a list
        return end + 1
    return end


def _put_right_next(words: Sequence[str], measures: list[Measure], n: int, end: int, lexicon: QuantityWords) -> bool:
    """'Fifteen, sixteen, no, call it sixteen': two steps are a count where what follows puts the second right.

    Or says it once more: 'ten, thirteen. Thirteen wide.'
    """
    after = measures[end + 1] if end + 1 < len(measures) else None
    if end == n or after is None:
        return False
    if links.is_correction(words, measures[end], after, lexicon):
        return True
    return measures[n].value != measures[end].value and links.is_repeat(words, measures[end], after, True, lexicon)


def _stops_between_marks(words: Sequence[str], measures: list[Measure]) -> bool:
    """'five, ten, fifteen, twenty, and twenty-two' along a ruler: even marks from its zero, then a value between."""
    values = [m.value or 0.0 for m in measures]
    *marks, last = values
    step = measures[0].counted[0] if measures[0].counted else marks[0]
    even = all(b - a == step for a, b in zip(marks, marks[1:], strict=False))
    return even and step in MARKS and 0 < last - marks[-1] < step


def _marks_apart(words: Sequence[str], measures: list[Measure], lexicon: QuantityWords) -> list[Measure]:
    """'510-15-20': the first marks of a count, run together by the recognizer, are taken apart."""
    ready = list(measures)
    for n, (a, b) in enumerate(zip(measures, measures[1:], strict=False)):
        if not a.bare or not a.figures or a.value is None or b.value is None or a.value < 100:
            continue
        for step in MARKS:
            marks = _marks_in(words[a.number_start], step)
            if marks and marks[-1] < b.value <= marks[-1] + step:
                apart = replace(a, value=float(marks[-1]), counted=tuple(float(m) for m in marks[:-1]))
                if links.is_count(words, apart, b, lexicon):
                    ready[n] = apart
    return ready


def _marks_in(figures: str, step: int) -> list[int]:
    """[5, 10] for '510' and a step of 5; empty where the figures are no such marks, or only one."""
    marks: list[int] = []
    rest = figures
    while rest.startswith(str(step * (len(marks) + 1))):
        marks.append(step * (len(marks) + 1))
        rest = rest[len(str(marks[-1])) :]
    return marks if not rest and len(marks) > 1 else []


def _corrected(a: Measure, b: Measure) -> Measure:
    """`b` in place of `a`, with what `a` said kept as earlier."""
    taken_back: tuple[float | None, ...] = (a.value, a.low, a.high)
    if _is_far_end(a, b):
        b = replace(b, value=None, low=a.low, high=b.value)
        taken_back = (a.high,)
    values = [v for v in taken_back if v is not None]
    earlier = (*a.earlier, *((v, a.unit) for v in values), *b.earlier)
    return replace(
        b,
        start=min(a.start, b.start),
        end=max(a.end, b.end),
        unit=b.unit or a.unit,
        earlier=earlier,
        inherited=b.inherited or (b.unit is None and a.unit is not None),
        counted=(*a.counted, *b.counted),
        sort=links.sort_of(a, b),
    )


def _left_open(a: Measure, b: Measure) -> Measure:
    """'One millimeter. Two.': nobody says that the second takes back the first, so that both are kept."""
    near = a.value is not None and b.value is not None and abs(a.value - b.value) <= STEP
    return replace(a, rivals=(*a.rivals, b.value or 0.0)) if near else a


def _is_far_end(a: Measure, b: Measure) -> bool:
    """'Zero to one hundred, I mean one hundred ten degrees': of a span of motion the far end alone is put right."""
    if a.low is None or a.high is None or b.value is None or b.value <= a.low:
        return False
    unit = b.unit or a.unit
    return unit.dimension == "angle" if unit else a.low == 0


def _corrects_product(
    words: Sequence[str],
    settled: list[Measure],
    group: Measure,
    measures: list[Measure],
    n: int,
    lexicon: QuantityWords,
) -> bool:
    """'eighteen by nine, no, nineteen by ten': a whole product put right."""
    if not settled or n + 1 >= len(measures):
        return False
    return (
        links.is_product(words, settled[-1], group, lexicon)
        and links.is_product(words, measures[n], measures[n + 1], lexicon)
        and (
            links.is_correction(words, replace(group, unit=None), replace(measures[n], unit=None), lexicon)
            or is_looked_at_again(words, (settled[-1], group), (measures[n], measures[n + 1]), lexicon)
        )
    )


def _is_first_part(
    words: Sequence[str], settled: list[Measure], group: Measure, b: Measure, lexicon: QuantityWords
) -> bool:
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


def unit_corrections(words: Sequence[str], measures: list[Measure], lexicon: QuantityWords) -> list[Measure]:
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
        gap = read_gap(words, measure.end, k, lexicon)
        if (
            not gap.cue
            or gap.before
            or gap.after
            or unit[0].dimension != measure.unit.dimension
            or unit[0] == measure.unit
        ):
            return measure
        return replace(measure, unit=unit[0], end=unit[1], earlier=((measure.value, measure.unit),))
    return measure
