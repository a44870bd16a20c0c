"""Fractions beside numbers and units: 'nine and a half', 'half an inch'; and a unit set apart from its number."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.language.measure import QUANTITY, Measure
from extractor.language.numbers import Number, atom_at, number_words
from extractor.language.quantity_words import QuantityWords, quantity_words
from extractor.language.units import Unit, unit_words

HALF = 0.5
SPELT = 4
"""Letters of a unit that is no abbreviation, at least."""
SET_OFF = frozenset({"length", "angle"})
"""Dimensions of units that may be set off by a pause; a line may open with minutes."""
SPELT_OUT = 5
"""Letters of a unit that may stand behind a pause, at least: the 'mm' there may be a meniscus."""
AND_THEN = frozenset({"and", "then", "with", "so", "before", "for", "as", "of", "on"})
RIGHT_ANGLE, SQUARED_BY = 90.0, 8
"""Degrees of it, and tokens back in which what is cut or bent so was named."""
CLOSING = frozenset({",", ".", ";", "\n", "that", "i"})


def with_fraction(words: Sequence[str], measure: Measure, number: Number) -> Measure:
    """'nine and a half', 'one and three quarters', 'three quarters of an inch'."""
    if not number.whole or measure.value is None or measure.sort != QUANTITY:
        return measure
    fractions, end = number_words().fractions, measure.end
    grouped = number_words().grouping.get(words[end]) if end < len(words) else None
    if grouped:
        return replace(measure, value=measure.value * grouped, end=end + 1, number_end=end + 1, about=True)
    part = (
        fractions.get(words[end + 1 if words[end] == "-" and end + 1 < len(words) else end])
        if end < len(words)
        else None
    )
    if part is not None and 0 < measure.value < part.denominator:
        after = end + (2 if words[end] == "-" else 1)
        linked = _of_a(words, after)
        if (
            words[after - 1].endswith("s")
            and measure.value > 1
            or linked > after
            or unit_words().at(words, after, False)
        ):
            is_share = not unit_words().at(words, linked, False)
            value = measure.value * float(part)
            return replace(
                measure,
                value=value,
                end=after if is_share else linked,
                number_end=after,
                sort="fraction" if is_share else QUANTITY,
            )
    added = and_fraction(words, end)
    if added:
        return replace(measure, value=measure.value + added[0], end=added[1], number_end=added[1])
    return measure


def as_share(words: Sequence[str], measure: Measure) -> Measure:
    """'Two thirds of the way across', 'half the width', 'halfway through': a fraction that is a share of the whole."""
    lexicon = quantity_words()
    halfway = measure.value == HALF and words[measure.number_start] == "halfway"
    after = (lexicon.halfway_of if halfway else lexicon.share_of).at(words, measure.end)
    if measure.value is None or after is None:
        return measure
    share = round(100 * measure.value, 1)
    return replace(measure, value=share, unit=unit_words().units["percent"], sort=QUANTITY)


def _of_a(words: Sequence[str], i: int) -> int:
    """The token after an 'of', 'of a', 'of an' or 'a' at `i`; `i` itself where there is none."""
    if i < len(words) and words[i] == "of":
        i += 1
    return i + 1 if i < len(words) and words[i] in ("a", "an") else i


def and_fraction(words: Sequence[str], i: int) -> tuple[float, int] | None:
    """'and a half', 'and three quarters', 'and 1/2': the fraction and the token after it."""
    if i + 1 >= len(words) or words[i] != "and":
        return None
    fractions, k = number_words().fractions, i + 1
    if words[k] in ("a", "an", "one") and k + 1 < len(words):
        k += 1
    if words[k] in fractions:
        part = fractions[words[k]]
        small = part.denominator in (2, 4) or unit_words().at(words, k + 1, False) is not None
        return (float(part), k + 1) if small else None
    atom = atom_at(words, i + 1)
    if atom is None or atom.value is None:
        return None
    if atom.form == "fraction":
        return atom.value, atom.end
    named = fractions.get(words[atom.end]) if atom.end < len(words) and atom.digit else None
    if (
        named is not None
        and atom.value < named.denominator
        and (named.denominator in (2, 4) or words[atom.end].endswith("s"))
    ):
        return atom.value * float(named), atom.end + 1
    return None


def part_of_unit(words: Sequence[str], i: int, k: int) -> Measure | None:
    """'half a centimeter', 'a half inch', 'a third of', 'half a dozen', 'half the width'."""
    part = number_words().fractions[words[k]]
    after = k + 2 if k + 1 < len(words) and words[k + 1] == "-" else k + 1
    linked = _of_a(words, after)
    measure = Measure(i, k + 1, i, k + 1, float(part))
    grouped = number_words().grouping.get(words[linked]) if linked < len(words) else None
    if grouped:
        return replace(measure, value=float(part) * grouped, end=linked + 1, number_end=linked + 1, about=True)
    unit = unit_words().at(words, linked, False)
    if unit is None:
        share = as_share(words, measure)
        if share.unit is not None:
            return share
        of_it = linked > after and words[after] == "of" and (i < k or part.denominator == 2)
        if of_it or (part.denominator == 2 and words[after : after + 1] == ["the"]):
            return replace(measure, sort="fraction")
        return None
    return replace(measure, unit=unit[0], end=unit[1])


OWNED = frozenset({"of", "on", "under", "lost", "altogether"})
"""Words behind a time or volume that tell what it is one of; 'at eighteen, minutes later' tells of none."""


def behind_aside(words: Sequence[str], k: int) -> tuple[Unit, int] | None:
    """'Ten and a half, or rather eleven, | millimeters in diameter': no thought opens with a unit."""
    if words[k : k + 1] != [","] or len("".join(words[k + 1 : k + 2])) < SPELT:
        return None
    unit = unit_words().at(words, k + 1, False)
    if unit is None or words[unit[1] : unit[1] + 1] == [":"]:
        return None
    owned = words[unit[1] : unit[1] + 1] and words[unit[1]] in OWNED  # 'forty-nine, | minutes of tourniquet'
    return unit if unit[0].dimension in SET_OFF or owned else None


def unit_apart(words: Sequence[str], k: int, figures: bool, lexicon: QuantityWords) -> tuple[Unit, int] | None:
    """'Two sixty, millimeters of mercury that is': a unit added behind a pause, and set off behind it."""
    if words[k : k + 1] != [","]:
        return None
    at = k + 1
    again = lexicon.said_again.at(words, at) or lexicon.filler.at(words, at)
    if again:
        at = again[1] + (words[again[1] : again[1] + 1] == [","])
    at += words[at : at + 1] == ["in"]
    unit = unit_words().at(words, at, figures)
    if unit is None or not (len(words[at]) >= SPELT_OUT and words[at].endswith("s") or unit[0].dimension == "pressure"):
        return None
    closed = unit[1] >= len(words) or words[unit[1]] in CLOSING
    return unit if closed else None


def right_angle(words: Sequence[str], i: int, last: Measure | None, lexicon: QuantityWords) -> Measure | None:
    """'Both ends cut at a right angle': ninety degrees; not 'at right angles to the tear', 'a right angle clamp'."""
    if words[i] != "right" or words[i + 1 : i + 2] not in (["angle"], ["angles"]):
        return None
    opens = i - (i > 0 and words[i - 1] == "a")
    after = words[i + 2] if i + 2 < len(words) else "."
    if words[opens - 1 : opens] not in (["at"], ["to"]) or not (after in CLOSING or after in AND_THEN):
        return None
    if unit_words().squared.isdisjoint(words[max(0, opens - SQUARED_BY) : opens]):
        return None
    return Measure(i, i + 2, i, i + 2, RIGHT_ANGLE, unit=unit_words().units["degree"])
