"""Pauses that a recognizer writes as full stops or commas where no thought ends: '18 by 9. Millimeters'.

Only signs that cannot be meant are left out: after an article or 'of', between a word that wants a number and the
number, and between a number and its unit. A note in which many full stops stand so was written by its pauses; there
they are also left out before and after words that only join. Where one in four cannot be meant, none tells anything,
and the note is read as one without punctuation (`unpunctuated`).
"""

from __future__ import annotations

from collections.abc import Callable

from extractor.language.clause_words import MONTHS, WEEKDAYS
from extractor.language.english import plain_words
from extractor.language.numbers import atom_at
from extractor.language.quantity_words import quantity_words
from extractor.language.tokens import Tokens
from extractor.language.units import unit_words

SIGNS = frozenset({".", ","})
OPEN = frozenset({"the", "a", "an", "of", "by"})
"""No thought ends with these, whatever follows."""
WANTS = frozenset({
    "to", "at", "from", "with", "through", "for", "is", "was", "are", "were", "measures", "measured", "about",
    "approximately", "between",
})  # fmt: skip
"""No thought ends with these before a number with its unit, or one that stands alone."""
JOINS_ON = frozenset({
    "to", "at", "from", "with", "through", "for", "is", "was", "are", "were", "has", "had", "have", "in", "on", "into",
    "onto", "under", "over", "and", "or", "but", "then", "i", "we", "she", "he", "they", "this", "these", "her", "his",
    "my", "our", "its", "will", "did", "not", "be", "been", "very", "about", "between", "near", "behind",
})  # fmt: skip
"""In a note written by its pauses no thought ends with these ..."""
GOES_ON = frozenset({
    "of", "to", "at", "from", "with", "through", "into", "onto", "under", "along", "by", "for", "which", "that", "long",
    "wide", "deep", "apart", "is", "was", "were", "are", "or",
})  # fmt: skip
"""... and none begins with these."""
NEVER_GO_ON = frozenset(
    {"of", "to", "is", "was", "were", "are", "or", "which", "into", "long", "wide", "deep", "apart"}
)
"""Of these no sentence at all begins with any."""
TAKEN, TAKEN_WHERE = "them", frozenset({"over", "in", "out", "down", "up", "together", "off", "on"})
"""What a verb takes opens no sentence, and neither does where it goes."""
ANYWHERE, ANYWHERE_SHARE = 5, 0.23
"""Full stops of these kinds, in number and among all, that show a note with full stops anywhere."""
NEVER_OPEN = (
    GOES_ON
    | MONTHS
    | WEEKDAYS
    | {"and", "or", "but", "out", "apart", "up", "down", "off", "away", "back", "period", "comma"}
)
"""A capital of one of these is no sign that the sentence before has ended; that of a Tuesday is a name's."""
MOST_SOUNDS = 4
"""Commas around sounds of hesitation looked at, at most."""
SAID = "period"
LEAST, SHARE = 3, 0.1
"""Full stops that cannot be meant, in number and among all, that show a note written by its pauses."""
COMMON = 4.5
"""Words up to this common (Zipf scale) may be names, so that their capital opens no sentence."""
SPELT_OUT = 5
"""Letters of a unit's name at least; shorter ones are abbreviations of other things too ('MM' is a meniscus)."""


def without_stray_pauses(tokens: Tokens) -> Tokens:
    """Leave out the signs of pauses inside a phrase."""
    words = tokens.words
    signs = [i for i in range(1, len(words) - 1) if words[i] in SIGNS]
    stray = {i for i in signs if _is_stray(words, i)}
    stops = [i for i in signs if words[i] == "."]
    astray = sum(words[i - 1] in JOINS_ON | OPEN or words[i + 1] in NEVER_GO_ON for i in stops)
    if astray >= ANYWHERE and astray >= ANYWHERE_SHARE * len(stops):
        return tokens.without({i for i, word in enumerate(words) if word in SIGNS})
    sure = sum(i in stray for i in stops)
    if sure >= LEAST and sure >= SHARE * len(stops):
        stray |= {i for i in stops if words[i - 1] in JOINS_ON or words[i + 1] in GOES_ON}
    return tokens.without(stray) if stray else tokens


