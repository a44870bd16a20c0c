"""Numbers as a speech recognizer writes them: own sentences, after what Whisper base made of synthetic voices.

What was said is known for the dictations they follow; each right reading is worked out by hand, and a reading that
cannot be sure must show the other one (after `|`). The notation is that of `conftest.py`.
"""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from extractor.language.quantities import read_quantities
from extractor.language.tokens import tokenize

DASHED = {
    "it measured 30-4 millimeters": ["34 mm |4"],
    "the cuff was up 60-3 minutes": ["63 min"],
    "It was 70. 4 minutes": ["74 min |4"],
    "at 60. 2 minutes later": ["60", "2 min"],
    "through 40-5% of it": ["45 %"],
    "7-7 minutes": ["77 min"],
    "7-0 minutes": ["70 min"],
    "bent to 6-3 degrees": ["63 deg |3"],
    "cut at 24-11 millimeters": ["24 mm * @1.0", "11 mm @1.1"],
    "9-7 millimeters": ["9 mm |97 * @1.0", "7 mm |97 @1.1"],
    "mark it 7-7-9": ["7 |77 @1.0", "7 |77 @1.1", "9 |77 @1.2"],
    "zero to 1-30 degrees": ["0..130 deg *"],
    "bent 1-20 degrees": ["120 deg |20"],
    "at 2-80 millimeters of mercury": ["280 mm[Hg]"],
    "60-50 minutes": ["50 min |60"],
    "back in 6-4 weeks": ["4 wk |6"],
    "5-0-130 degrees": ["5", "0", "130 deg"],
    "brace 0 70 degrees": ["0..70 deg *"],
    "tourniquet 66 minutes, 6-6": ["66 min ="],
    "sixteen millimeters, that's 1-6": ["16 mm ="],
    "fifteen, 5-0, millimeters": ["15 mm |50"],
    # no joined numbers
    "3-5 mm": ["3..5 mm *"],
    "20-25 mm": ["20..25 mm *"],
    "1-2 weeks": ["1..2 wk *"],
    "5-10 cc": ["5..10 mL *"],
}

STRAY_DASHES = {
    "through a three- centimeter incision": ["30 mm"],
    "a 7- millimeter cannula": ["7 mm"],
    "cuff A-77 minutes": ["77 min"],
    "cuff A-7-7 minutes": ["77 min"],
    "cuff -77 minutes": ["77 min"],
    "rim of -2 mm": ["2 mm |-2"],
    "extension -5 degrees": ["-5 deg"],
    "vitamin A-88": [],
}

SUTURES = {
    "inside out 720 sutures": ["7 |720 (count)", "2-0 (suture-size)"],
    "520 vertical mattress sutures": ["5 |520 (count)", "2-0 (suture-size)"],
    "five twenty sutures": ["5 (count)", "2-0 (suture-size)"],
    "7-2-0 sutures": ["7", "2-0 (suture-size)"],
    "7-2 sutures": ["7", "2-0 |2 (suture-size)"],
    "5 two 0 sutures were passed": ["5 (count)", "2-0 (suture-size)"],
    "5 to 0 sutures": ["5 (count)", "2-0 (suture-size)"],
    "five to oh, sutures were passed": ["5 (count)", "2-0 (suture-size)"],
    "3 20 oh sutures": ["3 (count)", "2-0 (suture-size)"],
    "two 0 sutures": ["2-0 |0 (suture-size)"],
    "vertical mattress, 204 millimeters apart": ["4 mm |204", "2-0 (suture-size)"],
    "vertical mattress two oh four millimeters apart": ["2-0 (suture-size)", "4 mm |204"],
    "closed with 40 nylon": ["4-0 (suture-size)"],
    "closed with four or nylon": ["4-0 (suture-size)"],
    "the 20 sutures": ["2-0 |20 (suture-size)"],
    "a 2.0 braided suture": ["2-0 (suture-size)"],
    "sutures of size 2.0. They were tied": ["2-0 (suture-size)"],
    "2o suture, two-0 suture, 2-O suture, 2 oh suture": ["2-0 (suture-size)"] * 4,
    "a no. 2 braided suture": ["2 (suture-size)"],
    "two #5 sutures": ["2 (count)", "5 (suture-size)"],
    "sutures, size 0": ["0 (suture-size)"],
    "a 0 absorbable suture": ["0 (suture-size)"],
    "three 0 sutures": ["3-0 |0 (suture-size)"],
    "six 0 sutures": ["6 (count)", "0 (suture-size)"],
    "a size 2 suture": ["2 (suture-size)"],
    "one number 2 and two 2-0 sutures": ["1 (count)", "2 (suture-size)", "2 (count)", "2-0 (suture-size)"],
    # other things
    "a 3.0 suture anchor": ["3"],
    "20 suture anchors": ["20 (count)"],
    "a size 7 screw": ["7"],
    "a 2.0 drill": ["2"],
    "one suture, no 2 sutures": ["1 (count)", "2 (count)"],
    "4 or 5 sutures": ["4..5"],
    "at 2 o clock": ["2 (clock)"],
    "one oh four millimeters": ["104 mm"],
}

