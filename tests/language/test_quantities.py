"""Quantities as surgeons say them: own sentences, the expected reading worked out by hand.

How a reading is written: value, unit, then what else is known of it (`conftest.py`).
"""

from __future__ import annotations

from collections.abc import Callable

import pytest

from extractor.language.quantities import read_quantities
from extractor.language.tokens import tokenize

PLAIN = {
    "The gap is twenty-one millimeters.": ["21 mm"],
    "a rim of 2.5mm": ["2.5 mm"],
    "an eight point two five millimetre cannula": ["8.25 mm"],
    "point five millimeters": ["0.5 mm"],
    "oh point five millimeters of step-off": ["0.5 mm"],
    "the step measures point eight centimeters": ["8 mm |80"],  # 'point eight' or a point, then eight
    "from the entry point two millimeters": ["2 mm"],
    "at that point two portals were made": ["2 (count)"],
    "two and a half millimeters": ["2.5 mm"],
    "a millimeter and a half": ["1.5 mm"],
    "an inch and a half": ["38.1 mm"],
    "half a centimeter apart": ["5 mm"],
    "half an inch": ["12.7 mm"],
    "a half inch osteotome": ["12.7 mm"],
    "three quarters of an inch": ["19.05 mm"],
    "a quarter-inch drain": ["6.35 mm"],
    "1/2 inch, 1 1/2 inches, ½ inch and 1½ inches": ["12.7 mm", "38.1 mm", "12.7 mm", "38.1 mm"],
    "five half hitches each": ["5 (count)"],
    "two thirds of the meniscus": ["0.666667 (fraction)"],
    "half of the meniscus": ["0.5 (fraction)"],
    "therapy three times a week": ["3 (count)", "1 wk (rate)"],
    "a couple of millimeters": ["2 mm ~"],
    "a few millimeters": [],
    "a couple hundred cc": ["200 mL ~"],
    "three 3.0 anchors": ["3", "3"],
    "4 foot 10 inches": ["1473.2 mm"],
    "weeks two through six": ["2..6 wk *"],
    "several minutes later": [],
    "half a dozen stitches": ["6 ~ (count)"],
    "one hundred and ten degrees": ["110 deg"],
    "a hundred and five degrees": ["105 deg"],
    "one oh eight degrees": ["108 deg"],
    "one eighteen degrees": ["118 deg"],
    "cuff at two fifty": ["250"],
    "cuff at two seventy five millimeters of mercury": ["275 mm[Hg]"],
    "300 mm Hg and 40 kPa": ["300 mm[Hg]", "300.025 mm[Hg]"],
    "two ten millimeter plugs": ["2 (count)", "10 mm"],
    "one eight millimeter cannula": ["1 (count)", "8 mm"],
    "one eight millimeters": ["1 (count)", "8 mm |18"],
    "one twenty degrees": ["120 deg"],
    "three quarters of the way across": ["75 %"],
    "halfway through the tear": ["50 %"],
    "2/3 of the width": ["66.7 %"],
    "half the width": ["50 %"],
    "after the first week": ["1 wk"],
    "eighty, let me see the sheet, eighty-four minutes": ["84 min <80"],
    "the rim is two, let me see, the length is three millimeters": ["2", "3 mm"],
    "clinic at 2/52": ["2 wk"],
    "on 3/12/24": [" (date)"],
    "orthosis 0 90": ["0..90"],
    "forty mils of blood": ["40 mL"],
    "two mils of rim": ["2 mm"],
    "24 mm on 12 mm": ["24 mm @1.0", "12 mm @1.1"],
    "two on eleven millimeters": ["2", "11 mm"],
    "the skin was opened over four centimeters": ["40 mm"],
    "1 20 degrees": ["120 deg"],
    "from 0 to 1 40": ["0..140"],
    "2 30 degree scopes": ["2 (count)", "30 deg"],
    "the anterior one thirty-nine": ["1 (count)", "39"],
    "two thirty degree scopes": ["2 (count)", "30 deg"],
    "two eighteen gauge needles": ["2 (count)", "18 (gauge)"],
    "lacks minus five degrees, -5 degrees": ["-5 deg", "-5 deg"],
    "two thousand five hundred milliliters": ["2500 mL"],
    "1,500 mL, 3L and 20 cc": ["1500 mL", "3000 mL", "20 mL"],
    "eighty newtons, 60 N, 20 pounds of tension": ["80 N", "60 N", "88.9644 N"],
    "two square centimeters, 150 mm², 3 sq cm": ["200 mm2", "150 mm2", "300 mm2"],
    "thirty percent, 25%": ["30 %", "25 %"],
    "an hour and five minutes": ["65 min"],
    "two hours in 22 minutes": ["142 min"],
    "let down at 50 eight minutes": ["58 min"],
    "one hour and forty-eight minutes": ["108 min"],
    "1 hr 20 min": ["80 min"],
    "one hour twenty": ["80 min"],
    "an hour and a half": ["90 min"],
    "two and a half hours": ["150 min"],
    "for ten days, then six weeks, then two months": ["1.42857 wk", "6 wk", "8.69643 wk"],
    "therapy at week two": ["2 wk"],
    "in a week": ["1 wk"],
    "five years ago": ["5 a"],
    "thirty-four A P, thirty-one M L": ["34", "31"],
    "34 mm AP, 31 ML": ["34 mm", "31"],
    "80 mg in 20 mL": ["80 mg", "20 mL"],
    "give me a minute": [],
    "twice a day": [],
    "a hundred and forty-one": ["141"],
    "bent from zero to a hundred and twenty-six": ["0..126"],
    "the 5.5 reamer, then a 7 reamer": ["5.5", "7"],
    "one hour and a quarter": ["75 min"],
    "an hour and three quarters": ["105 min"],
    "1 h 42 min": ["102 min"],
    "1h42 on the cuff": ["102 min"],
    "two hours five": ["125 min"],
    "tourniquet time 1:42": ["102 min"],
    "therapy from week one": ["1 wk"],
    "seen at the week two visit": ["2 wk"],
    "PT wk 3": ["3 wk"],
    "in a week two sutures come out": ["1 wk", "2 (count)"],
    "inflated to two 70 millimeters of mercury": ["270 mm[Hg]"],
}

