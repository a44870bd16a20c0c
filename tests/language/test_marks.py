"""Counting along a ruler whose first mark has its unit, and units said behind a pause. Own sentences."""

from __future__ import annotations

import pytest

from extractor.language.quantities import Quantity, read_quantities
from extractor.language.tokens import tokenize


def read(text: str) -> tuple[Quantity, ...]:
    return tuple(read_quantities(tokenize(text).words))


@pytest.mark.parametrize(
    ("text", "value", "marks"),
    [
        ("Half a centimeter, one, one and a half, one point eight centimeters.", 18, (5, 10, 15)),
        ("Half a centimeter, one centimeter, one and a half, two centimeters.", 20, (5, 10, 15)),
        ("Ten millimeters, fifteen, twenty, and a hair, twenty-one millimeters.", 21, (10, 15, 20)),
        ("Five millimeters, ten, fifteen, and we stop at seventeen.", 17, (5, 10, 15)),
    ],
)
def test_a_count_along_marks_is_what_it_comes_to(text: str, value: float, marks: tuple[float, ...]) -> None:
    (quantity,) = read(text)
    assert (quantity.value, quantity.unit, quantity.counted) == (value, "mm", marks)


@pytest.mark.parametrize(
    "text",
    [
        "Eight millimeters, ten, and twelve millimeters.",  # no even marks
        "Five millimeters, ten.",  # too few
        "Five millimeters wide, ten deep, fifteen long.",  # three sizes
        "Fifteen millimeters, ten, five.",  # falling
    ],
)
def test_other_rows_of_numbers_are_no_count(text: str) -> None:
    assert not any(q.counted for q in read(text))


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("Cuff up, two sixty, millimeters of mercury that is.", 260, "mm[Hg]"),
        ("Two seventy, in millimeters of mercury.", 270, "mm[Hg]"),
        ("It took forty, minutes.", 40, "min"),
    ],
)
def test_a_unit_behind_a_pause_is_the_number_s(text: str, value: float, unit: str) -> None:
    (quantity,) = read(text)
    assert (quantity.value, quantity.unit) == (value, unit)


@pytest.mark.parametrize("text", ["We had two, mm intact.", "There were two, minutes later three."])
def test_what_goes_on_behind_a_pause_is_no_unit(text: str) -> None:
    assert read(text)[0].unit is None