def with_lost_stops(
    tokens: Tokens,
    of_trade: Callable[[], frozenset[str]] = frozenset,
    of_things: Callable[[], frozenset[str]] = frozenset,
) -> Tokens:
    """Set a full stop where a sentence opens with a capital and nothing ends the one before: '2 millimeters Now we'.

    A recognizer that hears stretch by stretch leaves the full stop out where a stretch ends. The stop has no characters
    of its own. Capitals of names, abbreviations and headings are no such places, nor is any in a note that says its
    punctuation. A rare word may be a name, unless it is one of the trade's (`of_trade`, asked only then), or, behind a
    size, a thing's or a structure's (`of_things`): '37 mm Tibial guide at 55'.
    """
    words, text, plain = tokens.words, tokens.text, plain_words()
    if words.count(SAID) >= LEAST:
        return tokens
    capitals = [i for i, start in enumerate(tokens.starts) if text[start].isupper()]
    opens = [
        i
        for i in capitals
        if 0 < i < len(words) - 1
        and _small(words[i - 1], text, tokens.starts[i - 1])
        and _small(words[i + 1], text, tokens.starts[i + 1])
        and words[i - 1] not in OPEN
        and words[i - 1] not in JOINS_ON
        and words[i] not in NEVER_OPEN
        and len(words[i]) > 1
        and text[tokens.starts[i] + 1].islower()
        and (plain.get(words[i], 0.0) > COMMON or words[i] in of_trade())
    ]
    opens += _behind_sizes(tokens, capitals, of_things)
    if not opens:
        return tokens
    opens = sorted(set(opens))
    out = Tokens(text)
    at = 0
    for i in [*opens, len(words)]:
        for k in range(at, i):
            out.add(words[k], tokens.starts[k], tokens.ends[k])
        if i < len(words):
            out.add(".", tokens.ends[i - 1], tokens.ends[i - 1])
        at = i
    return out


def _behind_sizes(tokens: Tokens, capitals: list[int], of_things: Callable[[], frozenset[str]]) -> list[int]:
    """Capitals of things right behind a size, in a note that does not write things with capitals anyhow."""
    words, text = tokens.words, tokens.text
    found = [i for i in capitals if i > 1 and words[i].isalpha() and _ends_size(words, i) and not words[i].isupper()]
    if not found:
        return []
    things = of_things()
    lower = [i for i in found if words[i] in things and text[tokens.starts[i] + 1 : tokens.ends[i]].islower()]
    habit = any(
        words[i] in things and text[tokens.starts[i]].isupper() and words[i - 1] in OPEN for i in range(1, len(words))
    )
    return [] if habit else lower


def _ends_size(words: list[str], i: int) -> bool:
    """Whether a number and its unit end before a token: not '2 Portals', and not 'a 5 mm Cannula'."""
    unit = next((k for k in (i - 1, i - 2) if (at := unit_words().at(words, k, True)) and at[1] == i), None)
    first = unit - 1 - (words[unit - 1] == ",") if unit else 0  # '10, mm'
    if first < 1 or not (words[first][:1].isdigit() or atom_at(words, first)):
        return False
    while first > 0 and (words[first - 1][:1].isdigit() or atom_at(words, first - 1)):
        first -= 1
    return first == 0 or words[first - 1] not in OPEN


def _small(word: str, text: str, start: int) -> bool:
    return len(word) > 1 and word.isalpha() and text[start].islower()


def _is_stray(words: list[str], i: int) -> bool:
    before, sign = words[i - 1], words[i]
    if sign == "," and (words[i + 1] == "," or before == ","):
        return _around_a_sound(words, i)
    if before in OPEN:
        single = sign == "." and i > 1 and len(before) == 1 and words[i - 2] in {".", ","}  # 'vitamin a.'
        return not single and words[i + 1] != "\n"
    if before in WANTS:
        run = before == "through" and i > 1 and unit_words().at(words, i - 2, False) is not None
        return not run and _measure_follows(words, i + 1)  # 'Seven liters through. Twenty of local in.'
    if words[i + 1] == TAKEN and before.endswith("ed"):  # 'and tied. Them over the capsule at ninety degrees'
        return i + 2 < len(words) and words[i + 2] in GOES_ON | TAKEN_WHERE
    if not before.isdigit() and atom_at(words, i - 1) is None:
        return False  # what is cut in the ways below is a number, or stands behind one
    if _cut_decimal(words, i) or _cut_product(words, i) or _cut_pressure(words, i):
        return True
    return _cut_half(words, i) if sign == "," else _cut_from_unit(words, i) or _cut_in_two(words, i)