RUN_TOGETHER = {
    "tissue number is 55021 millimeter under": ["5502 (identifier)", "1 mm"],
    "tissue number is 55024 millimeters under": ["55024 (identifier)"],
    "blood loss was 20,000 liters": ["20 mL |2e+07"],
    "3,000 meters of rim": ["3 mm |3e+06"],
    "irrigated with 3 liters": ["3000 mL"],
    "measuring probe 510-15, and 17 there": ["17 +5 +10 +15"],
    "510 millimeters": ["510 mm"],
    "let down at 8.47 minutes": ["8.47 min |47"],
    "blood loss 4DCC": ["40 mL |4"],
    "cuff at to 70 millimeters of mercury": ["70 mm[Hg] |270"],
    "expires June 20, 31": ["2031 (year)"],
    "on June 20, 31 stitches were counted": ["20 (date)", "31 (count)"],
}


@pytest.mark.parametrize(
    ("sentence", "expected"),
    [
        pytest.param(sentence, expected, id=sentence)
        for table in (DASHED, STRAY_DASHES, SUTURES, RUN_TOGETHER)
        for sentence, expected in table.items()
    ],
)
def test_heard_number_is_read(sentence: str, expected: list[str], read: Callable[[str], list[str]]) -> None:
    assert read(sentence) == expected


@given(st.sampled_from(range(20, 100, 10)), st.integers(1, 9), st.sampled_from(["minutes", "percent"]))
@settings(deadline=None)
def test_tens_dash_digit_is_the_compound(tens: int, digit: int, unit: str) -> None:
    (quantity,) = read_quantities(tokenize(f"{tens}-{digit} {unit}").words)
    assert (quantity.value, quantity.rivals) == (tens + digit, ())


@given(st.integers(1, 60), st.integers(1, 60))
@settings(deadline=None)
def test_dashed_lengths_keep_both_numbers_or_doubt(a: int, b: int) -> None:
    """Whatever two lengths with a dash are read as, either both show in the reading or it is in doubt."""
    found = read_quantities(tokenize(f"it measured {a}-{b} millimeters").words)
    shown = {v for q in found for v in (q.value, q.low, q.high)}
    assert {a, b} <= shown or all(q.rivals for q in found)


HEARD = st.sampled_from(
    "20 - 2 8 0 820 206 510 15 10,000 8.59 50 . , 5-0 2o two-0 a-88 -88 four- 8- 3dcc 1h57 xvi to too or oh zero six "
    "no # number size sutures suture nylon anchor apart mm millimeters minutes minute liters meters degrees cc mmhg % "
    "tissue number june 29 week wk maybe perhaps tops no more than that stops at up to over by there wait let".split()
)


@given(st.lists(HEARD, max_size=40))
@settings(max_examples=1500, deadline=None)
def test_any_heard_words_give_ordered_spans(words: list[str]) -> None:
    previous = 0
    for quantity in read_quantities(words):
        assert previous <= quantity.start < quantity.end <= len(words)
        assert quantity.start <= quantity.number_start < quantity.number_end <= quantity.end
        assert quantity.value is not None or not quantity.rivals  # a doubt is always about a value
        previous = quantity.end
