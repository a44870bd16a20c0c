"""Numbers as they are said: cardinals in words, figures, decimals, fractions in signs."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache

from extractor.language.phrases import Phrases, common_lists, phrases_of, ways
from extractor.language.values import value

NUMBERS_FILE = "numbers.txt"
FIGURE = re.compile(r"-?(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?$|\.\d+$")
MIXED = re.compile(r"(\d{0,6})([\u00bc-\u00be\u2150-\u215e])$")
LONGEST = 15
"""Figures longer than this are an identifier, not an amount."""
DENOMINATORS = (2, 3, 4, 5, 8, 10, 16)
MOST_DECIMALS = 6
BOTH = frozenset({"between", "from", "both", "to", "and"})


@dataclass(frozen=True)
class NumberWords:
    """The numbers file made ready for reading."""

    cardinals: dict[str, int]
    scales: dict[str, int]
    zeros: frozenset[str]
    fractions: dict[str, Fraction]
    vague: Phrases
    grouping: dict[str, int]
    roman: dict[str, int]
    before_point: frozenset[str]
    noun_point: frozenset[str]
    typed_sizes: dict[str, int]
    """Suture sizes in one token: 'two-0', '2o', '3oh'."""
    roman_heard: dict[str, int]
    """'vi' to 'xl', which a recognizer may make of a number."""
    one_unit: Phrases
    """Units of which 'a hundred and ten' is one number, however it is written."""
    opening: frozenset[str]
    """Words that may open a number, of those that are nothing but letters."""


@lru_cache(maxsize=1)
def number_words() -> NumberWords:
    """The shipped numbers file."""
    lists = common_lists(NUMBERS_FILE)

    def integers(name: str) -> dict[str, int]:
        return {way: int(value) for way, value in ways(lists[name])}

    cardinals, zeros = integers("cardinals"), frozenset(way for way, _ in ways(lists["zero-letters"]))
    digits = {way: value for way, value in cardinals.items() if 1 <= value <= 9}
    typed = {f"{way}-{zero}": value for way, value in digits.items() for zero in ("0", *zeros)}
    typed |= {f"{value}{dash}{zero}": value for value in range(1, 10) for zero in zeros for dash in ("", "-")}
    return NumberWords(
        cardinals,
        integers("scales"),
        zeros,
        {way: Fraction(value) for way, value in ways(lists["fractions"])},
        phrases_of(ways(lists["vague"])),
        integers("grouping"),
        integers("roman"),
        frozenset(way for way, _ in ways(lists["before-point"])),
        frozenset(way for way, _ in ways(lists["noun-point"])),
        typed,
        {_roman(value): value for value in range(6, 41)},
        phrases_of(ways(lists["one-unit"])),
        zeros.union(cardinals, integers("scales"), typed, {"point"}),
    )


def _roman(value: int) -> str:
    """A number up to forty in roman letters."""
    tens = {0: "", 1: "x", 2: "xx", 3: "xxx", 4: "xl"}[value // 10]
    return tens + ("", "i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix")[value % 10]


@value(frozen=True, slots=True)
class Number:
    """One number as said.

    Attributes:
        start: first token.
        end: token after the last.
        value: the number; None for an identifier.
        figures: written in figures.
        digit: the one digit this is ("8" for "eight"), empty for any other number.
        tens: for "fifty five" the 50 it opens with, else 0.
        whole: an integer in words or figures, to which "and a half" may be added.
        form: "number", "suture" (text "2-0"), "identifier" (text), "year", "date", "fraction".
        text: suture size or identifier, as written.
        twice: said twice for safety, the second time digit by digit.
        rivals: the other value where the two sayings disagree.
    """

    start: int
    end: int
    value: float | None
    figures: bool = False
    digit: str = ""
    tens: int = 0
    whole: bool = True
    form: str = "number"
    text: str = ""
    twice: bool = False
    rivals: tuple[float, ...] = ()


def atom_at(words: Sequence[str], i: int) -> Number | None:
    """The smallest number that opens at token `i`: one cardinal, figure or decimal."""
    if i >= len(words):
        return None
    word = words[i]
    lexicon = number_words()
    if word.isalpha() and word not in lexicon.opening:
        return None  # as nearly every word
    size = lexicon.typed_sizes.get(word)
    if size is not None:
        return Number(i, i + 1, float(size), form="suture", text=f"{size}-0", whole=False)
    if word[:1].isdigit() or word[:1] in ".-" or (len(word) <= 7 and MIXED.match(word)):
        return _decimal(words, _figure_at(words, i))
    if word in lexicon.cardinals or word in lexicon.scales:
        return _decimal(words, _cardinal_at(words, i, lexicon))
    if word in lexicon.zeros and i + 1 < len(words) and words[i + 1] == "point":
        return _decimal(words, Number(i, i + 1, 0.0))
    if word == "point" and not (i and words[i - 1] in lexicon.noun_point):
        return _point_at(words, i, lexicon)
    return None


def _point_at(words: Sequence[str], i: int, lexicon: NumberWords) -> Number | None:
    """'point five': a decimal, with the whole number as a rival where 'point' could end a name."""
    opened = _decimal(words, Number(i, i, 0.0))
    if opened is None or opened.end == i or opened.value is None:
        return None
    sure = i == 0 or words[i - 1] in lexicon.before_point or not words[i - 1][:1].isalnum()
    return (
        opened if sure else replace(opened, rivals=(float(f"{opened.value:.{MOST_DECIMALS}f}".rstrip("0")[2:] or 0),))
    )


def _figure_at(words: Sequence[str], i: int) -> Number | None:
    word = words[i]
    mixed = MIXED.match(word)
    if mixed:
        return Number(i, i + 1, float(mixed[1] or 0) + unicodedata.numeric(mixed[2]), True, whole=False)
    if not FIGURE.match(word):
        return None
    if len(word) > LONGEST:
        return Number(i, i + 1, None, True, form="identifier", text=word, whole=False)
    value = float(word.replace(",", ""))
    special = _slashed(words, i, word) or _oh_after(words, i, word)
    if special:
        return special
    end = i + 1
    whole = "." not in word
    if whole and end < len(words):
        part = MIXED.match(words[end]) if len(words[end]) == 1 else None
        if part:
            return Number(i, end + 1, value + unicodedata.numeric(part[2]), True, whole=False)
        inner = _slashed(words, end, words[end]) if words[end].isdigit() else None
        if inner and inner.form == "fraction" and inner.value is not None:
            return Number(i, inner.end, value + inner.value, True, whole=False)
        scale = number_words().scales.get(words[end])
        if scale:
            return Number(i, end + 1, value * scale, True)
        if _goes_on(words, i, value):
            return Number(i, end + 2, value + float(words[end + 1]), True)
    return Number(i, end, value, True, word if len(word) == 1 else "", whole=whole)


def _goes_on(words: Sequence[str], i: int, hundreds: float) -> bool:
    """'100 and 10 degrees': recognized so for 'one hundred and ten'; no angle or time is said of both."""
    after = words[i + 1 : i + 4]
    if hundreds % 100 or not 0 < hundreds < 1000 or len(after) < 3 or after[0] != "and":
        return False
    if number_words().one_unit.at(words, i + 3) is None:
        return False
    return after[1].isdecimal() and 0 < int(after[1]) < 100 and not (i and words[i - 1] in BOTH)


def _slashed(words: Sequence[str], i: int, word: str) -> Number | None:
    """'1/2', '2/0' and '2-0' (suture sizes), '09/04/03': figures joined by a sign."""
    if i + 2 >= len(words) or words[i + 1] not in "/-" or not word.isdigit():
        return None
    sign, other = words[i + 1], "0" if words[i + 2] in number_words().zeros else words[i + 2]
    if not other.isdigit():
        return None
    if len(word) > 4 or len(other) > 4:
        return None
    third = words[i + 4] if i + 4 < len(words) and words[i + 3] == sign and words[i + 4].isdigit() else ""
    if len(third) in (2, 4) and (sign == "/" or len(word) == len(other) == 2):
        return Number(i, i + 5, None, True, form="date", whole=False)
    if other == "0" and int(word) <= 12:
        return Number(i, i + 3, float(word), True, form="suture", text=f"{int(word)}-0", whole=False)
    if sign == "/" and int(other) in DENOMINATORS and 0 < int(word) < int(other):
        return Number(i, i + 3, int(word) / int(other), True, form="fraction", whole=False)
    return None


def _oh_after(words: Sequence[str], i: int, word: str) -> Number | None:
    """'2 oh nylon' and '20 oh nylon', both of size 2-0; '2 o clock' and '1 oh 8' are something else."""
    zeros = number_words().zeros
    if i + 1 >= len(words) or words[i + 1] not in zeros:
        return None
    after = words[i + 2] if i + 2 < len(words) else ""
    digit = word[0] if len(word) == 1 or (len(word) == 2 and word[1] == "0") else "0"
    if digit == "0" or after in ("clock", "'", "point") or after[:1].isdigit() or after in number_words().cardinals:
        return None
    return Number(i, i + 2, float(digit), True, form="suture", text=f"{digit}-0", whole=False)


def _cardinal_at(words: Sequence[str], i: int, lexicon: NumberWords) -> Number | None:
    """A cardinal in words, to the billions: 'two hundred and fifty', 'hundred ten', 'two thousand nineteen'."""
    total, end, tens = 0.0, i, 0
    ceiling = 10**12
    while True:
        group = _below_thousand(words, end, lexicon, opening=end == i)
        if group is None:
            break
        value, end, group_tens = group
        scale = lexicon.scales.get(words[end], 0) if end < len(words) else 0
        if not 1000 <= scale < ceiling:
            if end - i <= 3 and total == 0:
                tens = group_tens
            total += value
            break
        total += value * scale
        end, ceiling = end + 1, scale
        after = end + 1 if end < len(words) and words[end] == "and" else end
        following = _below_thousand(words, after, lexicon, opening=False)
        if following is None or following[0] == 0:
            break
        end = after
    if end == i:
        return None
    digit = str(int(total)) if end == i + 1 and total < 10 else ""
    return Number(i, end, total, digit=digit, tens=tens)


def _below_thousand(words: Sequence[str], i: int, lexicon: NumberWords, opening: bool) -> tuple[int, int, int] | None:
    """A number below one hundred, or of hundreds: value, end, and the tens of 'fifty five'."""
    if i >= len(words):
        return None
    below = _below_hundred(words, i, lexicon)
    if below is None:
        scale = lexicon.scales.get(words[i], 0) if opening else 0
        if scale >= 1000:
            return 1, i, 0
        if scale != 100:
            return None
        below = (1, i, 0)
    value, end, tens = below
    if end < len(words) and lexicon.scales.get(words[end]) == 100 and 0 < value < 100:
        value, end, tens = value * 100, end + 1, 0
        after = end + 1 if end < len(words) and words[end] == "and" else end
        rest = _below_hundred(words, after, lexicon)
        if rest and rest[0] > 0:
            value, end = value + rest[0], rest[1]
    return value, end, tens


def _below_hundred(words: Sequence[str], i: int, lexicon: NumberWords) -> tuple[int, int, int] | None:
    value = lexicon.cardinals.get(words[i]) if i < len(words) else None
    if value is None:
        return None
    end = i + 1
    if value >= 20:
        after = end + 1 if end < len(words) and words[end] == "-" else end
        unit = lexicon.cardinals.get(words[after], 0) if after < len(words) else 0
        if 0 < unit < 10:
            return value + unit, after + 1, value
    return value, end, 0


def _decimal(words: Sequence[str], number: Number | None) -> Number | None:
    """Add what is said after 'point': digits one by one, or 'point twenty five'."""
    if number is None or number.value is None or not number.whole or number.form != "number":
        return number
    i = number.end
    if i + 1 >= len(words) or words[i] != "point":
        return number
    lexicon = number_words()
    digits, end = "", i + 1
    while end < len(words) and len(digits) < MOST_DECIMALS:
        word = words[end]
        value = 0 if word in lexicon.zeros else lexicon.cardinals.get(word)
        if value is None and word.isdecimal() and len(word) <= 3 and not digits:
            digits, end = word, end + 1
            break
        if value is None or value > 9:
            break
        digits, end = digits + str(value), end + 1
    if not digits:
        below = _below_hundred(words, i + 1, lexicon)
        if below is None:
            return number
        digits, end = str(below[0]), below[1]
    return replace(number, end=end, value=float(f"{int(number.value)}.{digits}"), digit="", tens=0, whole=False)


def spelled(value: float) -> str:
    """The digits of a value as one would spell them: 18 gives '18', 8.5 gives '8.5'."""
    return f"{value:g}"


def confusable(a: float, b: float) -> bool:
    """Whether one value is heard for the other: fifteen and fifty, eighteen and eighty."""
    low, high = sorted((a, b))
    return 13 <= low <= 19 and high == (low - 10) * 10
