"""Single measures: one number with its unit, its hedge or bound, and what sort of number it is."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from extractor.language.heard import heard_at, identifier_before_length, unlikely_unit
from extractor.language.identifiers import identifier_at, named_identifier_at, numbered_at
from extractor.language.measure import QUANTITY, Measure
from extractor.language.numbers import Number, atom_at, number_words
from extractor.language.parts import (
    and_fraction,
    as_share,
    behind_aside,
    part_of_unit,
    right_angle,
    unit_apart,
    with_fraction,
)
from extractor.language.quantity_words import QuantityWords, quantity_words
from extractor.language.runs import Around, count_apart, cut_run, run_at, spelt_with_dashes
from extractor.language.sizes import NEAR, lone_zero, thread_follows
from extractor.language.sorts import dress, follows_noun
from extractor.language.spelt_again import heard_again, spelt_again
from extractor.language.spelt_product import said_again
from extractor.language.units import unit_words

OPENS = re.compile(r"[-.]?\d|[\u00bc-\u00be\u2150-\u215e]")
CLOCK = re.compile(r"\d{1,2}:\d{2}$")
MOST_HOURS = 5
"""A longer '10:30' is a time of day, whatever stands before it."""
MOST_WEEKS = 24
"""Weeks and months written so, at most."""
OTHER_ONE = 24
"""Words between one of two things and the other, at most."""
GLUED = re.compile(r"(\d{1,9}(?:\.\d{1,9})?)([a-z%°]{1,8}[23²³]?)$")


def read_measures(words: Sequence[str]) -> list[Measure]:
    """All measures of a note, left to right, not overlapping; linear in the number of words."""
    lexicon = quantity_words()
    measures: list[Measure] = []
    i, floor, size = 0, 0, len(words)
    while i < size:
        if words[i] not in lexicon.openers and not OPENS.match(words[i]):
            i += 1
            continue
        again = said_again(words, i, measures, lexicon)
        if again:
            measures[-1], i, floor = again, again.end, again.end
            continue
        found = _read_at(words, i, floor, measures[-1] if measures else None, lexicon)
        if found is None:
            i += 1
            continue
        for measure in found[0]:
            ready = dress(words, measure, floor, lexicon)
            measures.append(ready)
            floor = ready.end
        i = max(found[1], floor)
        floor = i
    return measures


_Found = tuple[list[Measure], int]


def _read_at(words: Sequence[str], i: int, floor: int, last: Measure | None, lexicon: QuantityWords) -> _Found | None:
    """What opens at token `i`: bare measures and the token after them; None where nothing does."""
    skipped = lexicon.no_number.at(words, i)
    if skipped:
        return [], skipped[1]
    label = lexicon.identifier_before.at(words, i)
    if label:
        found = identifier_at(words, label[1])
        if found:
            return [_of(found)], found.end
        run_into = identifier_before_length(words, label[1], lexicon)
        if run_into:
            return run_into
    named = named_identifier_at(words, i) or numbered_at(words, i)
    if named:
        return [_of(named)], named.end
    spelt = spelt_again(words, i, spelt_with_dashes(words, i), last, lexicon) or heard_again(words, i, last, lexicon)
    if spelt:
        return spelt
    heard = heard_at(words, i, lexicon)
    if heard:
        return heard
    leads = words[i] in lexicon.leads
    for reader in LEADING if leads else READERS:
        measure = reader(words, i, last, lexicon)
        if measure:
            return [measure], measure.end
    return None if leads else _read_run(words, i, floor, last, lexicon)


def _of(number: Number) -> Measure:
    sort = {"suture": "suture-size", "number": QUANTITY, "fraction": QUANTITY}.get(number.form, number.form)
    return Measure(
        number.start,
        number.end,
        number.start,
        number.end,
        number.value,
        figures=number.figures,
        sort=sort,
        text=number.text,
        twice=number.twice,
        rivals=number.rivals,
    )


def _read_run(words: Sequence[str], i: int, floor: int, last: Measure | None, lexicon: QuantityWords) -> _Found | None:
    atoms = run_at(words, i)
    if not atoms:
        return None
    again = spelt_again(words, i, atoms, last, lexicon)
    if again:
        return again
    around = _around(words, i, atoms[-1].end, floor, lexicon, atoms[-1].figures)
    numbers = count_apart(words, cut_run(atoms, around), lexicon.counted)
    measures = [_of(n) for n in numbers]
    end = atoms[-1].end
    if measures and measures[-1].number_end == end:
        measures[-1] = _with_unit(words, with_fraction(words, measures[-1], numbers[-1]), lexicon)
        if measures[-1].sort == "fraction" or numbers[-1].form == "fraction":
            measures[-1] = as_share(words, measures[-1])
        end = max(end, measures[-1].end)
    return measures, end


def _around(words: Sequence[str], start: int, end: int, floor: int, lexicon: QuantityWords, figures: bool) -> Around:
    unit = unit_words().at(words, end + 1 if end < len(words) and words[end] == "-" else end, figures)
    dimension = unit[0].dimension if unit else "none"
    pronoun = _names_one(words, start, lexicon)
    sort = lexicon.sort_after.at(words, end + 1 if end < len(words) and words[end] == "-" else end)
    label = lexicon.sort_before.before(words, start, floor)
    near = {*words[end : end + NEAR]}
    product = (end < len(words) and words[end] in ("by", "x")) or (start > 0 and words[start - 1] in ("by", "x"))
    return Around(
        dimension,
        dimension in lexicon.joined_hundreds and sort is None and not pronoun,
        bool(near & lexicon.suture_words) or _told_of_sutures(words, start, end, lexicon),
        label is not None and label[0] in ("grade", "number", "ordinal"),
        product,
        lexicon.range.at(words, end) is not None,
        dimension in lexicon.joined_one,
        unit is not None and words[unit[1] - 1].endswith("s"),
        frozenset(lexicon.oh_sizes.values() if _sutures_at(words, end, lexicon) else ()),
        unit is not None and unit[1] < len(words) and words[unit[1]] in lexicon.apart,
        start > 1 and words[start - 1] in ("to", "-") and _is_zero(words[start - 2]),
        pronoun,
    )


def _told_of_sutures(words: Sequence[str], start: int, end: int, lexicon: QuantityWords) -> bool:
    """'Native sutures, two zero.', 'size two zero': what is told before digits says that they are a suture's size."""
    if lexicon.range.at(words, end) is not None:
        return False
    before = words[max(0, start - NEAR) : start]
    return before[-1:] == ["size"] or not lexicon.suture_words.isdisjoint(before)


