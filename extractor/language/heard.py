"""Numbers as a speech recognizer writes them when the speaker pauses: '20-2 minutes' is 52, '820 sutures' eight 2-0.

A reading that another one could be meant by keeps that other one among the rivals, so that it is asked about.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from extractor.language.measure import Measure
from extractor.language.numbers import number_words
from extractor.language.quantity_words import QuantityWords
from extractor.language.sizes import thread_follows
from extractor.language.units import Unit, convert, unit_words

Found = tuple[list[Measure], int]
"""Measures and the token after them."""
ARTICLE_GLUED = re.compile(r"a-(\d{1,3})$")
TENS_HEARD = re.compile(r"([2-9])d([a-z]{2,8})$")
HOURS_GLUED = re.compile(r"(\d{1,2})h([0-5]\d)$")
DECIMAL_COMMA = re.compile(r"\d{1,2},\d{1,2}$")
HUNDREDTHS = re.compile(r"\d{1,3}\.(\d\d)$")
SURE = frozenset({"time", "share"})
"""Dimensions of which there is no product, so that '50-2 minutes' can only be 52."""
SPELT = SURE | {"angle", "volume", "pressure", "force", "length"}
"""Dimensions whose numbers are said digit by digit; '6-4 weeks' are not 64."""
LONGEST_IDENTIFIER = 15
DIGITS = frozenset("123456789")


def plain(words: Sequence[str]) -> list[str]:
    """The same tokens with stray dashes taken off numbers and units: 'four-', 'a-88' before a unit, '-minutes'.

    A comma in a number before a unit of length is a decimal one, as much of the world writes it: '1,5 cm'.
    """
    ready = list(words)
    for i, word in enumerate(words):
        if "," in word and DECIMAL_COMMA.match(word):
            unit = unit_words().at(words, i + 1, True)
            ready[i] = word.replace(",", ".") if unit and unit[0].dimension == "length" else word
        if "-" in word and len(word) > 1:
            ready[i] = _undashed(words, i, word)
    return ready


def _undashed(words: Sequence[str], i: int, word: str) -> str:
    following = words[i + 1] if i + 1 < len(words) else ""
    if word.endswith("-"):
        bare = word[:-1]
        number = bare.isdigit() or bare in number_words().cardinals
        return bare if number and not following[:1].isdigit() else word
    if word.startswith("-"):
        return word[1:] if word[1:].isalpha() and unit_words().at((word[1:],), 0, True) else word
    article = ARTICLE_GLUED.match(word)
    if article:
        pair = following == "-" and i + 2 < len(words) and words[i + 2].isdigit()
        if unit_words().at(words, i + 3 if pair else i + 1, True):
            return article[1]
    return word


def heard_at(words: Sequence[str], i: int, lexicon: QuantityWords) -> Found | None:
    """What a recognizer made of numbers at token `i`; None where nothing of the kind is there."""
    word = words[i]
    if not word[:1].isdigit():
        return _two_heard(words, i, lexicon)
    if not word.isdigit():
        return _glued(words, i, word)
    following = words[i + 1] if i + 1 < len(words) else ""
    if following == "-":
        return _triple(words, i, lexicon) or _dashed(words, i, lexicon)
    if following == ".":
        return _stopped(words, i, lexicon)
    return _two_heard(words, i, lexicon) or _run_together(words, i, lexicon) or _spaced(words, i)


def _glued(words: Sequence[str], i: int, word: str) -> Found | None:
    """'3dcc' for 'thirty cc', '1h57'."""
    hours = HOURS_GLUED.match(word)
    if hours:
        value = float(hours[1]) * 60 + float(hours[2])
        return [Measure(i, i + 1, i, i + 1, value, unit=unit_words().units["minute"], figures=True)], i + 1
    tens = TENS_HEARD.match(word)
    unit = unit_words().at((tens[2],), 0, True) if tens else None
    if tens is None or unit is None:
        return None
    digit = float(tens[1])
    return [Measure(i, i + 1, i, i + 1, digit * 10, unit=unit[0], figures=True, rivals=(digit,))], i + 1


def _two_heard(words: Sequence[str], i: int, lexicon: QuantityWords) -> Found | None:
    """'6 to 0 sutures' for 'six two-oh sutures', 'four or nylon' for 'four-oh nylon'."""
    numbers = number_words()
    if i + 2 < len(words) and words[i + 1] in lexicon.heard_oh and thread_follows(words, i + 2, lexicon):
        digit = words[i] if words[i].isdigit() else str(numbers.cardinals.get(words[i], 0))
        if digit + "0" in lexicon.oh_sizes and words[i + 2] not in lexicon.thread_plurals:
            return [_size(i, i + 2, digit)], i + 2
    if i + 3 >= len(words) or words[i + 1] not in lexicon.heard_two:
        return None
    count = int(words[i]) if words[i].isdigit() and len(words[i]) < 3 else numbers.cardinals.get(words[i], 0)
    zero = words[i + 2] == "0" or words[i + 2] in numbers.zeros or numbers.cardinals.get(words[i + 2]) == 0
    at = i + 4 if words[i + 3] == "," else i + 3
    if not zero or not 1 <= count <= 20 or not thread_follows(words, at, lexicon):
        return None
    return [_count(i, i + 1, count), _size(i + 1, i + 3, "2")], i + 3


def _run_together(words: Sequence[str], i: int, lexicon: QuantityWords) -> Found | None:
    """'820 sutures' for 'eight two-oh sutures', '206 millimeters apart' for 'two-oh, six millimeters apart'."""
    word = words[i]
    if len(word) != 3 or word[0] == "0":
        return None
    size, whole = lexicon.oh_sizes.get(word[1:]), (float(word),)
    if size and thread_follows(words, i + 1, lexicon, adjectives=2):
        # The figures are one token; the size is laid on the next, which speaks of the sutures.
        return [replace(_count(i, i + 1, int(word[0])), rivals=whole), _size(i + 1, i + 2, size)], i + 2
    size = lexicon.oh_sizes.get(word[:2]) if word[2] != "0" else None
    unit = unit_words().at(words, i + 1, True) if size else None
    if size is None or unit is None or unit[0].dimension != "length":
        return None
    if unit[1] >= len(words) or words[unit[1]] not in lexicon.apart:
        return None
    spacing = Measure(i, unit[1], i, i + 1, float(word[2]), unit=unit[0], figures=True, rivals=whole)
    return [spacing, _size(unit[1], unit[1] + 1, size)], unit[1] + 1


def _triple(words: Sequence[str], i: int, lexicon: QuantityWords) -> Found | None:
    """'5-0-140' are three positions of the knee, no suture size; '8-8-9' are sizes that ran into one another."""
    if i + 4 >= len(words) or words[i + 3] != "-" or (i and words[i - 1] == "-"):
        return None
    last, figures = words[i + 4], f"{words[i]}{words[i + 2]}"
    if not last.isdigit() or not figures.isdigit() or thread_follows(words, i + 5, lexicon, adjectives=2):
        return None
    if len(figures) == 2 and len(last) == 1 and "0" not in figures + last and words[i + 5 : i + 6] != ["-"]:
        doubt = (float(figures),)
        return [replace(_bare(k, float(words[k])), rivals=doubt) for k in (i, i + 2, i + 4)], i + 5
    if words[i + 2] != "0" or not 2 <= len(last) <= 3:
        return None
    unit = unit_words().at(words, i + 5, True)
    end = unit[1] if unit else i + 5
    ends = Measure(i + 4, end, i + 4, i + 5, float(last), unit=unit[0] if unit else None, figures=True)
    return [_bare(i, float(words[i])), _bare(i + 2, 0.0), ends], end


def _dashed(words: Sequence[str], i: int, lexicon: QuantityWords) -> Found | None:
    """'50-2 minutes', '8-8 minutes', '1-10 degrees', '9-7 millimeters', '8-2 sutures'."""
    if i + 2 >= len(words) or not words[i + 2].isdigit() or (i and words[i - 1] == "-"):
        return None
    if max(len(words[i]), len(words[i + 2])) > 2:
        return None
    a, b, k = int(words[i]), int(words[i + 2]), i + 3
    if k < len(words) and words[k] == "-":
        k += 1
    unit = unit_words().at(words, k, True)
    if unit is None:
        size = b <= a <= 20 and words[i + 2] + "0" in lexicon.oh_sizes
        if size and thread_follows(words, i + 3, lexicon, adjectives=2):
            return [_count(i, i + 1, a), replace(_size(i + 2, i + 3, words[i + 2]), rivals=(float(b),))], i + 3
        return None
    dimension = unit[0].dimension
    if a >= 20 and a % 10 == 0 and 1 <= b <= 9:
        return _joined(i, unit, a + b, () if dimension in SURE else (float(b),))
    if 1 <= a <= 9 and b <= 9 and b <= a:
        return _two_digits(i, unit, a, b)
    if b >= 10 and 1 <= a <= 9 and len(words[i]) == 1:
        return _hundred(words, i, unit, a, b)
    return None


def _two_digits(i: int, unit: tuple[Unit, int], a: int, b: int) -> Found | None:
    """'8-8 minutes' are 88; '9-7 millimeters' nine by seven, more likely than 97."""
    dimension = unit[0].dimension
    joined = 10 * a + b
    if dimension == "length" and b > 0:
        rivals = (float(joined),)
        first = replace(_bare(i, float(a)), rivals=rivals)
        second = Measure(i + 2, unit[1], i + 2, i + 3, float(b), unit=unit[0], figures=True, rivals=rivals)
        return [first, second], unit[1]
    if dimension not in SPELT:
        return None
    return _joined(i, unit, joined, () if dimension in SURE else (float(b),))


def _hundred(words: Sequence[str], i: int, unit: tuple[Unit, int], a: int, b: int) -> Found | None:
    """'2-50 millimeters of mercury' are 250, '0 to 1-10 degrees' go to 110; '1-10 cc' stay a range."""
    dimension, joined = unit[0].dimension, 100 * a + b
    if dimension == "pressure":
        return _joined(i, unit, joined, ())
    if a != 1 or dimension not in ("angle", "time"):
        return None
    if i > 1 and words[i - 1] == "to" and dimension == "angle":
        return _joined(i, unit, joined, ())
    return _joined(i, unit, joined, (float(b),)) if b >= 15 else None


def _stopped(words: Sequence[str], i: int, lexicon: QuantityWords) -> Found | None:
    """'It was 50. 2 minutes' for 52, where no new sentence can open with the minutes."""
    tens = int(words[i]) if len(words[i]) == 2 and words[i].isdecimal() else 0
    if tens < 20 or tens % 10 or i + 3 >= len(words) or words[i + 2] not in DIGITS:
        return None
    unit = unit_words().at(words, i + 3, True)
    if unit is None or unit[0].dimension != "time" or (unit[1] < len(words) and words[unit[1]] in lexicon.time_goes_on):
        return None
    return _joined(i, unit, tens + int(words[i + 2]), (float(words[i + 2]),))


def _spaced(words: Sequence[str], i: int) -> Found | None:
    """'50 8 minutes', '50 eight minutes' for 58; of lengths it may be fifty, and eight of them: it is asked about."""
    tens = int(words[i]) if len(words[i]) == 2 and words[i].isdecimal() else 0
    if tens < 20 or tens % 10 or i + 2 >= len(words):
        return None
    ones = words[i + 1] if words[i + 1] in DIGITS else str(number_words().cardinals.get(words[i + 1], 0))
    if ones not in DIGITS:
        return None
    unit = unit_words().at(words, i + 2, True)
    if unit is None or unit[0].dimension not in SPELT:
        return None
    value, digit = float(tens + int(ones)), float(ones)
    rivals = () if unit[0].dimension in SURE else (digit,)
    return [Measure(i, unit[1], i, i + 2, value, unit=unit[0], figures=True, rivals=rivals)], unit[1]


def _joined(i: int, unit: tuple[Unit, int], value: float, rivals: tuple[float, ...]) -> Found:
    return [Measure(i, unit[1], i, i + 3, float(value), unit=unit[0], figures=True, rivals=rivals)], unit[1]


def _bare(i: int, value: float) -> Measure:
    return Measure(i, i + 1, i, i + 1, value, figures=True)


def _count(start: int, end: int, value: float) -> Measure:
    return Measure(start, end, start, end, float(value), figures=True)


def _size(start: int, end: int, digit: str) -> Measure:
    return Measure(start, end, start, end, float(digit), sort="suture-size", text=f"{digit}-0", figures=True)


def identifier_before_length(words: Sequence[str], i: int, lexicon: QuantityWords) -> Found | None:
    """'tissue number 77141 millimeter': an identifier that ran into the length after it.

    A unit in the singular says that the length is one; before a plural all figures stay the identifier's, and the
    unit is left without a number.
    """
    skipped = 0
    while i < len(words) and words[i] in lexicon.identifier_skip and skipped < 3:
        i, skipped = i + 1, skipped + 1
    if i >= len(words) or not words[i].isdigit() or not 4 <= len(words[i]) <= LONGEST_IDENTIFIER:
        return None
    unit = unit_words().at(words, i + 1, True)
    if unit is None:
        return None
    name = Measure(i, i + 1, i, i + 1, None, figures=True, sort="identifier", text=words[i])
    said = words[unit[1] - 1]
    if not words[i].endswith("1") or len(said) < 4 or said.endswith("s"):
        return [name], i + 1
    one = Measure(i + 1, unit[1], i + 1, unit[1], 1.0, unit=unit[0], figures=True)
    return [replace(name, text=words[i][:-1]), one], unit[1]


def unlikely_unit(words: Sequence[str], measure: Measure, lexicon: QuantityWords) -> Measure:
    """Doubts that the number and its unit raise together: '10,000 liters' for ten milliliters, '8.59 minutes'."""
    unit, value = measure.unit, measure.value
    if unit is None or value is None:
        return measure
    small = lexicon.heard_thousand.get(unit.name)
    if small and measure.figures and value >= 1000 and value % 1000 == 0:
        into = unit_words().units[small]
        return replace(measure, value=value / 1000, unit=into, rivals=(convert(value, unit, into),))
    if unit.name == "mmHg" and 10 <= value < 100 and words[measure.number_start - 1] in lexicon.heard_two:
        return replace(measure, rivals=(*measure.rivals, 200 + value))  # 'to 60' for 'two sixty'
    if value < 0 and unit.dimension not in lexicon.signed:
        return replace(measure, value=-value, rivals=() if unit.dimension in SURE else (value,))
    hundredths = HUNDREDTHS.match(words[measure.number_start]) if unit.name == "minute" else None
    if hundredths and int(hundredths[1]):
        return replace(measure, rivals=(*measure.rivals, float(hundredths[1])))
    return measure
