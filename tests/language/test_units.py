"""Units against pint, and their UCUM codes against ucumvert, which parses UCUM by its grammar.

UCUM: https://ucum.org/ucum (version 2.2). pint: https://pint.readthedocs.io. ucumvert: https://github.com/dalito/ucumvert.
"""

from __future__ import annotations

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ucumvert import PintUcumRegistry

from extractor.language.phrases import common_lists, ways
from extractor.language.quantities import read_quantities
from extractor.language.tokens import tokenize
from extractor.language.units import Unit, canonical, convert, factor, unit_words

UNITS = sorted(unit_words().units.values(), key=lambda u: u.name)
CONVERTED = [u for u in UNITS if canonical(u) != u]
CONTRACT = {
    "length": "mm",
    "angle": "deg",
    "time": "min",
    "volume": "mL",
    "pressure": "mm[Hg]",
    "force": "N",
    "area": "mm2",
    "share": "%",
    "plan_time": "wk",
}
"""Canonical units of the record contract, version 1, section 2."""


@pytest.fixture(scope="module")
def ucum() -> PintUcumRegistry:
    return PintUcumRegistry()


@pytest.fixture(scope="module")
def plain() -> pint.UnitRegistry:
    return pint.UnitRegistry()


@pytest.mark.parametrize("unit", UNITS, ids=lambda u: u.name)
def test_code_is_ucum_and_measures_the_same(unit: Unit, ucum: PintUcumRegistry) -> None:
    by_code = ucum.from_ucum(unit.code)
    assert by_code.dimensionality == ucum(unit.expression).dimensionality


@pytest.mark.parametrize("unit", CONVERTED, ids=lambda u: u.name)
def test_conversion_agrees_with_ucum(unit: Unit, ucum: PintUcumRegistry) -> None:
    """The factor by name (pint) equals the factor by code (UCUM's own tables), to one part in a million."""
    into = canonical(unit)
    expected = ucum.from_ucum(unit.code).to(ucum.from_ucum(into.code)).magnitude
    assert convert(1.0, unit, into) == pytest.approx(expected, rel=1e-6)


def test_canonical_units_are_those_of_the_contract() -> None:
    assert {d: u.code for d, u in unit_words().canonical.items()} == CONTRACT


@given(st.sampled_from(CONVERTED), st.floats(0.01, 1e5))
@settings(deadline=None)
def test_conversion_goes_there_and_back(unit: Unit, value: float) -> None:
    into = canonical(unit)
    assert convert(convert(value, unit, into), into, unit) == pytest.approx(value, rel=1e-8)


def test_no_dust_is_left() -> None:
    """2.8 cm is 28 mm, not 28.000000000000004 mm."""
    (quantity,) = read_quantities(["2.8", "cm"])
    assert quantity.value == 28


@pytest.mark.parametrize(
    ("way", "name"), [w for n in CONTRACT for w in ways(common_lists("units.txt")[n.replace("_", "-")])]
)
def test_every_way_of_saying_a_unit_is_read(way: str, name: str, plain: pint.UnitRegistry) -> None:
    """After a number in figures every spelling of the units file is read, and as pint has it."""
    unit = unit_words().units[name]
    words = tokenize(f"12.5 {way} wide").words
    (quantity,) = read_quantities(words)
    expected = plain(unit.expression).to(canonical(unit).expression).magnitude * 12.5
    assert quantity.value == pytest.approx(expected)
    assert quantity.said_unit == unit.code


@pytest.mark.parametrize(
    "sentence", ["five m as in Mary", "two h later", "three n plugs", "one second portal", "two in a row"]
)
def test_single_letters_and_homonyms_are_no_units(sentence: str) -> None:
    assert all(q.unit is None for q in read_quantities(sentence.split()))


def test_what_a_unit_is_in_the_canonical_one_is_as_pint_has_it() -> None:
    assert {unit.name for unit in CONVERTED} == unit_words().in_canonical.keys()
    for unit in CONVERTED:
        by_pint = factor(unit.expression, canonical(unit).expression)
        for value in (0.5, 1, 1.7, 3, 7.25, 12, 99, 250, 1234.5):
            assert convert(value, unit, canonical(unit)) == float(f"{value * by_pint:.10g}")
