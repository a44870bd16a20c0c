"""Units as they are said, their UCUM codes, and their conversion to the canonical unit of their dimension."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Any

from extractor.errors import GrammarError
from extractor.language.numbers import atom_at
from extractor.language.phrases import Phrases, common_lists, phrases_of, ways

UNITS_FILE = "units.txt"
TABLES = frozenset(
    {
        "ucum",
        "pint",
        "canonical",
        "in-canonical",
        "after-figures",
        "once",
        "smaller",
        "before-number",
        "not-near",
        "either",
        "liquid",
        "of-year",
        "pressed",
        "pressed-between",
        "squared",
    }
)
"""Lists of the units file that are not dimensions."""
NEAR = 8
"""How many tokens back a word is looked for that gives letters another meaning."""
STOPS = frozenset({".", ";", "\n"})
MOST_AHEAD, MOST_AT, MOST_NUMBER = 5, 12, 6
"""Tokens between what bears a pressure and its number, between it and 'at' so much, and of the number, at most."""


@dataclass(frozen=True)
class Unit:
    """A unit of measure.

    Attributes:
        name: its name in the units file.
        code: its UCUM code.
        dimension: what it measures, "length".
        expression: what pint calls it.
    """

    name: str
    code: str
    dimension: str
    expression: str


@dataclass(frozen=True)
class UnitWords:
    """The units file made ready for reading."""

    units: dict[str, Unit]
    phrases: Phrases
    canonical: dict[str, Unit]
    in_canonical: dict[str, float]
    """How much a unit is in the canonical one of its dimension, by its name."""
    after_figures: frozenset[str]
    once: frozenset[str]
    smaller: dict[str, frozenset[str]]
    before_number: Phrases
    not_near: dict[str, Phrases]
    either: frozenset[str]
    """Words that are a length, or beside a word of `liquid` a volume: 'six mils of rim', 'forty mils of blood'."""
    liquid: frozenset[str]
    of_year: dict[str, Unit]
    """How many of a unit make a year: '2/52' is two weeks."""
    pressed: frozenset[str]
    """What bears a pressure, whose millimeters are of mercury, said or not: 'the cuff was put up to 250 mm'."""
    pressures: range
    """Whole millimeters beside it that can only be of mercury."""
    squared: frozenset[str]
    """What is cut or bent 'at a right angle'."""

    def at(self, words: Sequence[str], i: int, figures: bool) -> tuple[Unit, int] | None:
        """The unit that opens at token `i` and the token after it.

        Args:
            words: reading tokens.
            i: where the unit would open.
            figures: whether the number before it is written in figures; some single letters are units only then.
        """
        found = self.phrases.at(words, i)
        word = words[i] if i < len(words) else ""
        if found is None and word in self.either:
            wet = not self.liquid.isdisjoint(words[max(0, i - NEAR) : i + NEAR])
            found = ("milliliter" if wet else "millimeter"), i + 1
        if found and found[0] == "millimeter" and self._is_pressure(words, i):
            return self.units["mmHg"], found[1]
        if found is None and word[-1:] == "." and len(word) > 1:
            short = self.phrases.at((word.replace(".", ""),), 0)  # 'ml.' and 'p.m.' keep their stops
            found = (short[0], i + 1) if short else None
        if found is None:
            return None
        name, end = found
        if end == i + 1 and not figures and words[i] in self.after_figures:
            return None
        other = self.not_near.get(words[i])
        if other and any(other.at(words, k) for k in range(max(0, i - NEAR), i)):
            return None
        return self.units[name], end

    def _is_pressure(self, words: Sequence[str], i: int) -> bool:
        """Whether the number before a unit is a tourniquet's pressure: too high for any length, the cuff just named."""
        start = i
        while start > 0 and i - start < MOST_NUMBER and (words[start - 1] == "and" or atom_at(words, start - 1)):
            start -= 1
        reach = MOST_AT if start and words[start - 1] == "at" else MOST_AHEAD
        ahead = words[max(0, start - reach) : start]
        if self.pressed.isdisjoint(ahead):
            return False
        first = atom_at(words, start)
        if first is None or first.value is None:
            return False
        second = atom_at(words, first.end) if first.end < i else None
        hundreds = first.value * 100 if second and 1 <= first.value <= 4 and (second.value or 0) >= 10 else 0
        value = hundreds + (second.value or 0) if second and hundreds else first.value
        named = max(k for k, word in enumerate(ahead) if word in self.pressed)
        return value in self.pressures and STOPS.isdisjoint(ahead[named:])


