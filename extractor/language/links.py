"""How two neighboring measures hang together: a range, a correction, a count, a product, a repetition."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.language.gaps import PRODUCT_SIGNS, SENTENCE_ENDS, STOPS, Gap, is_held_up, read_gap
from extractor.language.measure import QUANTITY, Measure
from extractor.language.numbers import atom_at
from extractor.language.quantity_words import QuantityWords
from extractor.language.said_anew import is_alone_again, is_second_look, is_written_otherwise, near
from extractor.language.second_thoughts import is_doubted
from extractor.language.sorts import follows_noun
from extractor.language.units import Unit, convert

LONGEST_GAP = 16
"""Tokens between a number and its correction, at most."""
MOST_FREE = 8
"""Words between them that are in no list, at most, after a strong word of correction."""
ARCS = frozenset(range(30, 151, 5))
"""Degrees at which a span of motion is told to end (common practice, no source)."""
STEP = 1
"""Millimeters by which a range may be told falling ('three to two'); what falls further is a size."""
MOST_PLACE = 3
"""Words of a place between a settled value and its repetition: 'thirty-two on the board, thirty-two it is'."""
MOST_SAME = 4
"""Words said before a number and again before its correction, at most: 'for four weeks, no, for six'."""
MOST_ENDS = 4
"""Sentence ends between a number and its correction, at most."""
BENT = ("of", "flexion")
TRIPLE_SIGNS = frozenset({"to", "-"})
LONGEST_BY = 8
"""Tokens from a 'by' to the number behind it, fillers between them, at most."""
OTHER_SIGNS = frozenset({"times", "on"})
"""Said for 'by' between two lengths of which the first is no smaller: 'twenty-two on eleven millimeters'."""
RANGE_SORTS = frozenset({QUANTITY, "grade", "age", "gauge"})
REMARK = 8
"""Tokens from a 'from' to the number a remark keeps it from, at most."""


def same_kind(a: Measure, b: Measure) -> bool:
    """Whether two measures can be values of one thing: of one sort, or one bare, and no units of two dimensions."""
    if a.pronoun or b.pronoun or a.sort not in RANGE_SORTS or b.sort not in RANGE_SORTS:
        return False
    if a.sort != b.sort and not (a.bare or b.bare):
        return False
    return a.unit is None or b.unit is None or a.unit.dimension == b.unit.dimension


def sort_of(a: Measure, b: Measure) -> str:
    """The sort of two values of one thing: 'grade three to four' are both grades."""
    return b.sort if a.sort == QUANTITY else a.sort


def value_in(value: float, unit: Unit | None, into: Unit | None) -> float:
    """A value in another unit; a bare one takes the unit as it is."""
    return value if unit is None or into is None else convert(value, unit, into)


BETWEEN = frozenset({"length", "volume", "plan_time", "share"})
"""Dimensions in which two neighboring numbers side by side are a range. This project's choice."""
LENGTHS_APART = (0.5, 1)
SHARES_APART = (5, 10)
"""How far apart they are: 'twelve, thirteen millimeters', 'twenty, twenty-five percent'. This project's choice."""


