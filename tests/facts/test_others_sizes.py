"""Sizes that no word list knows for another's, told by all the words around them, and this case's beside them."""

from __future__ import annotations

import pytest

from extractor.facts.others_sizes import ANOTHERS, is_anothers
from extractor.grammar.packs import load_grammar
from extractor.outputs.explain import as_text, explain

from .reading import drafts, facts, flags, reading

KNEE = "Right knee arthroscopy. "
OTHERS = (
    ("Flexion on the left is one hundred forty, on the right, where I work, it is less.", "knee.flexion_angle", []),
    (
        "The first tunnel was ten millimeters, the man who drilled it put it far too much in front.",
        "tunnel.diameter",
        [],
    ),
    ("A tear deeper than fifty percent gets a stitch.", "tear.depth_percent", []),
    ("A knee that goes fifteen degrees past straight is a different animal.", "knee.hyperextension", []),
    ("Holes belong three millimeters apart by the book, mine are four millimeters apart.", "hole.spacing", [4]),
)
OURS = (
    ("The tibial tunnel was drilled at nine millimeters.", "tunnel.diameter", 9),
    ("I reamed the tibial tunnel over the pin to ten millimeters, and that is big.", "tunnel.diameter", 10),
    ("The tear went through sixty percent of the depth.", "tear.depth_percent", 60),
    ("He hyperextends eight degrees on this side.", "knee.hyperextension", 8),
    ("The tear took the tip of the probe four times, so sixteen millimeters of tear.", "tear.length", 16),
)


UNREAD = (
    "A tunnel wider than fourteen millimeters wants bone first and a graft months later.",
    "My first plan was ten millimeters and then I drilled eight millimeters.",
    "The big man downstairs drills eleven millimeters for everybody.",
)


def _read(text: str, what: str) -> list[object]:
    told = facts(KNEE + text, "measurements")
    return [m.get("value") for m in told if m["what"] == what and m.get("role") != "reference"]


@pytest.mark.parametrize(("said", "what", "left"), OTHERS)
def test_a_size_told_of_others_is_none_of_this_case(said: str, what: str, left: list[float]) -> None:
    assert _read(said, what) == left


@pytest.mark.parametrize(("said", "what", "value"), OURS)
def test_a_size_told_of_this_case_stays(said: str, what: str, value: float) -> None:
    assert _read(said, what) == [value]


def test_of_two_sizes_of_one_thing_the_doubted_one_yields() -> None:
    said = OTHERS[1][0] + " I drilled a tunnel of nine millimeters."
    assert _read(said, "tunnel.diameter") == [9]


def test_the_evidence_holds_the_words_that_told() -> None:
    said, what, _ = OTHERS[1]
    aside = [d for d in drafts(KNEE + said, "measurements") if d.fields["what"] == what]
    words = [(KNEE + said)[s.start : s.end] for d in aside for s in d.spans if s.rule == ANOTHERS]
    assert words and all(not any(c.isdigit() for c in w) and "ten millimeters" not in w for w in words)


def test_explain_says_what_was_left_aside_and_by_which_words() -> None:
    told = as_text(explain(KNEE + OTHERS[1][0], load_grammar()))
    assert 'tunnel.diameter "ten millimeters": told by "' in told


@pytest.mark.parametrize("said", UNREAD)
def test_nobody_is_asked_about_another_s_number_that_no_rule_reads(said: str) -> None:
    found = reading(KNEE + said)
    assert is_anothers(found.case, found.case.note.quantities[0])
    assert not [f for f in flags(KNEE + said) if f.check == "unread-number" and said[:9] in f.message]
