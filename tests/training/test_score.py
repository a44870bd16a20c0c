from __future__ import annotations

import jiwer
import pytest

from training.score import Score, align, normal, score, stray_stops, trade_words

TRADE = frozenset({"graft", "left", "right", "posterior"})


@pytest.mark.parametrize(
    ("said", "heard"),
    [
        ("eighteen mm", "18 millimeters"),
        ("The A.C.L. is intact", "the A C L is intact"),
        ("the a c l", "the ACL"),
        ("vertical-mattress", "vertical mattress"),
        ("two-oh nylon", "2-0 nylon"),
        ("fifty percent", "50%"),
        ("one fifty five", "155"),
        ("twenty by ten", "20 x 10"),
        ("tissue number two eight four Z", "tissue number 284Z"),
    ],
)
def test_spellings_that_mean_the_same_are_no_error(said: str, heard: str) -> None:
    assert normal(said) == normal(heard)


@pytest.mark.parametrize(
    ("said", "heard"),
    [("eighteen mm", "80 mm"), ("left knee", "right knee"), ("8", "18"), ("anterior", "interior"), ("2 4", "24")],
)
def test_what_means_another_thing_is_an_error(said: str, heard: str) -> None:
    assert normal(said) != normal(heard)


@pytest.mark.parametrize(
    ("said", "heard"),
    [
        ("the graft was cut here", "the craft was cut"),
        ("a b c d e f", "a x c e f g h"),
        ("one word", ""),
        ("same words here", "same words here"),
        ("here we go again now", "again we go here now then"),
    ],
)
def test_word_errors_are_those_of_jiwer(said: str, heard: str) -> None:
    pairs = align(said.split(), heard.split())
    measured = jiwer.process_words(said, heard)
    assert sum(a != b for a, b in pairs) == measured.substitutions + measured.deletions + measured.insertions


def test_trade_words_and_numbers_are_counted_apart() -> None:
    found = score("eighteen millimeters on the left graft", "80 millimeters on the right craft now", TRADE)
    assert found == Score(words=6, errors=4, trade=2, trade_errors=2, numbers=1, number_errors=1, inserted_trade=1)


def test_a_compound_written_in_one_or_two_words_is_no_error() -> None:
    assert score("he was cold-hearted", "he was coldhearted", TRADE).errors == 0
    assert score("the undersurface", "the under surface", TRADE).errors == 0
    assert score("the under side", "the undersurface", TRADE).errors == 2


def test_scores_add_up() -> None:
    assert Score(1, 2, 3, 4, 5, 6, 7) + Score(1, 1, 1, 1, 1, 1, 1) == Score(2, 3, 4, 5, 6, 7, 8)


def test_trade_words_are_the_grammars_and_no_everyday_ones() -> None:
    words = trade_words()
    assert {"posterior", "meniscus", "left", "mattress", "cannula"} <= words
    assert not {"the", "and", "one", "with"} & words


@pytest.mark.parametrize(
    ("heard", "stray"),
    [
        ("About 30 percent, maybe 35. Rim stable.", 0),
        ("About 30 percent. Maybe 35. Rim stable.", 1),
        ("About 30. Percent, maybe. 35 rim stable.", 2),
        ("About 30 percent maybe 35 rim stable", 0),
    ],
)
def test_full_stops_inside_sentences_are_counted(heard: str, stray: int) -> None:
    assert stray_stops("About thirty percent, maybe thirty-five. Rim stable.", heard) == stray