def _names_one(words: Sequence[str], start: int, lexicon: QuantityWords) -> bool:
    """'The anterior one thirty-nine': the 'one' that opens a run is a pronoun, and no hundred.

    Without 'the' it is one where another one of them is told by: 'posterior one six wide ... anterior one six'.
    """
    if start < 2 or words[start] != "one" or words[start - 1] not in lexicon.one_before:
        return False
    around = range(max(1, start - OTHER_ONE), min(len(words), start + OTHER_ONE))
    mine = words[start - 1]
    others = (words[i - 1] for i in around if words[i] == "one" and words[i - 1] in lexicon.one_before)
    return words[start - 2] == "the" or any(other != mine for other in others)


def _is_zero(word: str) -> bool:
    return word == "0" or number_words().cardinals.get(word) == 0


def _sutures_at(words: Sequence[str], end: int, lexicon: QuantityWords) -> bool:
    return thread_follows(words, end + 1 if words[end : end + 1] == [","] else end, lexicon, adjectives=2)


def _with_unit(words: Sequence[str], measure: Measure, lexicon: QuantityWords) -> Measure:
    """Add the unit that follows, and a fraction after it ('a millimeter and a half')."""
    if measure.sort != QUANTITY or measure.value is None:
        return measure
    k, about = measure.end, measure.about
    inner = lexicon.inside.at(words, k)
    if inner:
        k, about = inner[1], about or inner[0] == "about"
    if k < len(words) and words[k] == "-":
        k += 1
    unit = unit_words().at(words, k, measure.figures)
    if unit is None and k < len(words) and words[k] == ",":
        again = measure.twice or measure.rivals
        unit = unit_words().at(words, k + 1, measure.figures) if again else behind_aside(words, k)
    unit = unit or unit_apart(words, k, measure.figures, lexicon)
    if unit is None:
        return measure
    value, end = measure.value, unit[1]
    if value == int(value):
        added = and_fraction(words, end)
        if added:
            value, end = value + added[0], added[1]
    return unlikely_unit(words, replace(measure, value=value, unit=unit[0], end=end, about=about), lexicon)


def _glued(words: Sequence[str], i: int, last: Measure | None, lexicon: QuantityWords) -> Measure | None:
    """'3l', '10mm' in one token."""
    parts = GLUED.match(words[i])
    unit = unit_words().at((parts[2],), 0, True) if parts else None
    if parts is None or unit is None:
        return None
    return Measure(i, i + 1, i, i + 1, float(parts[1]), unit=unit[0], figures=True)


def _clock(words: Sequence[str], i: int, last: Measure | None, lexicon: QuantityWords) -> Measure | None:
    """'10:30' is a time of day or a span; where no word says which of them, it has no value."""
    if not CLOCK.match(words[i]):
        return None
    hours, minutes = words[i].split(":")
    if lexicon.span_before.before(words, i) and int(hours) <= MOST_HOURS:
        value = float(hours) * 60 + float(minutes)
        return Measure(i, i + 1, i, i + 1, value, unit=unit_words().units["minute"], figures=True)
    return Measure(i, i + 1, i, i + 1, None, sort="clock", text=words[i])