HEDGED = {
    "about three millimeters": ["3 mm ~"],
    "approximately 70 minutes": ["70 min ~"],
    "maybe ten cc": ["10 mL ~"],
    "blood loss like fifty cc": ["50 mL ~"],
    "ten or so millimeters": ["10 mm ~"],
    "ten millimeters or so": ["10 mm ~"],
    "ten-ish millimeters": ["10 mm ~"],
    "just under ten minutes": ["10 min ~"],
    "ninety plus or minus five degrees": ["90 deg ~ *"],
    "at least ten millimeters": ["10.. mm"],
    "ten millimeters or more": ["10.. mm"],
    "less than fifteen cc": ["..15 mL"],
    "under twenty-five cc": ["..25 mL"],
    "no more than five degrees": ["..5 deg"],
    "greater than 3 mm": ["3.. mm"],
    "flexion up to ninety degrees": ["..90 deg"],
    "the cuff went up to two sixty millimeters of mercury": ["260 mm[Hg]"],
    "under eighty newtons of tension": ["80 N"],
    "weight bearing over six weeks": ["6 wk"],
    "tied over two posts": ["2 (count)"],
    "one to two millimeters": ["1..2 mm *"],
    "3-4 mm": ["3..4 mm *"],
    "3–4 mm": ["3..4 mm *"],
    "three or four": ["3..4"],
    "between five and six millimeters": ["5..6 mm *"],
    "zero to one hundred twenty degrees": ["0..120 deg *"],
    "a millimeter or two": ["1..2 mm *"],
    "two centimeters to thirty millimeters": ["20..30 mm"],
    "two and a half to three millimeters": ["2.5..3 mm *"],
    "about three to four millimeters": ["3..4 mm ~ *"],
    "eleven, maybe twelve millimeters": ["11..12 mm *"],
    "six, maybe five millimeters": ["5..6 mm *"],
    "eighty percent of the width, maybe eighty-five percent": ["80..85 %"],
    "from two degrees of hyperextension to one hundred forty degrees of flexion": ["2 deg", "140 deg"],
    "two millimeters in the back, maybe ten cc of blood": ["2 mm", "10 mL ~"],
    "five to zero to one forty degrees": ["5", "0", "140 deg"],
    "two centimeters, two and a half maybe": ["20..25 mm *"],
    "six, six and a half perhaps": ["6..6.5"],
    "five millimeters in front, at the back six, seven perhaps.": ["5 mm", "6..7 mm *"],
    "it goes through 70% of it. Maybe 75%.": ["70..75 %"],
    "it was sixteen, perhaps.": ["16 ~"],
    "twenty cc blood loss, tops": ["..20 mL"],
    "twenty cc of blood, no more than that": ["..20 mL"],
    "ten millimeters of rim, at least": ["10.. mm"],
    "twenty percent, no more than that": ["20 %"],
    "no shorter than fourteen millimeters": ["14.. mm"],
    "five millimeters of rim, at most ten cc of blood": ["5 mm", "..10 mL"],
    "over about two centimeters by one": ["20 mm ~ @1.0", "10 mm ~ * @1.1"],
    "twenty two by nineteen, two two by one nine, millimeters": ["22 mm * @1.0", "19 mm = @1.1"],
    "eighteen by twelve millimeters, one eight by one two": ["18 mm * @1.0", "12 mm = @1.1"],
    "over two centimeters": ["20.. mm"],
    "somewhere from five to ten": ["5..10"],
    "from five up to ten cc": ["5..10 mL *"],
    "between twenty and thirty cc": ["20..30 mL *"],
}

