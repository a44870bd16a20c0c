"""A run of number words cut into the numbers it holds: "two fifty" is one, "six two oh" are two."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.language.numbers import Number, atom_at, confusable, number_words, spelled
from extractor.language.values import value

FIRST_YEAR, LAST_YEAR = 1950, 2050
"""Numbers read as years when said in two halves, 'twenty twenty nine'."""
LEAST_APART = 100
"""From here on a number of portals is that of something else and a count (this project's choice)."""
MOST_SPELT = 4
"""Digits of a number spelt out, at most; longer ones are no measure."""


def run_at(words: Sequence[str], i: int) -> list[Number]:
    """The atoms that follow one another from token `i`, 'oh' among them as a zero."""
    atoms: list[Number] = []
    lexicon = number_words()
    while True:
        atom = atom_at(words, i)
        if atom is None and atoms and atoms[-1].digit and not atoms[-1].figures:
            at = i + 1 if i < len(words) and words[i] == "-" else i
            if at < len(words) and words[at] in lexicon.zeros:
                atom = Number(i, at + 1, 0.0, digit="0", form="oh")
        if atom is None:
            return atoms
        atoms.append(atom)
        i = atom.end


def spelt_with_dashes(words: Sequence[str], i: int) -> list[Number]:
    """The digits of '4-4' or '1-8', as a number said again is written."""
    digits: list[Number] = []
    if words[i + 1 : i + 2] != ["-"]:
        return digits
    while i < len(words) and len(digits) < MOST_SPELT and len(words[i]) == 1 and words[i].isdigit():
        digits.append(Number(i, i + 1, float(words[i]), figures=True, digit=words[i]))
        if words[i + 1 : i + 2] != ["-"]:
            break
        i += 2
    return digits if len(digits) > 1 else []


OH_BEFORE_NUMBER = frozenset("234")
"""Digits that are said with 'oh' of sutures, where the number of these follows at once."""


@value(frozen=True, slots=True)
class Around:
    """What surrounds a run, as far as it decides how the run is cut.

    Attributes:
        dimension: of the unit that follows, "none" where no unit follows.
        joins: whether hundreds may be left unsaid before that dimension ("two fifty").
        sutures: whether words about sutures stand near.
        label: whether a word such as "grade" or "number" stands before.
        product: whether "by" stands before or after.
        goes_on: whether a word of a range follows.
        only_one: whether only one hundred may be left unsaid ("one twenty degrees").
        plural: whether the unit that follows is in the plural.
        oh_digits: the digits that may be said with 'oh' of the sutures that follow at once, none without sutures.
        apart: whether the unit is that of a spacing.
        arc: whether it is the far end of a span that opens at zero.
        pronoun: whether the 'one' it opens with is a pronoun ("the anterior one").
    """

    dimension: str = "none"
    joins: bool = True
    sutures: bool = False
    label: bool = False
    product: bool = False
    goes_on: bool = False
    only_one: bool = False
    plural: bool = False
    oh_digits: frozenset[str] = frozenset()
    apart: bool = False
    arc: bool = False
    pronoun: bool = False


def cut_run(atoms: list[Number], around: Around) -> list[Number]:
    """Cut a run into the numbers it holds."""
    if len(atoms) == 1:
        return [] if atoms[0].form == "oh" else atoms
    if around.label and atoms[0].digit and not (len(atoms) == 2 and _suture(atoms, around)):
        return [atoms[0], *cut_run(atoms[1:], replace(around, label=False))]
    if _suture(atoms, around):
        rest = atoms[:-2]
        doubt = (0.0,) if atoms[-1].figures and not rest else ()  # 'two 0 sutures' may be two of size 0
        size = replace(_size(atoms[-2], atoms[-1].end, atoms[-2].digit), rivals=doubt)
        return [*(cut_run(rest, Around(product=True)) if rest else []), size]
    for reading in (_said_twice, _year, _hundreds, _digit_by_digit, _two_digits):
        found = reading(atoms, around)
        if found:
            return found
    return [a for a in atoms if a.form != "oh"]


def count_apart(words: Sequence[str], numbers: list[Number], counted: frozenset[str]) -> list[Number]:
    """'Two fifty two portals': a hundred and more of something that there are never so many of is two numbers."""
    last = numbers[-1] if numbers else None
    if last is None or last.figures or last.value is None or last.value < LEAST_APART or last.end >= len(words):
        return numbers
    ones = number_words().cardinals.get(words[last.end - 1], 0)
    if words[last.end] not in counted or not 1 < ones < 10 or last.value % 10 != ones or last.end - last.start < 2:
        return numbers
    head = replace(last, end=last.end - 1, value=last.value - ones, digit="")
    return [*numbers[:-1], head, Number(last.end - 1, last.end, float(ones), digit=str(ones))]


def _size(first: Number, end: int, digit: str) -> Number:
    return Number(first.start, end, float(digit), form="suture", text=f"{digit}-0", whole=False)


def _suture(atoms: list[Number], around: Around) -> bool:
    """'two oh': a digit and a zero at the end of a run that no unit follows."""
    last, before = atoms[-1], atoms[-2]
    if around.dimension != "none" or last.digit != "0" or before.digit in ("", "0"):
        return False
    if last.figures:
        return before.digit in around.oh_digits
    return last.form == "oh" or around.sutures


def _said_twice(atoms: list[Number], around: Around) -> list[Number] | None:
    """'eighteen one eight', 'fifty five zero': a number and its digits with no pause."""
    first, rest = atoms[0], atoms[1:]
    if first.value is None or first.digit or not all(a.digit for a in rest):
        return None
    digits = "".join(a.digit for a in rest)
    if len(digits) >= 2 and digits == spelled(first.value):
        return [replace(first, end=rest[-1].end, twice=True, whole=False)]
    if first.tens and f"{int(first.value) - first.tens}{digits}" == str(first.tens):
        return [replace(first, end=rest[-1].end, value=float(first.tens), twice=True, whole=False)]
    if len(digits) == 2 and confusable(first.value, float(digits)):
        return [replace(first, end=rest[-1].end, rivals=(float(digits),), whole=False)]
    return None


def _year(atoms: list[Number], around: Around) -> list[Number] | None:
    """'twenty twenty nine', 'nineteen ninety eight', 'twenty oh nine'."""
    if around.dimension != "none" or around.goes_on or atoms[0].value not in (19, 20) or any(a.figures for a in atoms):
        return None
    if len(atoms) == 2 and atoms[1].value is not None and 10 <= atoms[1].value <= 99:
        year = atoms[0].value * 100 + atoms[1].value
    elif len(atoms) == 3 and atoms[1].form == "oh" and atoms[2].digit:
        year = atoms[0].value * 100 + float(atoms[2].digit)
    else:
        return None
    return (
        [Number(atoms[0].start, atoms[-1].end, year, form="year", whole=False)]
        if FIRST_YEAR <= year <= LAST_YEAR
        else None
    )


def _hundreds(atoms: list[Number], around: Around) -> list[Number] | None:
    """'two fifty' is 250 and 'one oh eight' 108, where hundreds may be left unsaid."""
    motion = around.dimension == "angle" or (around.arc and around.dimension == "none")
    if any(a.value is None or (a.figures and around.dimension != "pressure" and not motion) for a in atoms[-3:]):
        return None  # but 'two 60 millimeters of mercury' are 260, and '1 40 degrees' 140
    if len(atoms) >= 3 and atoms[-2].form == "oh" and atoms[-3].digit and atoms[-1].digit and len(atoms) == 3:
        value = float(atoms[0].digit + "0" + atoms[2].digit)
        threaded = around.sutures and around.dimension == "none" and atoms[0].digit in OH_BEFORE_NUMBER
        if threaded or (around.apart and value >= 200):
            rivals = () if threaded else (value,)  # 'two oh | five sutures'
            return [_size(atoms[0], atoms[1].end, atoms[0].digit), replace(atoms[2], rivals=rivals)]
        return [Number(atoms[0].start, atoms[2].end, value)]
    head, tail = atoms[-2], atoms[-1]
    bare = around.dimension == "none"
    if not around.joins or around.product or (bare and len(atoms) > 2) or head.digit in ("", "0"):
        return None
    if around.only_one and head.digit != "1":
        return None
    if tail.value is None or not 10 <= tail.value <= 99 or tail.value != int(tail.value):
        return None
    if str(int(tail.value) // 10) in around.oh_digits and tail.value % 10 == 0:
        return [head, _size(tail, tail.end, str(int(tail.value) // 10))]  # 'eight twenty sutures'
    joined = Number(head.start, tail.end, float(head.digit) * 100 + tail.value)
    return [*(cut_run(atoms[:-2], Around(product=True)) if len(atoms) > 2 else []), joined]


def _digit_by_digit(atoms: list[Number], around: Around) -> list[Number] | None:
    """Three or more digits: a number where a unit follows that such numbers have, else an identifier."""
    if len(atoms) < 3 or not all(a.digit for a in atoms):
        return None
    digits = "".join(a.digit for a in atoms)
    start, end = atoms[0].start, atoms[-1].end
    if around.dimension != "none":
        return [Number(start, end, float(digits))] if around.joins and len(digits) == 3 and digits[0] != "0" else None
    values = [int(d) for d in digits[:12]]
    if len(digits) <= 12 and values == list(range(values[0], values[0] + len(values))):
        return None  # 'one two three', counted aloud
    return [Number(start, end, None, form="identifier", text=digits, whole=False)]


def _two_digits(atoms: list[Number], around: Around) -> list[Number] | None:
    """'one five millimeters': one thing of five millimeters, or fifteen spelt out; the other reading is kept."""
    if len(atoms) != 2 or not all(a.digit and not a.figures for a in atoms) or not around.plural:
        return None
    head, tail = atoms
    if around.pronoun:
        return [head, tail]
    return [head, replace(tail, rivals=(float(head.digit + tail.digit),))] if head.digit != "0" else None
