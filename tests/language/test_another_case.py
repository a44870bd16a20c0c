"""What is told of another case or another time, against what is done today. Worded for these tests."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar

from .test_assertion import mood


@pytest.mark.parametrize(
    "text",
    [
        "On Tuesday's lady the rim was rasped.",
        "In the cadaver course we had the same gap, the rim was rasped.",
        "In the cadaver course we had the same gap. It was rasped.",
        "I did the same operation on a left knee a month ago and there the rim was rasped.",
        "The other side for the record. Same repair three years back, the rim was rasped.",
        "The fellow from last Thursday had the rim rasped.",
        "Usually the condyle goes with it, the rim rasped, not here.",
    ],
)
def test_another_case_is_none_of_today(text: str, grammar: Grammar) -> None:
    assert mood(text, "rasped", grammar) in {"history", "habit"}


@pytest.mark.parametrize(
    "text",
    [
        "On Tuesday's lady we had a gap, in this knee the rim was rasped.",
        "Last week's chap was easy. The rim was rasped.",
        "I did the same on a left knee a month ago, so today the rim was rasped.",
        "We take the same approach and the rim was rasped.",
        "He had the other side done last fall, prepped and draped, and the rim was rasped.",
        "Her brother had the same thing last spring so they came anyway the rim was rasped.",
    ],
)
def test_the_account_ends_where_this_case_is_told(text: str, grammar: Grammar) -> None:
    assert mood(text, "rasped", grammar) == "performed"


@pytest.mark.parametrize(
    "text",
    [
        "The meniscus is gone, thanks to a total meniscectomy.",
        "The meniscus is gone, a meniscectomy when she was fifteen.",
        "It was given up, a meniscectomy aged nineteen after a fall.",
        "Left by a meniscectomy he had at school.",
    ],
)
def test_work_of_a_younger_age_is_of_another_time(text: str, grammar: Grammar) -> None:
    assert mood(text, "meniscectomy", grammar) == "history"


@pytest.mark.parametrize(
    "text", ["Partial meniscectomy was done when she was asleep.", "A patient aged nineteen for meniscectomy."]
)
def test_an_age_alone_is_no_other_time(text: str, grammar: Grammar) -> None:
    assert mood(text, "meniscectomy", grammar) == "performed"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Her own cousin, funny enough, needed the rim rasped.", "history"),
        ("My uncle had a screw put in, the rim rasped.", "history"),
        ("Her sister had a repair, she has a tear, the rim was rasped.", "performed"),
        ("Her husband, who has a new knee, was told that the rim was rasped.", "performed"),
        ("In the paper we had at journal club the rim was rasped.", "history"),
        ("There is a study with the rim rasped.", "history"),
        ("The study had a gap of twenty, the rim was rasped.", "performed"),
        ("As the paper suggests the rim was rasped.", "performed"),
        ("Review with me in six weeks, the rim was rasped.", "performed"),
        ("With two paper strips on each hole, the rim was rasped.", "performed"),
    ],
)
def test_what_relatives_had_and_papers_tell_is_theirs(text: str, expected: str, grammar: Grammar) -> None:
    assert mood(text, "rasped", grammar) == expected
