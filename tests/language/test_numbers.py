"""Numbers in words against two published libraries: num2words writes them, text2num reads them.

num2words: https://github.com/savoirfairelinux/num2words; text2num: https://github.com/allo-media/text2num.
"""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import settings as hypothesis_settings
from hypothesis import strategies as st
from num2words import num2words
from text_to_num import text2num

from extractor.language.numbers import Number, atom_at
from extractor.language.quantities import read_quantities
from extractor.language.runs import Around, cut_run, run_at
from extractor.language.tokens import tokenize

BILLION = 10**9


def settings(examples: int) -> hypothesis_settings:
    """So many examples, and no time limit on one: nothing here asserts time."""
    return hypothesis_settings(max_examples=examples, deadline=None)


def spoken(value: int | float) -> list[str]:
    """A number as num2words says it, cut into words without hyphens and commas."""
    return str(num2words(value)).replace(",", "").replace("-", " ").split()


def whole(words: list[str]) -> Number:
    """The one number that is all of `words`."""
    number = atom_at(words, 0)
    assert number is not None and number.end == len(words), words
    return number


@given(st.one_of(st.integers(0, 2000), st.integers(0, 999 * BILLION)))
@settings(1000)
def test_cardinal_means_what_num2words_wrote(value: int) -> None:
    assert whole(spoken(value)).value == value


@given(st.integers(0, 999_999_999))
@settings(300)
def test_cardinal_is_read_as_text2num_reads_it(value: int) -> None:
    words = spoken(value)
    assert whole(words).value == text2num(" ".join(words), "en")


@given(st.integers(101, 9999))
@settings(300)
def test_american_form_without_and(value: int) -> None:
    words = [w for w in spoken(value) if w != "and"]
    assert whole(words).value == value


@given(st.integers(0, 999), st.text("0123456789", min_size=1, max_size=4))
@settings(300)
def test_decimal_is_said_digit_by_digit(before: int, after: str) -> None:
    words = [*spoken(before), "point", *(w for d in after for w in spoken(int(d)))]
    assert whole(words).value == pytest.approx(float(f"{before}.{after}"))


@given(st.integers(0, 10**9), st.booleans())
@settings(100)
def test_figures(value: int, grouped: bool) -> None:
    assert whole([f"{value:,}" if grouped else str(value)]).value == value


