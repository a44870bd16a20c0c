"""Whose case a clause tells of, and when: headings, habits, other patients, other surgeons. Worded for these tests."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar

from .test_assertion import denied, mood


@pytest.mark.parametrize(
    ("text", "word", "expected"),
    [
        ("From the old chart: rim rasped, synovium shaved.", "shaved", "history"),
        ("What the first surgeon did: rasped the rim, shaved the synovium.", "shaved", "history"),
        ("For the students: the root is drilled and pulled down.", "pulled", "habit"),
        ("Preoperative drawing: all-inside behind, rim rasped.", "rasped", "planned"),
        ("From the old chart: rim rasped, and today the synovium was shaved.", "shaved", "performed"),
        ("From the old chart: rim trephined. What I did: rasped the rim.", "rasped", "performed"),
        ("I thought better of it: the rim alone was rasped.", "rasped", "performed"),
    ],
)
def test_a_heading_holds_up_to_the_next(text: str, word: str, expected: str, grammar: Grammar) -> None:
    assert mood(text, word, grammar) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("In her sister the rim was rasped.", "history"),
        ("With another patient the rim was rasped.", "history"),
        ("Their operative note says the rim was rasped.", "history"),
        ("By convention the rim is rasped.", "habit"),
        ("Most surgeons have the rim rasped.", "habit"),
        ("My old boss always had the rim rasped.", "habit"),
        ("My colleague saw the rim rasped.", "performed"),
        ("With the sutures next to the one before the rim was rasped.", "performed"),
        ("I was on the verge of having the rim rasped.", "considered"),
        ("On the edge of the defect the rim was rasped.", "performed"),
        ("The rim is supposed to be rasped.", "planned"),
    ],
)
def test_others_and_habits(text: str, expected: str, grammar: Grammar) -> None:
    assert mood(text, "rasped", grammar) == expected


def test_what_others_did_goes_on(grammar: Grammar) -> None:
    text = "The meniscus was repaired two years ago. They rasped the rim. I probed it."
    assert mood(text, "rasped", grammar) == "history"
    assert mood(text, "probed", grammar) == "performed"


def test_they_may_be_the_patient(grammar: Grammar) -> None:
    text = "They had a meniscectomy two years ago. They were positioned supine."
    assert mood(text, "positioned", grammar) == "performed"


def test_a_time_told_behind_holds_for_what_was_so(grammar: Grammar) -> None:
    assert mood("Weight bearing was partial after the last operation.", "partial", grammar) == "history"
    assert mood("Weight bearing is partial after the last operation.", "partial", grammar) == "performed"


@pytest.mark.parametrize(
    ("text", "word", "expected"),
    [
        ("The time-out was not skipped.", "skipped", False),
        ("We did not forget to rasp the rim.", "rasp", False),
        ("Nor did I omit to rasp the rim.", "rasp", False),
        ("The rim was skipped.", "skipped", True),
        ("The tying could not have gone better.", "tying", False),
        ("Abrasion of the rim there was no call for.", "abrasion", True),
        ("The harvest that we had planned was cancelled.", "harvest", True),
        ("The harvest we had set up for was not needed.", "harvest", True),
        ("The stitch we had passed was not tight.", "stitch", False),
        ("I saw no reason to rasp the rim.", "rasp", True),
        ("Rather than resect I repaired it.", "repaired", False),
        ("Without cutting it we delivered the graft.", "delivered", False),
        ("Without cutting it we delivered the graft.", "cutting", True),
        ("Nor did the meniscus have a tear.", "tear", True),
        ("At no point did we inflate the tourniquet.", "inflate", True),
        ("Then I did not: rim rasped.", "rasped", False),
        ("Not done: trephination.", "trephination", True),
        ("We do not, as some centers do, rasp the rim.", "rasp", True),
        ("I did not, and then, at the end, the rim was rasped.", "rasped", False),
    ],
)
def test_how_far_a_denial_reaches(text: str, word: str, expected: bool, grammar: Grammar) -> None:
    assert denied(text, word, grammar) is expected


@pytest.mark.parametrize(
    ("text", "word", "expected"),
    [
        ("The rim rasped first, that's what I tell the fellows.", "rasped", "habit"),
        ("I tell the fellows to hurry, we rasped the rim.", "rasped", "performed"),
        ("Two hours of rasping, and you will be sorry.", "rasping", "conditional"),
        ("The rim was rasped, and you will see it bleed.", "rasped", "performed"),
    ],
)
def test_what_is_taught_is_a_rule(text: str, word: str, expected: str, grammar: Grammar) -> None:
    assert mood(text, word, grammar) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("She may come back, if it hurts, we'll see the rim rasped then.", "conditional"),
        ("If it was smooth, we got the rim rasped.", "performed"),
    ],
)
def test_what_hangs_on_an_if_is_to_come(text: str, expected: str, grammar: Grammar) -> None:
    assert mood(text, "rasped", grammar) == expected
