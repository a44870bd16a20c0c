"""What a clause asserts, and how far each word that decides it reaches. Sentences are worded for these tests."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar
from extractor.language.annotate import annotate
from extractor.language.asserted import Assertion


def at(text: str, word: str, grammar: Grammar) -> tuple[Assertion, int]:
    """The assertion around a word that stands once in the text, and its token."""
    note = annotate(text, grammar)
    assert note.words.count(word) == 1
    token = note.words.index(word)
    return note.assertions[note.segments.clause_at(token).number], token


def mood(text: str, word: str, grammar: Grammar) -> str:
    return at(text, word, grammar)[0].mood


def denied(text: str, word: str, grammar: Grammar) -> bool:
    assertion, token = at(text, word, grammar)
    return assertion.declines(token)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("The rim was rasped.", "performed"),
        ("We considered whether the rim be rasped.", "conditional"),
        ("Having the rim rasped was considered by us all.", "considered"),
        ("If it is smooth the rim could be rasped.", "conditional"),
        ("The rim might be rasped.", "conditional"),
        ("The rim will be rasped.", "planned"),
        ("The rim is usually rasped.", "habit"),
        ("I normally have the rim rasped.", "habit"),
        ("The rim had previously been rasped.", "history"),
        ("The rim was rasped two years ago.", "history"),
        ("In 2019 the rim was rasped.", "history"),
        ("At another hospital the rim was rasped.", "history"),
    ],
)
def test_moods(text: str, expected: str, grammar: Grammar) -> None:
    assert mood(text, "rasped", grammar) == expected


def test_of_several_moods_the_least_real_one_holds(grammar: Grammar) -> None:
    assert mood("Previously the rim would usually be rasped.", "rasped", grammar) == "history"
    assert mood("The rim would usually be rasped.", "rasped", grammar) == "habit"


@pytest.mark.parametrize(
    "text",
    [
        "The rim was not rasped.",
        "The rim wasn't rasped.",
        "The rim was never rasped.",
        "The rim was left without being rasped.",
        "No part of the rim was rasped.",
        "Rasped? No.",
        "Not done: measured, rasped, cut.",
        "The rim could be rasped, but it was not done.",
        "Rasped, no.",
    ],
)
def test_denied(text: str, grammar: Grammar) -> None:
    assert denied(text, "rasped", grammar)


@pytest.mark.parametrize(
    "text",
    [
        "The rim was rasped.",
        "The rim was rasped without trouble.",
        "The rim was rasped, no problem.",
        "No doubt the rim was rasped.",
        "The rim was rasped and not cut.",
        "The rim was not cut, but it was rasped.",
        "It was not cut. The rim was rasped.",
        "Rasped? Yes.",
        "The rim was rasped instead of cut.",
    ],
)
def test_not_denied(text: str, grammar: Grammar) -> None:
    assert not denied(text, "rasped", grammar)


def test_a_whole_denial_reaches_both_ways(grammar: Grammar) -> None:
    text = "The rim was not rasped."
    assert denied(text, "rim", grammar) and denied(text, "rasped", grammar)


def test_a_denial_ahead_reaches_only_what_follows(grammar: Grammar) -> None:
    text = "The meniscus was probed without trephination of the rim."
    assert not denied(text, "probed", grammar)
    assert denied(text, "trephination", grammar)


def test_a_denial_stays_in_its_clause(grammar: Grammar) -> None:
    text = "The rim was not rasped, the graft was trimmed."
    assert denied(text, "rasped", grammar) and not denied(text, "trimmed", grammar)


def test_or_carries_a_denial_on(grammar: Grammar) -> None:
    text = "The rim was not rasped or trephined."
    assert denied(text, "rasped", grammar) and denied(text, "trephined", grammar)


def test_a_question_asserts_what_its_answer_says(grammar: Grammar) -> None:
    assert mood("Rasped?", "rasped", grammar) == "conditional"
    assert mood("Rasped? Let us see.", "rasped", grammar) == "conditional"
    assert mood("Is the rim rasped? It is.", "rasped", grammar) == "performed"
    assert denied("Is the rim rasped? Not yet.", "rasped", grammar)


@pytest.mark.parametrize(
    ("text", "denied_"),
    [
        ("Rim rasped? No.", True),
        ("Rim rasped? Not needed.", True),
        ("Rim rasped? Yes.", False),
        ("Rim rasped? Twice.", False),
    ],
)
def test_a_heading_read_as_a_question_is_meant_as_its_answer(text: str, denied_: bool, grammar: Grammar) -> None:
    assert mood(text, "rasped", grammar) == "performed"
    assert denied(text, "rasped", grammar) is denied_


def test_what_hangs_on_a_plan_or_an_if_is_meant_alike(grammar: Grammar) -> None:
    assert mood("It is proposed that the rim be rasped at a second sitting.", "rasped", grammar) == "planned"
    assert mood("If it swells, then she goes on crutches and the rim is rasped.", "rasped", grammar) == "conditional"
    assert mood("I know him from two years back, when I rasped his rim.", "rasped", grammar) == "history"


def test_a_finding_is_not_denied_by_leaving_it_alone(grammar: Grammar) -> None:
    assert not denied("The patella is worn, grade one, and nothing was done for it.", "grade", grammar)


def test_an_if_after_its_main_clause_reaches_back(grammar: Grammar) -> None:
    assert mood("The rim is rasped if it would be smooth.", "rasped", grammar) == "conditional"


def test_a_few_words_after_a_comma_are_meant_alike(grammar: Grammar) -> None:
    text = "I could have put a stitch in the middle, all-inside, but I left it."
    assert mood(text, "inside", grammar) == "conditional"
    assert mood(text, "left", grammar) == "performed"


def test_a_year_of_expiry_is_no_other_time(grammar: Grammar) -> None:
    assert mood("The graft expires in 2027.", "graft", grammar) == "performed"


@pytest.mark.parametrize(
    "text",
    ["As planned we had the rim rasped.", "The rim, I would say, was rasped.", "As discussed the rim was rasped."],
)
def test_longer_words_that_hold_a_condition_are_none(text: str, grammar: Grammar) -> None:
    assert mood(text, "rasped", grammar) == "performed"


def test_every_mood_has_its_words_in_the_grammar(grammar: Grammar) -> None:
    lists = {name for name, _ in grammar.words}
    assert lists >= {"negation", "negation-ahead", "considered", "conditional", "planned", "habit", "history"}


@pytest.mark.parametrize(
    ("text", "word", "expected"),
    [
        ("Knee. Chondroplasty, microfracture, none.", "chondroplasty", True),
        ("Knee. Chondroplasty, microfracture, neither.", "chondroplasty", True),
        ("Knee. Fibrin clot, never.", "clot", True),
        ("Knee. Graft, anterior inferior black, graft seated, tissue bridge, none.", "black", False),
        ("Knee. Graft, anterior inferior black, graft seated, tissue bridge, none.", "seated", False),
        ("Knee. Graft, anterior inferior black, graft seated, tissue bridge, none.", "bridge", True),
    ],
)
def test_an_answer_denies_what_it_answers(text: str, word: str, expected: bool, grammar: Grammar) -> None:
    assert denied(text, word, grammar) is expected
