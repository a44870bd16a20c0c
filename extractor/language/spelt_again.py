"""The digits of a number said again for safety: 'eighteen, one eight, millimeters', '20 along the rim, two zero'."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.language.gaps import PRODUCT_SIGNS
from extractor.language.measure import QUANTITY, Measure
from extractor.language.numbers import Number, atom_at, confusable, number_words, spelled
from extractor.language.quantity_words import QuantityWords
from extractor.language.units import unit_words

SAID_AT_ONCE, PLACED = 5, 9
"""Tokens between a number and its digits, at most; and where what was measured is said between."""

Spelt = tuple[list[Measure], int]


def spelt_again(
    words: Sequence[str], i: int, atoms: list[Number], last: Measure | None, lexicon: QuantityWords
) -> Spelt | None:
    """'eighteen, one eight, millimeters': the digits of the number just said, which is extended over them."""
    if last is None or last.value is None or last.sort != QUANTITY or last.pronoun or not 0 < i - last.end <= PLACED:
        return None
    digits = "".join(a.digit for a in atoms)
    if not digits.isdigit() or not all(a.digit for a in atoms):
        return None
    end = atoms[-1].end
    alone, matches = _said_alone(words, i, end, atoms, last), len(atoms) > 1 and digits == spelled(last.value)
    apart = alone and words[i - 1] == "," and len(atoms) > 1 and (matches or _other_digits(words, end, digits))
    if i - last.end > SAID_AT_ONCE and not apart:
        return None
    cue, k = False, last.end
    while k < i:
        phrase = lexicon.said_again.at(words, k)
        if phrase and phrase[1] <= i:
            cue, k = True, phrase[1]
        elif words[k] in (",", "-") or (alone and words[k] == ".") or (matches and words[k] in {"in", *lexicon.sizes}):
            k += 1
        elif apart and words[k].isalpha() and words[k] not in PRODUCT_SIGNS:
            k += 1
        else:
            return None
    comma = end < len(words) and words[end] == ","
    unit = unit_words().at(words, end + 1 if comma else end, last.figures)
    agrees = digits == spelled(last.value)
    if len(atoms) < 2 and not (agrees and cue):
        return None  # 'six, figure six'
    if not agrees:
        plain = len(digits) == 2 and (last.unit is None or cue or alone) and last.value == int(last.value)
        if not plain or not (cue or alone or confusable(last.value, float(digits)) or (comma and unit)):
            return None
    measure = Measure(
        i,
        end,
        i,
        end,
        last.value if agrees else float(digits),
        figures=atoms[0].figures,
        sort="again",
        twice=agrees,
    )
    if unit and last.unit is None:
        measure = replace(measure, unit=unit[0], end=unit[1])
    return [measure], measure.end


def _other_digits(words: Sequence[str], end: int, digits: str) -> bool:
    """Whether two digits are of the number before them, and not said ahead of their own: 'one one, eleven'."""
    after = atom_at(words, end + 1) if end + 1 < len(words) else None
    own = after is not None and after.value is not None and spelled(after.value) == digits
    return len(digits) == 2 and not own


def _said_alone(words: Sequence[str], i: int, end: int, atoms: list[Number], last: Measure) -> bool:
    """'Fifty minutes, one five.': two digits between pauses, said for a number of two that has its unit already."""
    digits = all(a.digit and a.end == a.start + 1 and not a.figures for a in atoms) and len(atoms) == 2
    ends = end >= len(words) or words[end] in (".", ",", "?", ";", "\n")
    two = last.unit is not None and last.value is not None and 10 <= last.value < 100
    return digits and ends and two and words[i - 1] in (".", ",")


def heard_again(words: Sequence[str], i: int, last: Measure | None, lexicon: QuantityWords) -> Spelt | None:
    """'10, 1, 0 millimeters', '40, for 0 millimeters': the digits said again, as the recognizer writes them.

    It puts signs between them and hears words for some; so they count only where they are all the number's and a unit
    follows, or where they tell a number from the one that sounds like it ('30, 1, 3 millimeters').
    """
    if last is None or last.value is None or last.sort != QUANTITY or last.unit is not None or last.value < 10:
        return None
    opens = i - 1 if i > last.end and words[i - 1] in lexicon.heard_digits else i
    if last.value != int(last.value) or any(word not in (",", ".", "-") for word in words[last.end : opens]):
        return None
    wanted = spelled(last.value)
    digits, k, parted = "", opens, opens > last.end
    while k < len(words) and len(digits) < len(wanted):
        digit = words[k] if words[k].isdigit() else lexicon.heard_digits.get(words[k])
        digit = digit or str(number_words().cardinals.get(words[k], ""))
        if len(digit) == 1:
            digits += digit
        elif words[k] not in (",", ".", "-"):
            break
        k += 1
    unit = unit_words().at(words, k + (words[k : k + 1] == [","]), last.figures) if k < len(words) else None
    agrees = digits == wanted
    if not unit or not parted or not digits or not (agrees or confusable(last.value, float(digits))):
        return None
    value = last.value if agrees else float(digits)
    measure = Measure(i, unit[1], i, k, value, unit=unit[0], figures=True, sort="again", twice=agrees)
    return [measure], measure.end
