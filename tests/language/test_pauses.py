"""Full stops and commas that a recognizer writes at pauses are read over; those that end a thought are kept."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import load_grammar
from extractor.language.annotate import annotate
from extractor.language.pauses import with_lost_stops, without_stray_pauses
from extractor.language.tokens import tokenize


def read(text: str) -> str:
    return " ".join(without_stray_pauses(tokenize(text)).words)


@pytest.mark.parametrize(
    ("said", "heard"),
    [
        ("The graft was cut at. 19 millimeters.", "the graft was cut at 19 millimeters ."),
        ("18 by 9. Millimeters.", "18 by 9 millimeters ."),
        ("The tear is, fifteen millimeters long.", "the tear is fifteen millimeters long ."),
        ("A tear of the. Medial meniscus.", "a tear of the medial meniscus ."),
        ("Flexion to, 110.", "flexion to 110 ."),
        ("Drilled to a depth of, um, thirty millimeters.", "drilled to a depth of thirty millimeters ."),
        ("Drilled to, uh, thirty millimeters.", "drilled to thirty millimeters ."),
        ("Brace zero to, uh, sixty.", "brace zero to sixty ."),
        ("Skin cut of four, and a half centimeters.", "skin cut of four and a half centimeters ."),
        ("It took four, and half of the rest.", "it took four , and half of the rest ."),
    ],
)
def test_a_pause_inside_a_phrase_is_read_over(said: str, heard: str) -> None:
    assert read(said) == heard


@pytest.mark.parametrize(
    "said",
    [
        "Up at 58 . Minutes later it was down .",
        "Grade 1 . MM torn .",
        "It is . Next the graft .",
        "The portal we came through . Two stitches .",
        "The tear is , as seen , long .",
    ],
)
def test_a_sign_that_ends_a_thought_is_kept(said: str) -> None:
    assert read(said) == said.lower()


@pytest.mark.parametrize(
    "said, where",
    [
        ("with a rim of about 2 millimeters Now we prepare it", "now"),
        ("inflated to 280 millimeters of mercury We made two portals", "we"),
        ("the graft was cut to size Then the sutures were passed", "then"),
    ],
)
def test_a_capital_after_nothing_opens_a_sentence(said: str, where: str) -> None:
    words = with_lost_stops(tokenize(said)).words
    assert words[words.index(where) - 1] == "."
    assert [w for w in words if w != "."] == tokenize(said).words


@pytest.mark.parametrize(
    "said",
    [
        "an Outerbridge grade two lesion of the left Knee",
        "the MM was torn and the ACL was fine",
        "operated in March of last year with I think two anchors",
        "stitches six millimeters Apart were tied",
        "left knee period Rim rasped period Then the graft was cut period No trimming period",
        "Right Knee Arthroscopy With Repair",
        "when she was here last Tuesday the knee was locked",
    ],
)
def test_other_capitals_open_none(said: str) -> None:
    assert with_lost_stops(tokenize(said)).words == tokenize(said).words


def test_a_word_of_the_trade_opens_a_sentence_though_it_is_rare() -> None:
    said = "white went through the front corner Trephinate the rim and go on"
    names = with_lost_stops(tokenize(said)).words
    assert "." not in names  # it may be a name
    trade = with_lost_stops(tokenize(said), lambda: frozenset({"trephinate"})).words
    assert trade[trade.index("trephinate") - 1] == "."


def test_what_is_done_opens_a_sentence_in_a_whole_note() -> None:
    grammar = load_grammar()
    note = annotate("Right knee, meniscus transplant, same color at each corner Slide it in, it lies flat.", grammar)
    assert note.words[note.words.index("slide") - 1] == "."


@pytest.mark.parametrize(
    ("said", "opens"),
    [
        ("The total length came to 37 mm Tibial guide next.", True),
        ("An area of 12 x 10, mm Trochlea. Grade one.", True),
        ("Placed with a 5 mm Tibial guide.", False),
        ("Over the Tibial plateau 37 mm Tibial guide next.", False),  # whoever wrote this writes things with capitals
        ("The slot was 9 mm Wide.", False),
    ],
)
def test_a_capital_of_a_thing_behind_its_size_opens_a_sentence(said: str, opens: bool) -> None:
    things = frozenset({"tibial", "trochlea"})
    words = with_lost_stops(tokenize(said), frozenset, lambda: things).words
    assert (words.count(".") > said.count(".")) is opens
