from __future__ import annotations

from random import Random

import num2words
import pytest

from training.numerals import cardinal, redraw, say, settle, tag, tag_digits, tag_words


@pytest.mark.parametrize("value", [*range(0, 130), 199, 200, 250, 305, 999, 1000, 4419, 12_345])
def test_cardinals_are_those_of_num2words(value: int) -> None:
    expected = num2words.num2words(value).replace("-", " ").replace(",", "").replace(" and ", " ")
    assert cardinal(value) == expected


@pytest.mark.parametrize("value", [0, 1, 2.5, 7, 9.5, 18, 45, 80, 105, 155, 250, 275, 310, 0.5])
@pytest.mark.parametrize("seed", range(6))
def test_however_a_number_is_said_its_words_read_back_as_its_figures(value: float, seed: int) -> None:
    draw = Random(seed)
    tagged = tag(value, draw)
    if "and a half" in tagged:
        return
    said, _ = settle(tagged)
    _, written = settle(tag_words(said.lower()) + " millimeters")
    assert written == f"{value:.1f}".removesuffix(".0") + " millimeters"


# The convention, as numerals.py states it; examples are this project's own.
@pytest.mark.parametrize(
    ("said", "written"),
    [
        ("four sutures", "Four sutures"),
        ("fourteen sutures", "14 sutures"),
        ("four millimeters", "4 millimeters"),
        ("two to three millimeters", "2 to 3 millimeters"),
        ("eighteen by nine", "18 by 9"),
        ("six weeks", "Six weeks"),
        ("grade two", "Grade 2"),
        ("two point five", "2.5"),
        ("one fifty five minutes", "155 minutes"),
        ("two hundred and fifty", "250"),
        ("twenty twenty nine", "2029"),
        ("two and a half millimeters", "Two and a half millimeters"),
        ("the A C L is intact", "The ACL is intact"),
        ("fifteen sutures, comma, eight millimeters", "15 sutures, comma, 8 millimeters"),
    ],
)
def test_numbers_are_written_in_one_way(said: str, written: str) -> None:
    assert settle(tag_words(said))[1] == written


def test_identifiers_are_said_sign_by_sign() -> None:
    assert settle("number " + tag_digits("M 04-2"))[0] == "Number M zero four dash two"


def test_redrawn_numbers_keep_their_size() -> None:
    draw = Random(2)
    for _ in range(200):
        _, written = settle(redraw(tag_words("eighteen millimeters and nine millimeters"), draw))
        first, second = (int(w) for w in written.split() if w.isdigit())
        assert 10 <= first <= 99 and 2 <= second <= 9


def test_hundreds_are_said_in_several_ways() -> None:
    assert {say(155, Random(seed)) for seed in range(40)} == {
        "one hundred fifty five",
        "one fifty five",
        "one hundred and fifty five",
    }