def is_range(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> bool:
    """'one to two', 'three or four', '3-4', 'between five and six', 'eleven, maybe twelve'."""
    if not same_kind(a, b) or a.value is None or b.value is None or b.start - a.end > 6 or a.rivals or b.rivals:
        return False
    if b.unit is None and a.unit is not None and follows_noun(words, b.end, lexicon):
        return False
    gap = tuple(words[a.end : b.start])
    if _is_triple(words, a, b):
        return False
    if not gap and a.value == 0 and a.bare:
        return b.unit.dimension == "angle" if b.unit else _is_arc(words, a, b)  # 'brace 0 90 degrees'
    if b.maybe:
        return _is_hedge(words, gap, a, b, lexicon)
    if not gap and a.sort == b.sort == "grade":
        return a.value < b.value  # 'grade II-III', its hyphen lost
    if a.from_word and gap in (("and",), ("or",)):
        return a.value < b.value or a.unit != b.unit
    if gap and gap[0] == ",":
        gap = gap[1:]
        if gap != ("or",) and not (gap == ("to",) and _behind_remark(words, a)):
            return not gap and _is_neighbor(words, a, b)
    if gap[:2] == BENT and a.unit is not None and a.unit.dimension == "angle":
        gap = gap[2:]  # 'from ten degrees of flexion to one hundred ten'
    if not gap or lexicon.range.whole(gap, 0, len(gap)) is None or is_falling(words, a, b):
        return False
    return gap != ("-",) or a.value < value_in(b.value, b.unit, a.unit)


def _behind_remark(words: Sequence[str], a: Measure) -> bool:
    """'She goes from, let me see, zero, to one thirty': a span that a remark, set off by pauses, holds up."""
    if a.unit is not None and a.unit.dimension != "angle":
        return False
    first = max(0, a.start - REMARK)
    held_up = any(words[i] == "from" and words[i + 1] == "," for i in range(first, a.start - 1))
    return words[a.start - 1] == "from" or (words[a.start - 1] == "," and held_up)


def _is_neighbor(words: Sequence[str], a: Measure, b: Measure) -> bool:
    """'Twelve, thirteen millimeters', 'one, one and a half millimeters': two neighbors side by side, and no third."""
    if not a.bare or a.sort != QUANTITY or b.unit is None or b.unit.dimension not in BETWEEN or b.inherited:
        return False
    third = (a.start > 1 and words[a.start - 1] == "," and atom_at(words, a.start - 2) is not None) or (
        b.end + 1 < len(words) and words[b.end] == "," and atom_at(words, b.end + 1) is not None
    )
    apart = SHARES_APART if b.unit.dimension == "share" else LENGTHS_APART
    return not third and a.value is not None and b.value is not None and b.value - a.value in apart


def _is_arc(words: Sequence[str], a: Measure, b: Measure) -> bool:
    """'Orthosis 0 90': figures of a span of motion, its hyphen lost."""
    return a.figures and b.figures and b.sort == QUANTITY and b.value in ARCS


def _is_fragment(words: Sequence[str], b: Measure) -> bool:
    """Whether a measure is all of its sentence but for a hedge: '... Maybe ninety-five percent.'."""
    opens = b.start == 0 or words[b.start - 1] in SENTENCE_ENDS
    return opens and (b.end >= len(words) or words[b.end] in SENTENCE_ENDS)


def _is_triple(words: Sequence[str], a: Measure, b: Measure) -> bool:
    """'5-0-140', 'zero to five to one forty': three positions, not a range."""
    after = b.end + 1 < len(words) and words[b.end] in TRIPLE_SIGNS and atom_at(words, b.end + 1) is not None
    return after or (a.start > 1 and words[a.start - 1] in TRIPLE_SIGNS and atom_at(words, a.start - 2) is not None)


def _is_hedge(words: Sequence[str], gap: tuple[str, ...], a: Measure, b: Measure, lexicon: QuantityWords) -> bool:
    if len(gap) == 2 and gap[0] in lexicon.dimension and gap[1] == "," and b.unit is None and a.unit is not None:
        gap = gap[1:]  # 'three millimeters wide, maybe four'
    far = not all(w in (",", "or", "-", "to", "and") for w in gap)
    ends = sum(w in SENTENCE_ENDS for w in gap)
    same = a.unit == b.unit or (b.unit is None and gap == (".",))
    if far and (a.unit is None or not same or ends > 1 or (ends and not _is_fragment(words, b))):
        return False
    if far and gap[0] != "of" and len(gap) > 1:
        return False
    low, high = sorted((a.value or 0.0, value_in(b.value or 0.0, b.unit, a.unit)))
    return low < high <= 2 * max(low, 1)


def is_correction(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> bool:
    """'eighteen, no, nineteen', 'twenty four, wait, let me push it flat, twenty six'."""
    if not same_kind(a, b) or b.start - a.end > LONGEST_GAP or (a.value is None and a.low is None and a.high is None):
        return False
    if is_held_up(words, a.end, b.start):
        return False
    label = lexicon.sort_before.before(words, b.start, a.end) if b.sort == "grade" else None
    opens = label[1] if label else b.start
    gap = read_gap(words, a.end, opens - _same_before(words, a.start, opens, a.end), lexicon)
    if a.number_start and words[a.number_start - 1] == "not" and not gap.cue:
        return _plain_denial(words, a, b, gap, lexicon)
    if not gap.cue or gap.ends > MOST_ENDS:
        second = is_second_look(words, a, b, gap, lexicon) or is_written_otherwise(words, a, b, lexicon)
        return not gap.cue and (second or is_doubted(words, a, b, lexicon))
    if words[b.start - 2 : b.start] == ["make", "it"] and _makes_another(words, a.end, b):
        return False
    counted = b.unit is None and follows_noun(words, b.end, lexicon)
    if _is_next(words, a, b) or _other_size(words, gap, b, lexicon) or _turned_to(words, a.end, b.start, lexicon):
        return False
    if gap.before:
        after = words[b.end] if b.end < len(words) else "."
        thing = len(gap.before) == 1 and a.bare and b.bare and (after == gap.before[0] or not after[:1].isalnum())
        if not thing and (counted or len(gap.before) > 4 or not set(gap.before) <= lexicon.dimension):
            return False
        if gap.after:
            return False
    elif counted and (a.unit is not None or a.sort != b.sort):
        return False
    if not gap.after:
        return True
    return not counted and _after_talk(words, a, b, gap, lexicon)


def _makes_another(words: Sequence[str], start: int, b: Measure) -> bool:
    """'It is eleven. So make it ten by nine': what follows from a size is another; 'ten, make it 15' is not."""
    return "so" in words[start : b.start] or not PRODUCT_SIGNS.isdisjoint(words[b.end : b.end + 1])


def _after_talk(words: Sequence[str], a: Measure, b: Measure, gap: Gap, lexicon: QuantityWords) -> bool:
    """'Eighteen, wait, the hook slipped, nineteen': words in no list stand behind the word of correction."""
    if len(gap.after) > MOST_FREE:
        return False
    if is_alone_again(words, a, b, gap, lexicon):
        return True
    if gap.cue != "strong":
        return False
    if a.unit is not None and (b.unit not in {None, a.unit} or any(w in lexicon.sizes for w in gap.after)):
        return False
    if a.unit is None and gap.stop and not gap.ends and words[b.start - 1] not in ("the", "a", "an"):
        return True
    return gap.after[0] in lexicon.look_again and near(a, b)


def _is_next(words: Sequence[str], a: Measure, b: Measure) -> bool:
    """'Nineteen millimeters. No. 5. Graft thawed.': the next of a list."""
    return words[b.start - 1] == "no." and b.bare and not a.bare


def _same_before(words: Sequence[str], a: int, b: int, floor: int) -> int:
    """How many words stand before token `a` and again before `b`: the 'for' of 'for four weeks, no, for six'."""
    k = 0
    while k < MOST_SAME and b - k > floor + 1 and a - k > 0 and words[b - k - 1] == words[a - k - 1]:
        if not words[b - k - 1].isalpha():
            break
        k += 1
    return k


def _other_size(words: Sequence[str], gap: Gap, b: Measure, lexicon: QuantityWords) -> bool:
    """Whether the second number is said of another size: 'eighteen long, no, ten wide', 'nine, wait, length, ten'."""
    first = {lexicon.sizes[w] for w in gap.before if w in lexicon.sizes}
    second = {lexicon.sizes[w] for w in (*gap.after, *words[b.end : b.end + 1]) if w in lexicon.sizes}
    return bool(first and second and first != second) or any(w in lexicon.sizes for w in gap.after)


def _turned_to(words: Sequence[str], start: int, end: int, lexicon: QuantityWords) -> bool:
    """'Eighteen millimeters. And the width. Hold on. Nine.': another size is named in a sentence behind the first."""
    stop = next((k for k in range(start, end) if words[k] in SENTENCE_ENDS), end)
    pause = next((k for k in range(start, end) if words[k] in STOPS), end)
    named = (k for k in range(pause, end) if words[k] in lexicon.sizes)
    return any(k > stop or words[k - 1] == "the" for k in named)


def _plain_denial(words: Sequence[str], a: Measure, b: Measure, gap: Gap, lexicon: QuantityWords) -> bool:
    """'not eighteen but nineteen', 'not eighteen, nineteen'."""
    counted = b.unit is None and follows_noun(words, b.end, lexicon)
    return not (gap.before or gap.ends or counted) and b.start > a.end


def is_denied_after(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> bool:
    """'nineteen millimeters, not ninety': the second is what it is not."""
    gap = tuple(words[a.end : b.start])
    if gap not in (("not",), (",", "not")) or not same_kind(a, b) or a.value is None or b.value is None:
        return False
    return a.value != b.value and not (b.unit is None and follows_noun(words, b.end, lexicon))


def is_count(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> bool:
    """Two steps of counting along marks: both bare but perhaps the last, rising, nothing but fillers between."""
    if not a.bare or a.value is None or b.value is None or b.sort != QUANTITY or b.pronoun or a.value > b.value:
        return False
    if b.unit is not None and b.unit.dimension != "length":
        return False
    k, ends = a.end, a.value < b.value
    if b.start - k > 10:
        return False
    while k < b.start:
        end = lexicon.count_end.at(words, k)
        ends = ends or bool(end)
        filler = end or lexicon.count_filler.at(words, k)
        if filler and filler[1] <= b.start:
            k = filler[1]
        elif words[k] in (",", "-"):
            k += 1
        else:
            return False
    return ends


def is_repeat(words: Sequence[str], a: Measure, b: Measure, settled: bool, lexicon: QuantityWords) -> bool:
    """'eighteen, eighteen millimeters'; after a correction or a count also 'nineteen. Nineteen millimeters'."""
    if words[a.end : b.start] == ["-"]:
        return False
    if not same_kind(a, b) or a.value is None or b.value is None or b.start - a.end > 8 or b.start == a.end:
        return False
    once = a.unit is not None and not settled and not _told_again(words, a, b, lexicon)
    if value_in(a.value, a.unit, b.unit) != b.value or once:
        return False
    k, ends, free = a.end, 0, 0
    while k < b.start:
        filler = lexicon.said_again.at(words, k)
        if filler is None and settled:
            filler = lexicon.count_filler.at(words, k) or lexicon.filler.at(words, k)
        if filler and filler[1] <= b.start:
            k = filler[1]
            continue
        if words[k][:1].isalnum():
            free += 1
            if words[k] in lexicon.sizes or ends:
                return False
        elif words[k] not in SENTENCE_ENDS | {",", "-"}:
            return False
        ends += words[k] in SENTENCE_ENDS
        k += 1
    if b.unit is None and follows_noun(words, b.end, lexicon):
        return False
    if free:
        return settled and free <= MOST_PLACE and ends <= 1 and _at_rest(words, b)
    return ends <= 1 if settled else ends == 0


def _told_again(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> bool:
    """'Twenty millimeters, keep twenty': said to be the same, where its unit is left out."""
    return b.bare and any(lexicon.said_again.at(words, k) for k in range(a.end, b.start) if words[k] != ",")


def _at_rest(words: Sequence[str], b: Measure) -> bool:
    """Whether nothing is measured by the number: 'on the board, thirty-two it is', 'so it's twenty-three.'."""
    after = words[b.end] if b.end < len(words) else "."
    return not after[:1].isalnum() or after in ("it", "then")


def is_alone(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> bool:
    """'One millimeter. Two.': a bare number that is all of the sentence behind a length, and another value."""
    if a.unit is None or a.unit.dimension != "length" or not b.bare or b.sort != QUANTITY or b.pronoun:
        return False
    if a.value is None or b.value is None or a.value == b.value or not _is_fragment(words, b):
        return False
    gap = read_gap(words, a.end, b.start, lexicon)
    return gap.ends == 1 and set(gap.before) <= lexicon.sizes.keys() and not gap.after


def is_said_after(words: Sequence[str], a: Measure, b: Measure, c: Measure, lexicon: QuantityWords) -> bool:
    """'... Two. It's two millimeters': the number said alone is said again, with the unit of the one before it."""
    if c.unit is None or c.unit != a.unit or c.value != b.value or c.start - b.end > LONGEST_GAP:
        return False
    gap = read_gap(words, b.end, c.start, lexicon)
    return gap.ends == 1 and not gap.before and not gap.after


def is_product(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> bool:
    """'12 by 10', 'seven millimeters wide by nine deep', 'twenty in length by ten in width'."""
    size = b.start - a.end
    by = _by_and_filler(words, a.end, b.start, lexicon) if size > 1 else None
    if by is not None:
        return is_product(words, a, replace(b, start=by + 1), lexicon)  # 'seventeen by, let me see, nine'
    if not 1 <= size <= 6:
        return False
    if words[b.start - 1] not in PRODUCT_SIGNS:
        return _is_dashed(words, a, b) or _is_otherwise_said(words, a, b) or is_falling(words, a, b)
    if a.sort != QUANTITY or b.sort != QUANTITY or a.pronoun:
        return False
    if a.unit and b.unit and a.unit.dimension != b.unit.dimension:
        return False
    return all(words[k] in lexicon.dimension or words[k] == "," for k in range(a.end, b.start - 1))


def _by_and_filler(words: Sequence[str], start: int, end: int, lexicon: QuantityWords) -> int | None:
    """The 'by' between two numbers that only fillers part from the second."""
    by = next((k for k in range(end - 2, max(start, end - LONGEST_BY) - 1, -1) if words[k] in PRODUCT_SIGNS), None)
    k = end if by is None else by + 1
    while k < end:
        filler = lexicon.filler.at(words, k)
        if filler and filler[1] <= end:
            k = filler[1]
        elif words[k] == ",":
            k += 1
        else:
            return None
    return by


def _is_otherwise_said(words: Sequence[str], a: Measure, b: Measure) -> bool:
    """'22 mm on 11 mm', 'nineteen times nine millimeters', 'a screw eight times twenty-five'."""
    if b.start - a.end != 1 or words[a.end] not in OTHER_SIGNS or a.value is None or b.value is None:
        return False
    if a.sort != QUANTITY or a.pronoun or b.sort != QUANTITY:
        return False
    if words[a.end] == "times" and a.bare and b.bare:
        return True
    if b.unit is None or b.unit.dimension != "length":
        return False
    return a.value >= b.value and (a.unit is None or a.unit.dimension == "length")


def is_falling(words: Sequence[str], a: Measure, b: Measure) -> bool:
    """'It measures twenty to eleven millimeters' falls, so that it is no range but a size, the 'by' said as a 'to'.

    Not what was cut down 'from twenty to eleven', and not two neighbors ('three to two millimeters').
    """
    if tuple(words[a.end : b.start]) != ("to",) or not a.bare or a.from_word or a.value is None or b.value is None:
        return False
    if b.unit is None or b.unit.dimension != "length" or b.value <= 0:
        return False
    return a.value - b.value > STEP and words[a.start - 1 : a.start] not in (["from"], ["down"], ["between"])


def _is_dashed(words: Sequence[str], a: Measure, b: Measure) -> bool:
    """'21-10 millimeters' falls, so that it is no range: a product whose 'by' was heard as a dash."""
    if a.bare and b.bare and a.rivals and b.rivals:
        return tuple(words[a.end : b.start]) == ("-",)
    if not a.bare or b.unit is None or b.unit.dimension != "length" or a.value is None or b.value is None:
        return False
    triple = a.start > 1 and words[a.start - 1] == "-"
    return tuple(words[a.end : b.start]) == ("-",) and a.value >= b.value > 0 and not triple


def is_list(words: Sequence[str], a: Measure, b: Measure) -> str:
    """How two neighbors stand in a plain list: "and", "," or "" where they do not."""
    gap = tuple(words[a.end : b.start])
    if gap in (("and",), (",", "and"), ("and", "then")):
        return "and"
    return "," if gap == (",",) else ""
