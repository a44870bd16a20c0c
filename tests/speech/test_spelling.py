"""How words are spelled for the ear. Numbers against num2words 0.5, a general-purpose library."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words

from extractor.speech.spelling import ALPHABET, codes, spelled, ways


@given(st.integers(0, 9999))
def test_figures_are_spelled_as_num2words_says_them(value):
    said = num2words(value).replace("-", " ").replace(",", "").replace(" and ", " ")
    assert spelled(str(value)) == said


@given(st.integers(0, 999), st.integers(1, 9))
def test_decimals_are_said_digit_by_digit(whole, tenths):
    said = num2words(float(f"{whole}.{tenths}")).replace("-", " ").replace(" and ", " ")
    assert spelled(f"{whole}.{tenths}") == said


@given(st.text())
def test_any_text_is_spelled_in_the_ears_signs(text):
    said = spelled(text)
    assert set(said) <= set(ALPHABET)
    assert min(codes(said), default=1) >= 1


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("14 mm", "fourteen millimeters"),
        ("14mm,", "fourteen millimeters"),
        ("250 mmHg", "two hundred fifty millimeters of mercury"),
        ("2-0", "two oh"),
        ("18-20 mm", "eighteen to twenty millimeters"),
        ("1,200 mL", "one thousand two hundred milliliters"),
        ("The ACL's", "the a c l's"),
        ("inside-out", "inside out"),
        ("90°", "ninety degrees"),
        ("00471", "zero zero four seven one"),
    ],
)
def test_written_words_are_spelled_as_they_are_said(written, said):
    assert spelled(written) == said


def test_a_hundred_and_more_is_said_in_several_ways():
    assert {"one hundred fifty five mm".replace("mm", "minutes"), "one fifty five minutes"} <= set(ways("155 minutes"))
    assert "one oh five" in ways("105")
    assert ways("green") == ("green",)