@given(st.integers(100, 999).filter(lambda v: v % 100 >= 10))
@settings(300)
def test_hundreds_left_unsaid(value: int) -> None:
    """'two fifty' before a pressure is 250 (common practice, no source)."""
    words = spoken(value // 100) + spoken(value % 100)
    (quantity,) = read_quantities([*words, "millimeters", "of", "mercury"])
    assert (quantity.value, quantity.unit) == (value, "mm[Hg]")


@given(st.integers(13, 99).filter(lambda v: v % 10 != 0))
@settings(100)
def test_digits_after_a_number_say_it_twice(value: int) -> None:
    digits = [w for d in str(value) for w in spoken(int(d))]
    (quantity,) = read_quantities([*spoken(value), ",", *digits, ",", "millimeters"])
    assert (quantity.value, quantity.said_twice, quantity.rivals) == (value, True, ())


@given(st.sampled_from(range(13, 20)), st.booleans())
@settings(100)
def test_teens_and_tens_that_disagree_are_rivals(teen: int, teen_first: bool) -> None:
    """Fifteen and fifty are heard for one another: both stay."""
    tens = (teen - 10) * 10
    first, second = (teen, tens) if teen_first else (tens, teen)
    digits = [w for d in str(second) for w in spoken(int(d))]
    (quantity,) = read_quantities([*spoken(first), ",", *digits, ",", "millimeters"])
    assert (quantity.value, quantity.rivals, quantity.said_twice) == (first, (second,), False)


@given(st.integers(1, 99), st.integers(1, 99))
@settings(100)
def test_two_counts_and_lengths_stay_apart(count: int, length: int) -> None:
    """Numbers with a comma between them are never glued into one."""
    found = read_quantities([*spoken(count), "anchors", ",", *spoken(length), "millimeters"])
    assert [q.value for q in found] == [count, length]


@given(
    st.lists(st.integers(1, 99), min_size=7, max_size=7),
    st.sampled_from([",", "and", ""]),
    st.booleans(),
)
@settings(300)
def test_running_speech_keeps_its_numbers_apart(v: list[int], link: str, figures: bool) -> None:
    """A run-on note: every value is read once, with its unit, whatever stands between the phrases."""

    def said(value: int) -> str:
        return str(value) if figures else " ".join(spoken(value))

    phrases = [
        f"tear {said(v[0])} millimeters long",
        f"{said(v[1])} millimeters from the capsule",
        f"{said(v[2])} stitches {said(v[3])} millimeters apart",
        f"zero to {said(v[4])} degrees",
        f"cuff {said(v[5])} minutes at {said(200 + v[6])} millimeters of mercury",
        "blood loss under ten cc",
    ]
    found = read_quantities(f" {link} ".join(phrases).split())
    expected = [(v[0], "mm"), (v[1], "mm"), (v[2], None), (v[3], "mm"), (v[4], "deg"), (v[5], "min")]
    expected += [(200 + v[6], "mm[Hg]"), (10, "mL")]
    assert [(q.high if q.value is None else q.value, q.unit) for q in found] == expected


@given(st.integers(5, 60), st.integers(1, 3), st.sampled_from(["no", "correction", "scratch that", "sorry", "I mean"]))
@settings(200)
def test_correction_keeps_the_last_value(value: int, less: int, word: str) -> None:
    first, last = spoken(value - less), spoken(value)
    for words in (
        [*first, ",", *word.lower().split(), ",", *last, "millimeters"],
        [*first, "millimeters", ",", *word.lower().split(), ",", *last, "millimeters"],
        [*first, "millimeters", ".", *word.lower().split(), ",", *last, "."],
        [*first, *word.lower().split(), *last, "millimeters"],
    ):
        (quantity,) = read_quantities(words)
        assert (quantity.value, quantity.unit, quantity.earlier) == (value, "mm", (value - less,))


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("two fifty", [250]),
        ("one oh eight", [108]),
        ("two two", [2, 2]),
        ("five ten fifteen", [5, 10, 15]),
        ("one two three", [1, 2, 3]),
        ("nineteen ninety eight", [1998]),
        ("six two oh", [6, 2]),
        ("thirty forty", [30, 40]),
        ("hundred and ten", [110]),
        ("twenty five hundred", [2500]),
    ],
)
def test_run_is_cut(said: str, expected: list[float]) -> None:
    assert [n.value for n in cut_run(run_at(said.split(), 0), Around())] == expected


NUMBER_LIKE = st.sampled_from(
    "one two eight ten fifteen eighteen twenty fifty hundred thousand oh zero and a an half quarter point "
    "- / . , no wait not maybe about to by x or mm millimeters degrees cc minutes hour week of mercury number "
    "tissue i d grade ii iv # 2 0 18 2.5 1/2 ½ -5 7:30 10mm couple dozen old year gauge that 's sorry "
    "correction at least under up long wide minus plus \n".split(" ")
)


@given(st.lists(st.one_of(NUMBER_LIKE, st.text(max_size=8)), max_size=60))
@settings(1500)
def test_any_words_give_ordered_spans_inside_the_note(words: list[str]) -> None:
    previous = 0
    for quantity in read_quantities(words):
        assert previous <= quantity.start < quantity.end <= len(words)
        assert quantity.start <= quantity.number_start < quantity.number_end <= quantity.end
        if quantity.low is not None and quantity.high is not None:
            assert quantity.low <= quantity.high
            assert quantity.value is None
        previous = quantity.end


@given(st.text(max_size=200))
@settings(300)
def test_any_text_is_read(text: str) -> None:
    words = tokenize(text).words
    assert all(0 <= q.start < q.end <= len(words) for q in read_quantities(words))


@pytest.mark.parametrize("word", ["to", "for", "too", "won", "ate", "tin", "of", "second", "once", "few"])
def test_words_that_sound_like_numbers_are_none(word: str) -> None:
    assert read_quantities(["the", word, "millimeters"]) == []


def test_numbers_of_any_length_end_in_a_value_or_none() -> None:
    """No figure, however long, overflows or stops the reading."""
    long = "9" * 5000
    assert all(re.match(r"identifier|quantity", q.kind) for q in read_quantities([long, "mm", *["two"] * 5000]))
