"""What sort of number a measure is, and the hedges and bounds said around it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.language.measure import QUANTITY, Measure
from extractor.language.numbers import atom_at
from extractor.language.quantity_words import QuantityWords
from extractor.language.runs import FIRST_YEAR, LAST_YEAR
from extractor.language.sizes import suture_size

PAUSES = frozenset({".", ",", ";", ":", "?", "!", "\n", ")"})
LATE_BOUNDS = frozenset({"at-least", "at-most", "stressed"})
MOST_BETWEEN = 4
"""Words between a measured thing and the bound said at its end: 'five cc blood loss, tops'."""
MOST_OPENED = 4
"""Words from what is opened to how far it is: 'the skin was opened medially over four centimeters'."""
SPANNING, JOINING = frozenset({"between", "either"}), frozenset({"and", "or"})
MOST_FROM_ONE = 3
"""In a range from one that could be 'the anterior one to two', the far end at most. This project's choice."""
HEDGED = (QUANTITY, "age", "gauge")


def dress(words: Sequence[str], measure: Measure, floor: int, lexicon: QuantityWords) -> Measure:
    """Give a measure its sort, its hedges and its bounds."""
    measure = _sorted(words, measure, floor, lexicon)
    if measure.sort not in HEDGED:
        return measure
    if measure.value == 1 and measure.unit is None and words[measure.number_start] == "one":
        measure = replace(measure, pronoun=_is_pronoun(words, measure, lexicon))
    measure = _before(words, _negative(words, measure, floor, lexicon), floor, lexicon)
    return _after(words, measure, lexicon)


def follows_noun(words: Sequence[str], i: int, lexicon: QuantityWords) -> bool:
    """Whether the word at `i` is likely a thing counted by the number before it."""
    return i < len(words) and words[i][:1].isalpha() and words[i] not in lexicon.after_value


def _is_pronoun(words: Sequence[str], measure: Measure, lexicon: QuantityWords) -> bool:
    before = words[measure.start - 1] if measure.start else ""
    after = words[measure.end] if measure.end < len(words) else ""
    if before in SPANNING and after in JOINING and atom_at(words, measure.end + 1):
        return False  # 'between one and two millimeters'
    if lexicon.range.at(words, measure.end) and (far := atom_at(words, measure.end + 1)):
        named = _names_one(words, measure.start, lexicon)
        return named and far.value is not None and far.value > MOST_FROM_ONE
    return before in lexicon.one_before or after in lexicon.one_after


def _names_one(words: Sequence[str], one: int, lexicon: QuantityWords) -> bool:
    """Whether the 'one' at a token is named as one of several: 'the first one to eight', 'this one to eight'."""
    before, article = words[max(0, one - 2) : one][-1:], words[max(0, one - 2) : one - 1]
    return before in (["this"], ["that"], ["another"]) or (article == ["the"] and set(before) <= lexicon.one_before)


def _sorted(words: Sequence[str], measure: Measure, floor: int, lexicon: QuantityWords) -> Measure:
    """Find out what sort of number this is, from the words before and after it."""
    if measure.sort != QUANTITY or measure.value is None:
        return measure
    end = measure.end
    if measure.unit is None or measure.unit.dimension == "years":
        k = measure.number_end
        after = lexicon.sort_after.at(words, k + 1 if k < len(words) and words[k] == "-" else k)
        if after:
            return replace(measure, sort=after[0], end=max(after[1], end), unit=None)
    start = measure.number_start
    hyphen = start - 1 if start > floor and words[start - 1] == "-" else start
    label = lexicon.sort_before.before(words, hyphen, floor)
    if label and label[0] == "age" and (measure.unit is None or measure.unit.dimension == "years"):
        return replace(measure, sort="age", unit=None)
    if measure.unit is not None:
        return measure
    size = suture_size(words, measure, floor, lexicon)
    if size:
        return size
    if label and label[0] in ("grade", "ordinal"):
        return replace(measure, sort=label[0])
    return _calendar(words, measure, lexicon)


def _calendar(words: Sequence[str], measure: Measure, lexicon: QuantityWords) -> Measure:
    """Years, days of a month, and the numbers of a list."""
    start, end, value = measure.number_start, measure.end, measure.value or 0
    before = words[start - 1] if start else "\n"
    after = words[end] if end < len(words) else ""
    if value == int(value) and _is_year(words, measure, int(value), lexicon):
        return replace(measure, sort="year")
    month = before in lexicon.months or after in lexicon.months
    if before in lexicon.months_needing_a_year or after in lexicon.months_needing_a_year:
        year = atom_at(words, end + 1)
        month = year is not None and year.value is not None and year.value > 1900
    if month and 1 <= value <= 31:
        return replace(measure, sort="date")
    if before == "\n" and after in (".", ")") and measure.figures and value <= 30:
        return replace(measure, sort="ordinal")
    return measure


def _is_year(words: Sequence[str], measure: Measure, value: int, lexicon: QuantityWords) -> bool:
    """'in 2008', 'June 2008', 'two thousand nineteen'."""
    start = measure.number_start
    before = words[start - 1] if start else ""
    if measure.figures and len(words[start]) == 4 and 1900 <= value <= LAST_YEAR:
        if before in lexicon.year_before or before in lexicon.months or before in lexicon.months_needing_a_year:
            return True
    elif measure.figures:
        return False
    return FIRST_YEAR <= value <= LAST_YEAR and not follows_noun(words, measure.end, lexicon)