@lru_cache(maxsize=1)
def unit_words() -> UnitWords:
    """The shipped units file.

    Raises:
        GrammarError: for a unit without a code, or a table naming an unknown unit.
    """
    lists = common_lists(UNITS_FILE)
    codes = {name: entry.spoken[0] for name, entry in lists["ucum"].entries.items()}
    pint_names = {name: entry.spoken[0] for name, entry in lists["pint"].entries.items()}
    units: dict[str, Unit] = {}
    spoken: list[tuple[str, str]] = []
    for word_list in lists.values():
        if word_list.name in TABLES:
            continue
        for entry in word_list.entries.values():
            if entry.name not in codes:
                raise GrammarError(f"{entry.file}:{entry.line}: unit '{entry.name}' has no code; add it under [ucum]")
            dimension = word_list.name.replace("-", "_")
            units[entry.name] = Unit(entry.name, codes[entry.name], dimension, pint_names.get(entry.name, entry.name))
        spoken += ways(word_list)
    for table in ("ucum", "pint", "in-canonical", "smaller", "not-near"):
        for entry in lists[table].entries.values():
            if entry.name not in units:
                raise GrammarError(f"{entry.file}:{entry.line}: '{entry.name}' is no unit of this file")
    near = {
        way: phrases_of((w, n) for w, n in ways(lists["not-near"]) if n == name)
        for way, name in spoken
        if name in lists["not-near"].entries and len(way) <= 2
    }
    least, most = (int(end) for end in lists["pressed-between"].entries["millimeter"].spoken[0].split(" to "))
    return UnitWords(
        units,
        phrases_of(spoken),
        {name.replace("-", "_"): units[entry.spoken[0]] for name, entry in lists["canonical"].entries.items()},
        {name: float(Fraction(entry.spoken[0])) for name, entry in lists["in-canonical"].entries.items()},
        frozenset(way for way, _ in ways(lists["after-figures"])),
        frozenset(way for way, _ in ways(lists["once"])),
        {name: frozenset(entry.spoken) for name, entry in lists["smaller"].entries.items()},
        phrases_of(ways(lists["before-number"])),
        near,
        frozenset(way for way, _ in ways(lists["either"])),
        frozenset(way for way, _ in ways(lists["liquid"])),
        {way: units[name] for way, name in ways(lists["of-year"])},
        frozenset(way for way, _ in ways(lists["pressed"])),
        range(least, most + 1),
        frozenset(way for way, _ in ways(lists["squared"])),
    )


@lru_cache(maxsize=1)
def registry() -> Any:
    """Pint's unit registry, made at its first use (some tenths of a second)."""
    import pint  # here, not above: a note in canonical units never needs it

    return pint.UnitRegistry(cache_folder=None)


@lru_cache(maxsize=256)
def factor(expression: str, into: str) -> float:
    """How many `into` one unit of `expression` is, by pint."""
    return float(registry()(expression).to(into).magnitude)


def convert(value: float, unit: Unit, into: Unit) -> float:
    """A value in another unit of the same dimension, rounded to ten digits so that 2.8 cm is 28 mm."""
    if unit.name == into.name:
        return value
    own = unit_words().in_canonical.get(unit.name) if into == canonical(unit) else None
    return float(f"{value * (own or factor(unit.expression, into.expression)):.10g}")


def canonical(unit: Unit) -> Unit:
    """The unit a value said in `unit` is kept in."""
    return unit_words().canonical.get(unit.dimension, unit)
