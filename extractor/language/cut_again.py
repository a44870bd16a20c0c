"""A size cut again: 'The graft was cut at twenty by nine, then a further millimeter off, so nineteen'.

The three numbers must agree: what was cut at first, what came off, and what it is now. So nothing is guessed, and
what the first was said of stays found. The value is put right where it was first said.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.language.measure import QUANTITY, Measure
from extractor.language.quantity_words import QuantityWords

LEAD = 9
"""Tokens from the word of cutting to the size, at most."""
MOST_BETWEEN = 3
"""Numbers between the size as cut and the last one, at most: the other part of an 'A by B', and what came off."""
LONGEST = 30
"""Tokens from the one to the other, at most."""
MOST_OFF = 5
"""Millimeters that come off what was cut already, at most. This project's choice."""
LEAST = 6
"""Millimeters of what is cut again, at least."""
CHANGING = 3
"""Tokens from the verb to the 'from' of what was changed, at most."""
CHANGED = frozenset({"length", "pressure"})
FURTHER = frozenset({"further", "another", "more"})
THOUGHT = frozenset({"would", "'d", "could", "might", "should", "wanted", "wants", "asked", "rather"})
THOUGHT_IN = 3
"""Tokens from such a word to that of cutting, at most: 'my fellow would have cut twenty, I make it nineteen'."""
ENDS = frozenset({".", "?", "!", ";", "\n"})


def cut_again(words: Sequence[str], measures: list[Measure], lexicon: QuantityWords) -> list[Measure]:
    """The measures with those of things cut again put right, and without what came off and the size said anew."""
    kept = list(measures)
    done: set[int] = set()
    for i, old in enumerate(measures):
        if i in done or not _was_cut(words, old, lexicon):
            continue
        for j in range(i + 1, min(i + 2 + MOST_BETWEEN, len(measures))):
            new = measures[j]
            if new.start - old.end > LONGEST or j in done:
                break
            off = _came_off(words, measures[i : j + 1], lexicon)
            if off is not None:
                kept[i] = _put_right(old, new)
                done |= {j, i + off}
                break
    return [m for n, m in enumerate(kept) if n not in done or measures[n] is not m]


def cut_down(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> Measure | None:
    """'The graft was trimmed from twenty to nineteen millimeters': no range, but what it was and what it is."""
    if not a.from_word or a.value is None or b.value is None or tuple(words[a.end : b.start]) != ("to",):
        return None
    cut = _is_length(b) and LEAST <= b.value < a.value <= b.value + MOST_OFF and _was_cut(words, a, lexicon)
    return replace(b, start=a.start, earlier=((a.value, a.unit or b.unit),)) if cut else None


def changed_from(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> Measure | None:
    """'Taken down from four to two millimeters', 'dilated from eight to nine': what it was, and what it was made."""
    if not a.from_word or a.value is None or b.value is None or words[b.start - 1] != "to" or b.start - a.end > 2:
        return None
    unit = b.unit or a.unit
    if a.sort != QUANTITY or b.sort != QUANTITY or (unit is not None and unit.dimension not in CHANGED):
        return None
    made = not lexicon.made_from.isdisjoint(words[max(0, a.start - CHANGING) : a.start])
    return replace(b, start=a.start, unit=unit, earlier=((a.value, a.unit or b.unit),)) if made else None


def _was_cut(words: Sequence[str], old: Measure, lexicon: QuantityWords) -> bool:
    """Whether a size is one that something was cut at: 'the graft was cut at twenty'."""
    if old.value is None or old.value < LEAST or not _is_length(old):
        return False
    for k in range(old.start - 1, max(-1, old.start - 1 - LEAD), -1):
        if words[k] in ENDS or words[k] in lexicon.not_cut:
            return False
        if words[k] in lexicon.cutting:
            return THOUGHT.isdisjoint(words[max(0, k - THOUGHT_IN) : k])
    return False


def _is_length(m: Measure) -> bool:
    return m.bare if m.unit is None else m.unit.dimension == "length"


def _came_off(words: Sequence[str], told: Sequence[Measure], lexicon: QuantityWords) -> int | None:
    """Which of the numbers came off the first, where the last is what is left; 0 where it was said without one."""
    old, new = told[0], told[-1]
    left = new.value if new.value is not None else new.high
    if old.value is None or left is None or not _is_length(new):
        return None
    off, between = old.value - left, words[old.end : new.number_start if new.value is not None else new.end]
    if not 0 < off <= MOST_OFF or lexicon.cut_off.isdisjoint(between) or not lexicon.not_cut.isdisjoint(between):
        return None
    if new.value is None:
        return len(told) - 1 if new.low == off else None  # 'shortened by 1 mm to 19 mm'
    for n in range(len(told) - 2, 0, -1):
        if told[n].value == off:
            return n
    return 0 if off == 1 and not FURTHER.isdisjoint(between) else None


def _put_right(old: Measure, new: Measure) -> Measure:
    left = new.value if new.value is not None else new.high
    return replace(
        old,
        value=left,
        unit=new.unit or old.unit,
        earlier=(*old.earlier, (old.value or 0.0, old.unit)),
        put_right=(new.number_start, new.end),
    )