def _negative(words: Sequence[str], measure: Measure, floor: int, lexicon: QuantityWords) -> Measure:
    """'minus five degrees'."""
    start = measure.start
    if start <= floor or measure.value is None or words[start - 1] not in lexicon.negative:
        return measure
    if lexicon.plus_minus.before(words, start, floor):
        return measure
    return replace(measure, value=-measure.value, start=start - 1, number_start=start - 1)


def _before(words: Sequence[str], measure: Measure, floor: int, lexicon: QuantityWords) -> Measure:
    """Hedges and bounds said before: 'about', 'at least', 'up to about'."""
    dimension = measure.unit.dimension if measure.unit else "none"
    for _ in range(3):
        start = measure.start
        found = lexicon.before.before(words, start, floor)
        if found is None:
            break
        name, opens = found
        phrase = " ".join(words[opens:start])
        if phrase in lexicon.no_bound.get(dimension, ()) and not _told_amount(words, dimension, opens, lexicon):
            break
        if name == "between":
            return replace(measure, from_word=True)
        if name in ("at-most", "less", "at-least", "more") and measure.value is not None:
            if _no_bound(words, measure, phrase, opens, lexicon):
                break
            measure = bounded(measure, name in ("at-least", "more"), opens, measure.end)
        elif name == "maybe":
            measure = replace(measure, start=opens, about=True, maybe=True)
        else:
            measure = replace(measure, start=opens, about=measure.about or name == "about")
    return measure


def _told_amount(words: Sequence[str], dimension: str, opens: int, lexicon: QuantityWords) -> bool:
    """'Blood loss was under fifty': a bare number is bound where an amount is told, not in 'tied over two'."""
    return dimension == "none" and opens > 0 and words[opens - 1] in lexicon.amount_told


def _no_bound(words: Sequence[str], measure: Measure, phrase: str, opens: int, lexicon: QuantityWords) -> bool:
    """Whether a phrase of a bound is none here: 'went up to two fifty', 'over two by one centimeters'."""
    if measure.rivals:
        return True  # a bound has no rivals, and the doubt is the greater thing to tell
    if phrase == "up to":
        return opens > 0 and words[opens - 1] in lexicon.up_to_verbs
    if phrase == "over" and not lexicon.over_verbs.isdisjoint(words[max(0, opens - MOST_OPENED) : opens]):
        return True
    if phrase == "over" and measure.unit is not None and measure.unit.dimension == "area":
        graded = opens - 1 - (words[opens - 1 : opens] == [","])
        if measure.about or (graded > 0 and atom_at(words, graded) is not None):
            return True  # 'grade two over about one square centimeter'
    return words[opens] in lexicon.extent and words[measure.end : measure.end + 1] in (["by"], ["x"])


def _after(words: Sequence[str], measure: Measure, lexicon: QuantityWords) -> Measure:
    """Hedges and bounds said after: 'or so', 'or less', 'ten-ish'."""
    k = measure.end
    if k < len(words) and words[k] == "-":
        k += 1
    found = lexicon.after.at(words, k)
    late = lexicon.after.at(words, k + 1) if words[k : k + 1] == [","] else None
    if late and late[0] == "maybe" and words[late[1] : late[1] + 1] in ([], ["."], ["\n"]):
        found = late  # 'eighteen, perhaps.'
    if measure.pronoun or (found and atom_at(words, found[1]) is not None):
        return measure
    if found is None:
        return _bounded_later(words, measure, lexicon)
    name, end = found
    if name == "stressed":
        return _bounded_later(words, measure, lexicon)
    if name == "maybe":
        return replace(measure, about=True, maybe=True, end=end) if _at_pause(words, end) else measure
    if name == "about":
        return _bounded_later(words, replace(measure, about=True, end=end), lexicon)
    if measure.value is None or measure.rivals:
        return measure
    return bounded(measure, name == "at-least", measure.start, end)


def _bounded_later(words: Sequence[str], measure: Measure, lexicon: QuantityWords) -> Measure:
    """'five cc blood loss, tops': a bound said after the thing measured, whose words stay outside the quantity."""
    if measure.unit is None or measure.value is None or measure.rivals:
        return measure
    k = measure.end
    for _ in range(MOST_BETWEEN + 1):
        if k >= len(words):
            return measure
        found = lexicon.after.at(words, k + 1 if words[k] == "," else k)
        if found and found[0] == "about" and _at_pause(words, found[1]):
            return replace(measure, about=True)  # 'five millimeters apart, more or less'
        if found and found[0] in LATE_BOUNDS and _at_pause(words, found[1]):
            if found[0] == "stressed" and k == measure.end:
                return measure  # 'fifteen percent, no more than that' tells fifteen percent
            return bounded(measure, found[0] == "at-least", measure.start, measure.end)
        if not words[k].isalpha() or words[k] in lexicon.openers or lexicon.correction.at(words, k):
            return measure
        k += 1
    return measure


def _at_pause(words: Sequence[str], i: int) -> bool:
    """Whether nothing or a sign of punctuation stands at token `i`."""
    return i >= len(words) or words[i] in PAUSES


def bounded(measure: Measure, least: bool, start: int, end: int) -> Measure:
    """A measure whose one value is only a bound: the least it is, or the most."""
    if least:
        return replace(measure, start=start, end=end, low=measure.value, value=None)
    return replace(measure, start=start, end=end, high=measure.value, value=None)