def _share_of_year(words: Sequence[str], i: int, last: Measure | None, lexicon: QuantityWords) -> Measure | None:
    """'2/52' is two weeks, as British notes write it; '3/12/24' is a date."""
    unit = unit_words().of_year.get(words[i + 2]) if words[i + 1 : i + 2] == ["/"] and i + 2 < len(words) else None
    if unit is None or not words[i].isdigit() or int(words[i]) > MOST_WEEKS or words[i + 3 : i + 4] == ["/"]:
        return None
    if words[i + 3 : i + 4] and words[i + 3][:1].isdigit():
        return None
    return Measure(i, i + 3, i, i + 1, float(words[i]), unit=unit, figures=True)


def _part_or_once(words: Sequence[str], i: int, last: Measure | None, lexicon: QuantityWords) -> Measure | None:
    numbers, units = number_words(), unit_words()
    k = i
    article = words[k] in ("a", "an", "another")
    if article:
        k += 1
    if k >= len(words):
        return None
    vague = numbers.vague.at(words, k)
    if vague:
        bare = Measure(i, vague[1], i, vague[1], float(vague[0]), about=int(vague[0]) == 2)
        scale = numbers.scales.get(words[vague[1]]) if vague[1] < len(words) else None
        if scale:
            bare = replace(bare, end=vague[1] + 1, number_end=vague[1] + 1, value=float(vague[0]) * scale)
        return _with_unit(words, bare, lexicon)
    if article and words[k] in numbers.scales:
        atom = atom_at(words, k)
        return _with_unit(words, replace(_of(atom), start=i, number_start=i), lexicon) if atom else None
    if words[k] in numbers.fractions and (article or words[k] in ("half", "quarter", "halfway")):
        return part_of_unit(words, i, k)
    if not article:
        return None
    inner = lexicon.inside.at(words, k)
    unit = units.at(words, inner[1] if inner else k, False)
    at = inner[1] if inner else k
    if unit is None or (words[at] not in units.once and unit[0].name not in units.once):
        return None
    whole = Measure(i, i + 1, i, i + 1, 1.0, article=True)
    return _with_unit(words, replace(whole, end=at), lexicon)


def _roman(words: Sequence[str], i: int, last: Measure | None, lexicon: QuantityWords) -> Measure | None:
    """'grade iv'; 'grade ii to iii'."""
    value = number_words().roman.get(words[i])
    if value is None or i == 0:
        return _roman_corrected(words, i, lexicon)
    k = i - 1 if words[i - 1] == "-" and i > 1 else i
    label = lexicon.sort_before.before(words, k)
    follows = (
        last is not None
        and last.sort == "grade"
        and i - last.end <= 1
        and (i == last.end or words[i - 1] in ("to", "-", "or", "and"))
    )
    if follows or (label and label[0] == "grade" and (value > 1 or words[k - 1] in lexicon.before_roman_i)):
        return Measure(i, i + 1, i, i + 1, float(value), sort="grade")
    return None


def _roman_corrected(words: Sequence[str], i: int, lexicon: QuantityWords) -> Measure | None:
    """'XVI, scratch that, seventeen': capitals that a recognizer made of a number, taken back at once."""
    value = number_words().roman_heard.get(words[i])
    if value is None or words[i + 1 : i + 2] != [","]:
        return None
    found = lexicon.correction.at(words, i + 2)
    if found is None:
        return None
    after = found[1] + 1 if words[found[1] : found[1] + 1] == [","] else found[1]
    if atom_at(words, after) is None:
        return None
    return Measure(i, i + 1, i, i + 1, float(value))


def _unit_before(words: Sequence[str], i: int, last: Measure | None, lexicon: QuantityWords) -> Measure | None:
    """'at week two'."""
    found = unit_words().before_number.at(words, i)
    if found is None or (last is not None and last.end > i) or (i and words[i - 1] in lexicon.week_before):
        return None
    atom = atom_at(words, found[1])
    if atom is None or atom.value is None or unit_words().at(words, atom.end, atom.figures):
        return None
    if not atom.whole or (words[found[1] - 1].endswith("s") and follows_noun(words, atom.end, lexicon)):
        return None
    return Measure(
        i, atom.end, atom.start, atom.end, atom.value, unit=unit_words().units[found[0]], figures=atom.figures
    )


def _nth(words: Sequence[str], i: int, last: Measure | None, lexicon: QuantityWords) -> Measure | None:
    """'After the first week': one week."""
    found = lexicon.nth.at(words, i)
    if found is None:
        return None
    number, unit = found[0].split("-")
    return Measure(i, found[1], i, i + 1, float(number), unit=unit_words().units[unit])


READERS = (lone_zero, _glued, _clock, _share_of_year, _part_or_once, _roman, _unit_before, right_angle, _nth)
"""What a measure may be but a run of numbers; the first that reads one is right."""
LEADING = (_unit_before, _nth)
"""... and where a word opens no number."""
