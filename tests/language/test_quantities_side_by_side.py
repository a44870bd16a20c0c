"""Our reading beside quantulum3's (https://github.com/nielstron/quantulum3), on own sentences.

The right answer is worked out by hand. Whatever the other reader gets right, ours must get right too;
both are computed when the test runs.
"""

from __future__ import annotations

import warnings
from typing import Any

import pytest

from extractor.language.quantities import read_quantities
from extractor.language.tokens import tokenize

UCUM = {
    "millimetre": "mm",
    "centimetre": "cm",
    "inch": "[in_i]",
    "degree angle": "deg",
    "minute": "min",
    "minute of arc": "min",  # it takes every minute for one of arc; in its favor
    "hour": "h",
    "cubic centimetre": "mL",
    "litre": "L",
    "percentage": "%",
    "newton": "N",
    "week": "wk",
    "day": "d",
    "square centimetre": "cm2",
    "millimeter of mercury": "mm[Hg]",
}
"""Codes of quantulum3's unit names; one cubic centimeter is one milliliter."""

SENTENCES: dict[str, list[tuple[float, str]]] = {
    "The gap measures 21.5 mm along the rim.": [(21.5, "mm")],
    "We left a rim of 2 millimeters.": [(2, "mm")],
    "The cuff was up for 65 minutes.": [(65, "min")],
    "Blood loss was 30 mL.": [(30, "mL")],
    "The knee was flexed to 90 degrees.": [(90, "deg")],
    "An incision of 1.5 inches was made.": [(1.5, "[in_i]")],
    "It runs through thirty percent of the width.": [(30, "%")],
    "Three liters of saline were used.": [(3, "L")],
    "The socket is twenty-five millimeters deep.": [(25, "mm")],
    "Tensioned at 80 newtons.": [(80, "N")],
    "A lesion of 2 square centimeters.": [(2, "cm2")],
    "Back in six weeks.": [(6, "wk")],
    "An 8.25 mm cannula was placed.": [(8.25, "mm")],
    "Bent to one hundred twenty degrees.": [(120, "deg")],
    "Two and a half centimeters long.": [(2.5, "cm")],
    "Irrigated with 1,500 ml.": [(1500, "mL")],
    "Cuff at two hundred seventy five millimeters of mercury.": [(275, "mm[Hg]")],
    "Cuff at two fifty millimeters of mercury.": [(250, "mm[Hg]")],
    "Half an inch of tissue.": [(0.5, "[in_i]")],
    "A millimeter and a half of rim.": [(1.5, "mm")],
    "The tear is 14 mm long, 3 mm from the capsule.": [(14, "mm"), (3, "mm")],
    "Marked at twenty millimeters, fourteen millimeters from the root.": [(20, "mm"), (14, "mm")],
    "The tunnel is 42 millimeters long and 9 millimeters wide.": [(42, "mm"), (9, "mm")],
    "Eight point five millimeters in diameter.": [(8.5, "mm")],
    "Seen again in ten days.": [(10, "d")],
}

Reading = list[tuple[float, str]]


@pytest.fixture(scope="module")
def other() -> Any:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # it warns that its optional classifier is not installed
        from quantulum3 import parser
    return parser


def theirs(parser: Any, sentence: str) -> Reading:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return [(q.value, UCUM.get(q.unit.name, q.unit.name)) for q in parser.parse(sentence)]


def ours(sentence: str) -> Reading:
    """Values in the unit said, so that both answer the same question."""
    from extractor.language.units import canonical, convert, unit_words

    by_code = {unit.code: unit for unit in unit_words().units.values()}
    found = []
    for q in read_quantities(tokenize(sentence).words):
        assert q.value is not None and q.said_unit is not None, sentence
        unit = by_code[q.said_unit]
        found.append((convert(q.value, canonical(unit), unit), q.said_unit))
    return found


def same(a: Reading, b: Reading) -> bool:
    return len(a) == len(b) and all(
        x[0] == pytest.approx(y[0], rel=1e-6) and x[1] == y[1] for x, y in zip(a, b, strict=True)
    )


@pytest.mark.parametrize("sentence", SENTENCES)
def test_sentence_is_read_as_by_hand(sentence: str) -> None:
    assert same(ours(sentence), SENTENCES[sentence])


def test_whatever_the_other_reads_right_ours_does_too(other: Any) -> None:
    """Were the other to read nothing right, this would say nothing: it must read at least half."""
    right = {s for s, gold in SENTENCES.items() if same(theirs(other, s), gold)}
    assert len(right) >= len(SENTENCES) // 2
    assert [s for s in right if not same(ours(s), SENTENCES[s])] == []
