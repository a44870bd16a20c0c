"""Single measures: one number with its unit, its hedge or bound, and what sort of number it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from extractor.language.identifiers import identifier_at
from extractor.language.numbers import Around, Number, atom_at, confusable, cut_run, number_words, run_at, spelled
from extractor.language.quantity_words import QuantityWords, quantity_words
from extractor.language.units import Unit, unit_words

QUANTITY = "quantity"
NEAR_SUTURE = 4
"""How many tokens before or after a size the word for a suture is looked for."""
PAUSES = frozenset({",", "-", ".", ";", ":"})


@dataclass(frozen=True)
class Measure:
    """One number as said with what belongs to it; values in the unit said.

    Attributes:
        start: first token, of a hedge or bound too.
        end: token after the last.
        number_start: first token of the number itself.
        number_end: token after the number itself.
        value: None for a range, a bound or an identifier.
        low: low end of a range, or "at least".
        high: high end of a range, or "at most".
        unit: as said, None for a bare number.
        figures: written in figures.
        about: said to be about right.
        maybe: opened by "maybe", so that it may be the other end of a hedge.
        sort: "quantity" or another kind of the Quantity.
        text: suture size or identifier.
        twice: said twice for safety.
        rivals: other values.
        earlier: (value, unit) corrected.
        pronoun: "one" that is no number.
        inherited: unit taken over from a neighbor.
        counted: values counted along the way to this one.
        article: "a millimeter", with no number word.
    """

    start: int
    end: int
    number_start: int
    number_end: int
    value: float | None
    low: float | None = None
    high: float | None = None
    unit: Unit | None = None
    figures: bool = False
    about: bool = False
    maybe: bool = False
    sort: str = QUANTITY
    text: str = ""
    twice: bool = False
    rivals: tuple[float, ...] = ()
    earlier: tuple[tuple[float, Unit | None], ...] = ()
    pronoun: bool = False
    inherited: bool = False
    counted: tuple[float, ...] = ()
    article: bool = False
    from_word: bool = field(default=False, compare=False)

    @property
    def bare(self) -> bool:
        """A plain number with no unit."""
        return self.unit is None and self.sort == QUANTITY and not self.pronoun

    @property
    def single(self) -> bool:
        """One value, neither range nor bound."""
        return self.value is not None


def read_measures(words: Sequence[str]) -> list[Measure]:
    """All measures of a note, left to right, not overlapping; linear in the number of words."""
    lexicon = quantity_words()
    measures: list[Measure] = []
    i, floor, size = 0, 0, len(words)
    while i < size:
        word = words[i]
        if word not in lexicon.openers and not word[:1].isdigit() and not (word[:1] == "." and word[1:2].isdigit()) and not "\u00bc" <= word[:1] <= "\u215e":
            i += 1
            continue
        found = _read_at(words, i, floor, measures[-1] if measures else None, lexicon)
        if found is None:
            i += 1
            continue
        for measure in found[0]:
            ready = _dress(words, measure, floor, lexicon)
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
    for reader in (_part_or_once, _roman, _unit_before):
        measure = reader(words, i, last, lexicon)
        if measure:
            return [measure], measure.end
    return _read_run(words, i, floor, last, lexicon)


def _of(number: Number) -> Measure:
    sort = {"suture": "suture-size", "number": QUANTITY, "fraction": QUANTITY}.get(number.form, number.form)
    return Measure(
        number.start, number.end, number.start, number.end, number.value,
        figures=number.figures, sort=sort, text=number.text, twice=number.twice, rivals=number.rivals,
    )


# --- one run of numbers ---


def _read_run(words: Sequence[str], i: int, floor: int, last: Measure | None, lexicon: QuantityWords) -> _Found | None:
    atoms = run_at(words, i)
    if not atoms:
        return None
    again = _said_again(words, i, atoms, last, lexicon)
    if again:
        return again
    around = _around(words, i, atoms[-1].end, floor, lexicon, atoms[-1].figures)
    numbers = cut_run(atoms, around)
    measures = [_of(n) for n in numbers]
    end = atoms[-1].end
    if measures and measures[-1].number_end == end:
        measures[-1] = _with_unit(words, _with_fraction(words, measures[-1], numbers[-1]), lexicon)
        end = max(end, measures[-1].end)
    return measures, end


def _around(words: Sequence[str], start: int, end: int, floor: int, lexicon: QuantityWords, figures: bool) -> Around:
    unit = unit_words().at(words, end + 1 if end < len(words) and words[end] == "-" else end, figures)
    dimension = unit[0].dimension if unit else "none"
    label = lexicon.sort_before.before(words, start, floor)
    near = {*words[end : end + NEAR_SUTURE]}
    product = (end < len(words) and words[end] in ("by", "x")) or (start > 0 and words[start - 1] in ("by", "x"))
    return Around(
        dimension, dimension in lexicon.joined_hundreds, bool(near & lexicon.suture_words),
        label is not None and label[0] in ("grade", "number", "ordinal"), product,
    )


def _said_again(words: Sequence[str], i: int, atoms: list[Number], last: Measure | None, lexicon: QuantityWords) -> _Found | None:
    """'eighteen, one eight, millimeters': the digits of the number just said, which is extended over them."""
    if last is None or last.value is None or last.sort != QUANTITY or last.pronoun or i == last.end or i - last.end > 5:
        return None
    digits = "".join(a.digit for a in atoms)
    if len(atoms) < 2 or not all(a.digit for a in atoms):
        return None
    cue, k = False, last.end
    while k < i:
        phrase = lexicon.said_again.at(words, k)
        if phrase and phrase[1] <= i:
            cue, k = True, phrase[1]
        elif words[k] in (",", "-"):
            k += 1
        else:
            return None
    end = atoms[-1].end
    comma = end < len(words) and words[end] == ","
    unit = unit_words().at(words, end + 1 if comma else end, last.figures)
    agrees = digits == spelled(last.value)
    if not agrees:
        plain = len(digits) == 2 and (last.unit is None or cue) and last.value == int(last.value)
        if not plain or not (cue or confusable(last.value, float(digits)) or (comma and unit)):
            return None
    measure = Measure(
        i, end, i, end, last.value if agrees else float(digits), figures=atoms[0].figures, sort="again", twice=agrees,
    )
    if unit and last.unit is None:
        measure = replace(measure, unit=unit[0], end=unit[1])
    return [measure], measure.end


def _with_fraction(words: Sequence[str], measure: Measure, number: Number) -> Measure:
    """'nine and a half', 'one and three quarters', 'three quarters of an inch'."""
    if not number.whole or measure.value is None or measure.sort != QUANTITY:
        return measure
    fractions, end = number_words().fractions, measure.end
    grouped = number_words().grouping.get(words[end]) if end < len(words) else None
    if grouped:
        return replace(measure, value=measure.value * grouped, end=end + 1, number_end=end + 1, about=True)
    part = fractions.get(words[end + 1 if words[end] == "-" and end + 1 < len(words) else end]) if end < len(words) else None
    if part is not None and 0 < measure.value < part.denominator:
        after = end + (2 if words[end] == "-" else 1)
        linked = _of_a(words, after)
        if words[after - 1].endswith("s") and measure.value > 1 or linked > after or unit_words().at(words, after, False):
            is_share = not unit_words().at(words, linked, False)
            value = measure.value * float(part)
            return replace(measure, value=value, end=after if is_share else linked, number_end=after, sort="fraction" if is_share else QUANTITY)
    added = _and_fraction(words, end)
    if added:
        return replace(measure, value=measure.value + added[0], end=added[1], number_end=added[1])
    return measure


def _of_a(words: Sequence[str], i: int) -> int:
    """The token after an 'of', 'of a', 'of an' or 'a' at `i`; `i` itself where there is none."""
    if i < len(words) and words[i] == "of":
        i += 1
    return i + 1 if i < len(words) and words[i] in ("a", "an") else i


def _and_fraction(words: Sequence[str], i: int) -> tuple[float, int] | None:
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
    if named is not None and atom.value < named.denominator and (named.denominator in (2, 4) or words[atom.end].endswith("s")):
        return atom.value * float(named), atom.end + 1
    return None


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
    if unit is None and k < len(words) and words[k] == "," and (measure.twice or measure.rivals):
        unit = unit_words().at(words, k + 1, measure.figures)
    if unit is None:
        return measure
    value, end = measure.value, unit[1]
    if value == int(value):
        added = _and_fraction(words, end)
        if added:
            value, end = value + added[0], added[1]
    return replace(measure, value=value, unit=unit[0], end=end, about=about)


# --- 'a millimeter', 'half an inch', 'a couple of millimeters' ---


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
        return _with_unit(words, bare, lexicon)
    if article and words[k] in numbers.scales:
        atom = atom_at(words, k)
        return _with_unit(words, replace(_of(atom), start=i, number_start=i), lexicon) if atom else None
    if words[k] in numbers.fractions and (article or words[k] in ("half", "quarter")):
        return _part(words, i, k, lexicon)
    if not article:
        return None
    inner = lexicon.inside.at(words, k)
    unit = units.at(words, inner[1] if inner else k, False)
    at = inner[1] if inner else k
    if unit is None or (words[at] not in units.once and unit[0].name not in units.once):
        return None
    whole = Measure(i, i + 1, i, i + 1, 1.0, article=True)
    return _with_unit(words, replace(whole, end=at), lexicon)


def _part(words: Sequence[str], i: int, k: int, lexicon: QuantityWords) -> Measure | None:
    """'half a centimeter', 'a half inch', 'a third of', 'half a dozen'."""
    part = number_words().fractions[words[k]]
    after = k + 2 if k + 1 < len(words) and words[k + 1] == "-" else k + 1
    linked = _of_a(words, after)
    measure = Measure(i, k + 1, i, k + 1, float(part))
    grouped = number_words().grouping.get(words[linked]) if linked < len(words) else None
    if grouped:
        return replace(measure, value=float(part) * grouped, end=linked + 1, number_end=linked + 1, about=True)
    unit = unit_words().at(words, linked, False)
    if unit is None:
        if i < k and linked > after and words[after] == "of" and part.denominator in (3, 4):
            return replace(measure, sort="fraction")
        return None
    return replace(measure, unit=unit[0], end=unit[1])


def _roman(words: Sequence[str], i: int, last: Measure | None, lexicon: QuantityWords) -> Measure | None:
    """'grade iv'; 'grade ii to iii'."""
    value = number_words().roman.get(words[i])
    if value is None or i == 0:
        return None
    k = i - 1 if words[i - 1] == "-" and i > 1 else i
    label = lexicon.sort_before.before(words, k)
    follows = last is not None and last.sort == "grade" and i - last.end <= 1 and (i == last.end or words[i - 1] in ("to", "-", "or", "and"))
    if follows or (label and label[0] == "grade" and (value > 1 or words[k - 1] in lexicon.before_roman_i)):
        return Measure(i, i + 1, i, i + 1, float(value), sort="grade")
    return None


def _unit_before(words: Sequence[str], i: int, last: Measure | None, lexicon: QuantityWords) -> Measure | None:
    """'at week two'."""
    found = unit_words().before_number.at(words, i)
    if found is None or (last is not None and last.end > i):
        return None
    atom = atom_at(words, found[1])
    if atom is None or atom.value is None or unit_words().at(words, atom.end, atom.figures):
        return None
    if not atom.whole or follows_noun(words, atom.end, lexicon):
        return None
    return Measure(i, atom.end, atom.start, atom.end, atom.value, unit=unit_words().units[found[0]], figures=atom.figures)


# --- sorts, hedges and bounds ---


def follows_noun(words: Sequence[str], i: int, lexicon: QuantityWords) -> bool:
    """Whether the word at `i` is likely a thing counted by the number before it."""
    return i < len(words) and words[i][:1].isalpha() and words[i] not in lexicon.after_value


def _dress(words: Sequence[str], measure: Measure, floor: int, lexicon: QuantityWords) -> Measure:
    """Give a measure its sort, its hedges and its bounds."""
    measure = _sorted(words, measure, floor, lexicon)
    if measure.sort not in (QUANTITY, "age", "gauge"):
        return measure
    if measure.value == 1 and measure.unit is None and words[measure.number_start] == "one":
        measure = replace(measure, pronoun=_is_pronoun(words, measure, lexicon))
    measure = _before(words, measure, floor, lexicon)
    return _after(words, measure, lexicon)


def _is_pronoun(words: Sequence[str], measure: Measure, lexicon: QuantityWords) -> bool:
    before = words[measure.start - 1] if measure.start else ""
    after = words[measure.end] if measure.end < len(words) else ""
    if lexicon.range.at(words, measure.end) and atom_at(words, measure.end + 1):
        return False
    return before in lexicon.one_before or after in lexicon.one_after


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
    if start > floor and words[start - 1] == "#":
        label = ("number", start - 1)
    if label and label[0] == "number":
        near = {*words[max(0, label[1] - NEAR_SUTURE) : label[1]], *words[end : end + NEAR_SUTURE]}
        if near & lexicon.suture_words and measure.value in (0, 1, 2, 3, 5):
            return replace(measure, sort="suture-size", text=spelled(measure.value), start=label[1])
        return replace(measure, sort="ordinal", start=label[1])
    if label and label[0] in ("grade", "ordinal"):
        return replace(measure, sort=label[0])
    return _calendar(words, measure, lexicon)


def _calendar(words: Sequence[str], measure: Measure, lexicon: QuantityWords) -> Measure:
    """Years, days of a month, and the numbers of a list."""
    start, end, value = measure.number_start, measure.end, measure.value or 0
    before = words[start - 1] if start else "\n"
    after = words[end] if end < len(words) else ""
    if 1950 <= value <= 2050 and value == int(value) and not follows_noun(words, end, lexicon):
        if not measure.figures or len(words[start]) == 4:
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
        if phrase in lexicon.no_bound.get(dimension, ()):
            break
        if name == "between":
            return replace(measure, from_word=True)
        if name in ("at-most", "less", "at-least", "more") and measure.value is not None:
            if phrase == "up to" and opens and words[opens - 1] in lexicon.up_to_verbs:
                break
            side = "low" if name in ("at-least", "more") else "high"
            measure = replace(measure, start=opens, value=None, **{side: measure.value})
        elif name == "maybe":
            measure = replace(measure, start=opens, about=True, maybe=True)
        else:
            measure = replace(measure, start=opens, about=measure.about or name == "about")
    return measure


def _after(words: Sequence[str], measure: Measure, lexicon: QuantityWords) -> Measure:
    """Hedges and bounds said after: 'or so', 'or less', 'ten-ish'."""
    k = measure.end
    if k < len(words) and words[k] == "-":
        k += 1
    found = lexicon.after.at(words, k)
    if found is None or measure.pronoun or atom_at(words, found[1]) is not None:
        return measure
    name, end = found
    if name == "about":
        return replace(measure, about=True, end=end)
    if measure.value is None:
        return measure
    if name == "at-least":
        return replace(measure, low=measure.value, value=None, end=end)
    return replace(measure, high=measure.value, value=None, end=end)
