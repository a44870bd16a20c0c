"""A number said anew after some talk: 'Ten millimeters. No, that can't be it. Look here, eleven.'.

No list has all that is said between. The number is the one before put right where it is near it, of the same
kind, and alone in its clause.
"""

from __future__ import annotations

from collections.abc import Sequence

from extractor.language.gaps import PRODUCT_SIGNS, SENTENCE_ENDS, STOPS, Gap, read_gap
from extractor.language.measure import QUANTITY, Measure
from extractor.language.quantity_words import QuantityWords
from extractor.language.sorts import follows_noun

MOST_FREE = 8
"""Words in no list between the two, at most."""
CLOSE = 0.25
"""Share by which a value looked at again may differ: 'twenty-four, wait, let me push it flat, twenty-six'."""
AGAIN = "again"
"""The phrases of a second look that say outright that the same thing is measured."""
SLIP = 2
"""Millimeters by which a small value misread may be off, however large a share of it that is."""
TALK = frozenset({"that", "it", "this", "i", "we", "wait", "hold", "hang", "sorry", "let", "look", "no", "not", "you"})
"""After 'no' these show that nothing is denied but what was said."""
BE = frozenset({"was", "is", "were", "measured", "came"})
IN_FACT = BE | frozenset(
    ", but it that this truly really actually in fact only more like rather to out turned be".split()
)
"""Words between what was written down and what it was."""
READ_FIRST = "first"
"""The phrases of a first reading: 'I first read fourteen, and with the knee more open it was sixteen'."""
READING = frozenset({"got", "read", "gave", "measured", "had", "get"})
WITH = frozenset({"with", "of", "by"})
AFRESH = SENTENCE_ENDS | {"long", "wide", "deep"}
HANDLED = frozenset({"on", "to", "with", "a", "the"})
"""Of words that may tell of which size a number is, those of how it is read, beside the list `read-with`."""
MOST_LOOK = 6
"""Words of a second look in no list, at most: '... what does the board say ...'."""


def is_alone_again(words: Sequence[str], a: Measure, b: Measure, gap: Gap, lexicon: QuantityWords) -> bool:
    """'Ten millimeters. No, that can't be it. Look here, eleven.': another number near it, alone after some talk.

    What was said between is in no list and names no size; the number has a clause of its own, and nothing behind it.
    """
    if a.sort != QUANTITY or b.sort != QUANTITY or not _little_off(a, b):
        return False
    if b.unit not in {None, a.unit} and a.unit is not None:
        return False
    told = lexicon.dimension - lexicon.read_with - HANDLED
    if a.unit is None and (gap.ends or gap.before or not told.isdisjoint(gap.after)):
        return False  # 'sixteen, no, pull the slack out, seventeen millimeters' is said in one breath
    if any(w in lexicon.sizes or w in PRODUCT_SIGNS for w in gap.after) or _denies_a_thing(words, a.end, b.start):
        return False
    return _alone(words, a.end, b, lexicon)


def _alone(words: Sequence[str], floor: int, b: Measure, lexicon: QuantityWords) -> bool:
    """Whether a number is all of its clause but for words that lead up to it: '..., it's sixteen.'."""
    if b.end < len(words) and words[b.end] not in STOPS:
        return False
    k = b.start
    while k > floor and words[k - 1] not in STOPS:
        found = [f for p in (lexicon.filler, lexicon.entering, lexicon.correction) if (f := p.before(words, k, floor))]
        if not found:
            return False
        k = min(f[1] for f in found)
    return True


def _denies_a_thing(words: Sequence[str], start: int, end: int) -> bool:
    """'Ten millimeters, no tear, eleven ...': the word of correction is none."""
    return any(words[k] == "no" and words[k + 1].isalpha() and words[k + 1] not in TALK for k in range(start, end - 1))


def _little_off(a: Measure, b: Measure) -> bool:
    """Whether two values are near enough for one to be the other misread."""
    if a.value is None or b.value is None or a.value == b.value:
        return False
    unit = a.unit or b.unit
    millimeters = unit is not None and unit.code == "mm"
    return near(a, b) or (millimeters and abs(a.value - b.value) <= SLIP)


def is_second_look(words: Sequence[str], a: Measure, b: Measure, gap: Gap, lexicon: QuantityWords) -> bool:
    """A second look: 'Eighty, let me see the sheet, eighty-four minutes', 'Eight. Let me measure again. Twelve.'."""
    if words[a.end] not in STOPS:
        return False
    looks = [found[0] for k in range(a.end, b.start) if (found := lexicon.second_look.at(words, k))]
    if not looks or any(w in lexicon.sizes for w in (*gap.before, *gap.after)):
        return False
    if a.bare and gap.ends <= 1 and near(a, b) and (b.unit is not None or _alone(words, a.end, b, lexicon)):
        return len(gap.before) + len(gap.after) <= MOST_LOOK
    once_more = AGAIN in looks and b.unit in {None, a.unit} and not follows_noun(words, b.end, lexicon)
    if not (once_more or _little_off(a, b)) or a.bare or b.unit not in {None, a.unit}:
        return False
    return len(gap.before) + len(gap.after) <= MOST_FREE and _alone(words, a.end, b, lexicon)


def is_looked_at_again(
    words: Sequence[str], first: tuple[Measure, Measure], second: tuple[Measure, Measure], lexicon: QuantityWords
) -> bool:
    """'Eighteen by twelve, let me see again, eighteen by thirteen millimeters': a size, and at once as it is read."""
    gap = read_gap(words, first[1].end, second[0].start, lexicon)
    if gap.ends > 2 or not all(near(a, b) for a, b in zip(first, second, strict=True)):
        return False
    if len(gap.before) + len(gap.after) > MOST_LOOK or any(w in lexicon.sizes for w in (*gap.before, *gap.after)):
        return False
    return any(lexicon.second_look.at(words, k) for k in range(first[1].end, second[0].start))


def is_written_otherwise(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> bool:
    """'I wrote down four centimeters, but it was an inch and a half': what was only written, and then what it was."""
    opens = b.start
    while opens > a.end and words[opens - 1] in IN_FACT:
        opens -= 1
    told = words[a.end : opens]
    before = range(max(0, a.start - MOST_LOOK), a.start)
    said = {found[0] for k in before if (found := lexicon.written.at(words, k))}
    done_with = not WITH.isdisjoint(words[max(0, a.start - 2) : a.start])  # 'at first with the reamer of 8'
    if READ_FIRST in said and not done_with and near(a, b) and not any(w in lexicon.sizes or w in AFRESH for w in told):
        then = opens < b.start or words[opens - 1] in READING or b.end >= len(words) or words[b.end] in STOPS
        apart = any(w in STOPS for w in told)
        return apart and then and b.unit in {None, a.unit} and not follows_noun(words, b.end, lexicon)
    if BE.isdisjoint(words[opens : b.start]) or len(told) > MOST_LOOK:
        return False
    return bool(said - {READ_FIRST}) or any(lexicon.written.at(words, k) for k in range(a.end, opens))


def near(a: Measure, b: Measure) -> bool:
    """Whether two values are near enough for the second to be the first, or its far end, looked at again."""
    far_end = a.high if a.value is None and a.low is not None else a.value  # 'zero to 120, let me see, 125 degrees'
    values = [v for v in (far_end, b.value) if v is not None]
    return len(values) == 2 and abs(values[0] - values[1]) <= CLOSE * max(values)