def _around_a_sound(words: list[str], i: int) -> bool:
    """Whether one of two commas only set off a sound of hesitation ahead of a number: 'to a depth of, uh, thirty'."""
    start, end = i, i
    while start > 0 and words[start - 1] == "," and i - start < MOST_SOUNDS:
        start -= 1
    while end < len(words) and words[end] == "," and end - i < MOST_SOUNDS:
        end += 1
    opens = words[start - 1] if start else ""
    spans = opens == "to" and start > 1 and atom_at(words, start - 2) is not None  # 'zero to, uh, sixty' is thought of
    return opens in OPEN | WANTS and not spans and _measure_follows(words, end)


def _measure_follows(words: list[str], i: int) -> bool:
    """Whether a number stands here, with its unit or with nothing after it."""
    end = i
    while (atom := atom_at(words, end)) is not None:
        end = atom.end
    if end == i:
        return False
    return end >= len(words) or not words[end][:1].isalnum() or unit_words().at(words, end, True) is not None


def _cut_from_unit(words: list[str], i: int) -> bool:
    """Whether a number stands before the full stop and its unit, alone or with what it measures, after it."""
    if not (words[i - 1].isdigit() or atom_at(words, i - 1) is not None):
        return False
    unit = unit_words().at(words, i + 1, False)
    if unit is None or not words[i + 1].isalpha() or len(words[i + 1]) < SPELT_OUT:
        return False
    after = words[unit[1]] if unit[1] < len(words) else "."
    return after not in quantity_words().time_goes_on and not after[:1].isdigit()


def _cut_in_two(words: list[str], i: int) -> bool:
    """'fifty. seven minutes': the words of one number on both sides of the full stop."""
    tens, ones = atom_at(words, i - 1), atom_at(words, i + 1)
    if tens is None or ones is None or tens.figures or ones.figures or tens.value not in range(20, 100, 10):
        return False
    unit = unit_words().at(words, ones.end, False)
    after = words[unit[1]] if unit and unit[1] < len(words) else "."
    whole = i > 1 and atom_at(words, i - 2) is not None  # 'at two eighty. Six centimeter cut': a number of its own
    beside = unit is not None and not words[unit[1] - 1].endswith("s") and after.isalpha()
    opens = atom_at(words, i - 3) if i > 3 and words[i - 2] == "to" else None  # 'zero to ninety. Six weeks'
    if whole or beside or (opens is not None and opens.value == 0):
        return False
    return bool(ones.digit) and unit is not None and after not in quantity_words().time_goes_on


def _cut_half(words: list[str], i: int) -> bool:
    """'four, and a half centimeters': a half, and its unit, is of the number before the comma."""
    half = i + 2 + (words[i + 2 : i + 3] == ["a"])
    if words[i + 1] != "and" or words[half : half + 1] != ["half"] or atom_at(words, i - 1) is None:
        return False
    return unit_words().at(words, half + 1, False) is not None


def _cut_decimal(words: list[str], i: int) -> bool:
    """'eight... point two five millimeters': a point, digits and a unit behind a whole number."""
    if words[i + 1] != "point" or (whole := atom_at(words, i - 1)) is None or not whole.whole:
        return False
    decimal = atom_at(words, i + 1)
    return decimal is not None and unit_words().at(words, decimal.end, False) is not None


def _cut_product(words: list[str], i: int) -> bool:
    """'nineteen... by nine': no thought opens with 'by' and a number, where one ends with a number."""
    return words[i + 1] == "by" and atom_at(words, i - 1) is not None and atom_at(words, i + 2) is not None


def _cut_pressure(words: list[str], i: int) -> bool:
    """'two... fifty millimeters of mercury': no cuff is at so little."""
    hundreds, rest = atom_at(words, i - 1), atom_at(words, i + 1)
    if hundreds is None or rest is None or not hundreds.digit or hundreds.value not in range(1, 5):
        return False
    unit = unit_words().at(words, rest.end, False)
    return rest.value in range(10, 100) and unit is not None and unit[0].dimension == "pressure"