CORRECTED = {
    "eighteen, no, nineteen millimeters": ["19 mm <18"],
    "Eighteen millimeters. No, nineteen.": ["19 mm <18 *"],
    "twenty-four, correction, twenty-three millimeters": ["23 mm <24"],
    "sixteen, scratch that, seventeen millimeters": ["17 mm <16"],
    "gap 19 millimeters. No. 20 millimeters": ["20 mm <19"],
    "gap 19 millimeters. Hm, no, 20 millimeters": ["20 mm <19"],
    "gap 19 millimeters. No. 5. Graft thawed": ["19 mm", "5"],
    "nine and a half, no, sorry, nine millimeters": ["9 mm <9.5"],
    "thirty, wait, let me push it down, thirty-two, no, make that thirty-one millimeters": ["31 mm <30 <32"],
    "forty minutes, I mean fifty minutes": ["50 min <40"],
    "ten or rather eleven millimeters": ["11 mm <10"],
    "twelve, actually thirteen millimeters": ["13 mm <12"],
    "eighteen millimeters along the rim, no, nineteen": ["19 mm <18 *"],
    "sixteen centimeters, I mean millimeters": ["16 mm <160"],
    "sixteen centimeters, sorry, sixteen millimeters": ["16 mm <160"],
    "not eighteen but nineteen millimeters": ["19 mm <18"],
    "it was not eighteen it was nineteen millimeters": ["19 mm <18"],
    "twenty and a bit, so call it twenty-one millimeters": ["21 mm <20"],
    "nineteen millimeters, not ninety": ["19 mm <90"],
    "two anchors, no, three anchors": ["3 <2 (count)"],
    "two portals, no, three.": ["3 <2"],
    "ten millimeters deep, no, twelve deep": ["12 mm <10 *"],
    "eighteen millimeters long, no, ten wide": ["18 mm", "10"],
    "nine, wait, the length, eighteen millimeters": ["9", "18 mm"],
    "thirty degrees, no, minus five degrees": ["-5 deg <30"],
    "one to two, no, two to three millimeters": ["2..3 mm <1 <2 *"],
    "eighteen by nine, no, ten millimeters": ["18 mm * @1.0", "10 mm <9 @1.1"],
    "eighteen by nine, no, nineteen by ten millimeters": ["19 mm <18 * @1.0", "10 mm <9 @1.1"],
    "grade two, no, grade three": ["3 <2 (grade)"],
    # no corrections
    "seventeen millimeters, no trimming, two portals": ["17 mm", "2 (count)"],
    "seventeen millimeters, no displacement, three millimeters from the capsule": ["17 mm", "3 mm"],
    "ten cc, no drains, twenty minutes": ["10 mL", "20 min"],
    "two millimeters. Actually the cannula is eight millimeters": ["2 mm", "8 mm"],
    "Nineteen millimeters, so make it eighteen by nine": ["19 mm", "18 @1.0", "9 @1.1"],
    "for three weeks, no kneeling for five weeks": ["3 wk", "5 wk"],
    "sixteen, no, seventeen in front, seventeen at the back": ["17 <16", "17"],
    "twenty wait let me have the six millimeter cannula": ["20", "6 mm"],
    "drains no, complications no, two portals": ["2 (count)"],
    "for three weeks, strike that, for four weeks": ["4 wk <3"],
    "at sixteen, no, at seventeen": ["17 <16"],
    "sixteen, no wait, seventeen": ["17 <16"],
    "it was twenty-eight, no, hang on, it says twenty-six on the film, twenty-six it is": ["26 <28"],
    "twenty-one wait let me flatten it twenty-three millimeters": ["23 mm <21"],
    "twenty percent gone, call it twenty to thirty percent": ["20..30 % <20 *"],
    "posterior horn, XIV, scratch that, 15 millimeters": ["15 mm <14"],
    "tissue number 3051, no, 3057": ["3057 (identifier)"],
}

