"""Values made by the hundred: equal and alike as keys where their fields are, and made anew to be changed."""

from __future__ import annotations

from dataclasses import replace

from extractor.language.concepts import Concept
from extractor.language.numbers import Number


def test_values_with_the_same_fields_are_one_key() -> None:
    one, same, other = Concept("side", "left", 3, 4), Concept("side", "left", 3, 4), Concept("side", "left", 3, 5)
    assert one == same != other
    assert {one: 1}[same] == 1
    assert other not in {one}
    assert one.key == "side:left"


def test_a_value_is_changed_by_making_another() -> None:
    eight = Number(0, 1, 8.0)
    assert replace(eight, value=9.0) == Number(0, 1, 9.0)
    assert eight.value == 8.0