COUNTED = {
    "five, ten, fifteen, and then, what do you think, eighteen, no, nineteen. Nineteen millimeters": [
        "19 mm <18 +5 +10 +15"
    ],
    "ten, fifteen, eighteen there": ["18 +10 +15"],
    "five ten fifteen seventeen millimeters": ["17 mm +5 +10 +15"],
    "white, blue, five, six": ["5", "6"],
    "six, eight and ten millimeters": ["6 mm *", "8 mm *", "10 mm"],
    "at thirty, sixty and ninety degrees": ["30 deg *", "60 deg *", "90 deg"],
    "fourteen millimeters, three millimeters": ["14 mm", "3 mm"],
    "eight millimeters wide, ten deep": ["8 mm", "10"],
    "five, ten, stops at twelve millimeters": ["12 mm +5 +10"],
    "five, ten, stops at ten millimeters": ["10 mm +5"],
    "five, ten, fifteen, sixteen at the edge. So it's sixteen millimeters": ["16 mm +5 +10 +15"],
    "5, 10, 15, and 18 there": ["18 +5 +10 +15"],
    "at 5, 10, 15 and 20 millimeters": ["5 mm *", "10 mm *", "15 mm *", "20 mm"],
}

PRODUCTS = {
    "12 by 10 millimeter": ["12 mm * @1.0", "10 mm @1.1"],
    "18x11 mm": ["18 mm * @1.0", "11 mm @1.1"],
    "eighteen millimeters, that's one eight, by nine millimeters": ["18 mm = @1.0", "9 mm @1.1"],
    "eighteen millimeters by ten millimeters": ["18 mm @1.0", "10 mm @1.1"],
    "seven millimeters wide by nine deep": ["7 mm @1.0", "9 mm * @1.1"],
    "twenty millimeters in length by ten millimeters in width": ["20 mm @1.0", "10 mm @1.1"],
    "12 by 10 by 5 millimeters": ["12 mm * @1.0", "10 mm * @1.1", "5 mm @1.2"],
    "about eight by ten millimeters": ["8 mm ~ * @1.0", "10 mm ~ @1.1"],
    "mark it eighteen by nine, starting fourteen millimeters back": ["18 @1.0", "9 @1.1", "14 mm"],
    "a seven by twenty-five interference screw": ["7 @1.0", "25 @1.1"],
    "I C R S grade two, fifteen by ten millimeters": ["2 (grade)", "15 mm * @1.0", "10 mm @1.1"],
    "grade two fifteen by ten millimeters": ["2 (grade)", "15 mm * @1.0", "10 mm @1.1"],
}

TWICE = {
    "eighteen, one eight, millimeters": ["18 mm ="],
    "10, 1 zero, millimeters in diameter": ["10 mm ="],
    "10, 1, 0 millimeters": ["10 mm ="],
    "40, for 0 millimeters": ["40 mm ="],
    "released at 88. Eight eight minutes": ["88 min ="],
    "depth 30, 1, 3 millimeters": ["30 mm |13"],
    "it was 12. 1 mm was trimmed": ["12", "1 mm"],
    "10, 1 millimeter was left": ["10", "1 mm"],
    "fifty, five zero": ["50 ="],
    "eighteen millimeters, that's one eight": ["18 mm ="],
    "eighteen one eight millimeters": ["18 mm ="],
    "fifty five zero millimeters": ["50 mm ="],
    "nineteen, nineteen millimeters": ["19 mm ="],
    "fifteen, five zero, millimeters": ["15 mm |50"],
    "fifty, one five, millimeters": ["50 mm |15"],
    "one portal, eight, two two millimeter screws": ["1 (count)", "8", "2 (count)", "2 mm"],
}

SORTS = {
    "closed with two oh nylon": ["2-0 (suture-size)"],
    "six two-oh sutures": ["6 (count)", "2-0 (suture-size)"],
    "2-0 and #4-0 suture": ["2-0 (suture-size)", "4-0 (suture-size)"],
    "three number zero sutures": ["3 (count)", "0 (suture-size)"],
    "two number two braided sutures": ["2 (count)", "2 (suture-size)"],
    "that's number one": ["1 (ordinal)"],
    "a number ten blade": ["10 (ordinal)"],
    "an eighteen-gauge needle": ["18 (gauge)"],
    "at the ten o'clock position": ["10 (clock)"],
    "at 7:30": ["7:30 (clock)"],
    "on September 4, 2019": ["4 (date)", "2019 (year)"],
    "on 09/04/03": [" (date)"],
    "in two thousand nineteen": ["2019 (year)"],
    "expires June twenty twenty-nine": ["2029 (year)"],
    "a thirty-seven-year-old": ["37 (age)"],
    "a 52 year old man": ["52 (age)"],
    "a woman of 48 years": ["48 (age)"],
    "tissue number A six one zero seven, thawed": ["A6107 (identifier)"],
    "tissue identifier zero three one eight dash two": ["0318-2 (identifier)"],
    "tissue number is M as in Mary four four one nine": ["M4419 (identifier)"],
    "tissue I D seven seven zero eight millimeter cannula": ["770 (identifier)", "8 mm"],
    "Outerbridge grade two": ["2 (grade)"],
    "Grade II-III changes": ["2..3 (grade)"],
    "grade IV": ["4 (grade)"],
    "grade 3 to 4 changes": ["3..4 (grade)"],
    "grade two, no, three": ["3 <2 (grade)"],
    "thirty-seven, no, thirty-eight-year-old": ["38 <37 (age)"],
    "grade two to three millimeters": ["2 (grade)", "3 mm"],
    "1. Medial meniscus tear": ["1 (ordinal)"],
    "a blue one and this one": ["1 (count)", "1 (count)"],
    "I cut one under": ["1 (count)"],
    "one second tunnel": [],
    "these two portals": ["2 (count)"],
    "day one": [],
    "time out was held for the patient": [],
}


@pytest.mark.parametrize(
    ("sentence", "expected"),
    [
        pytest.param(sentence, expected, id=sentence)
        for table in (PLAIN, HEDGED, CORRECTED, COUNTED, PRODUCTS, TWICE, SORTS)
        for sentence, expected in table.items()
    ],
)
def test_sentence_is_read(sentence: str, expected: list[str], read: Callable[[str], list[str]]) -> None:
    assert read(sentence) == expected


@pytest.mark.parametrize(
    ("sentence", "span", "last"),
    [
        ("It is about ten, no, nine millimeters long.", "about ten , no , nine millimeters", "nine"),
        ("The gap: five, ten, fifteen, eighteen there.", "five , ten , fifteen , eighteen", "eighteen"),
        ("It took an hour and five minutes today.", "an hour and five minutes", "an hour and five"),
        ("Rim of one to two millimeters left.", "one to two millimeters", "one to two"),
    ],
)
def test_span_holds_all_that_was_said(sentence: str, span: str, last: str) -> None:
    words = tokenize(sentence).words
    (quantity,) = read_quantities(words)
    assert " ".join(words[quantity.start : quantity.end]) == span
    assert " ".join(words[quantity.number_start : quantity.number_end]) == last


def test_said_unit_is_kept() -> None:
    (quantity,) = read_quantities(tokenize("one and a half inches").words)
    assert (quantity.said_unit, quantity.unit, quantity.dimension) == ("[in_i]", "mm", "length")


def test_of_a_span_of_motion_the_far_end_is_put_right() -> None:
    """Contract, section 8, rule 6: what is said last holds; the near end was not taken back."""
    (q,) = read_quantities(tokenize("zero to one hundred, I mean one hundred ten degrees").words)
    assert (q.value, q.low, q.high, q.earlier) == (None, 0, 110, (100,))
    (size,) = read_quantities(tokenize("one to two, no, three millimeters").words)
    assert (size.value, size.earlier) == (3, (1, 2))
