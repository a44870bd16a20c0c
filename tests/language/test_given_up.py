"""What was tried and came to nothing, and what was opened and never used. Worded for these tests."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar

from .test_assertion import denied, mood


@pytest.mark.parametrize(
    ("text", "word", "expected"),
    [
        ("I tried an outside-in stitch, could not get it through, and used another.", "stitch", True),
        ("An attempt to rasp the rim failed.", "rasp", True),
        ("I tried to rasp the rim. It was hopeless.", "rasp", True),
        ("I tried to reduce the tear; it would not go back.", "reduce", True),
        ("I began to rasp the rim, the shaft broke, and I gave up.", "rasp", True),
        ("I tried to rasp the rim and it bled.", "rasp", False),
        ("I tried to reduce the tear, it would not go, but finally it did.", "reduce", False),
        ("I began to rasp the rim. It would not bleed.", "rasp", False),
        ("I tried to reduce the flap, it could not be lifted.", "reduce", False),
    ],
)
def test_a_trial_is_done_unless_it_failed(text: str, word: str, expected: bool, grammar: Grammar) -> None:
    assert denied(text, word, grammar) is expected


@pytest.mark.parametrize(
    ("text", "word", "expected"),
    [
        ("A button was opened and binned.", "button", True),
        ("Two anchors fell on the floor.", "anchors", True),
        ("They handed me a screw, I handed it back.", "screw", True),
        ("They unpacked a screw. It was returned to the shelf.", "screw", True),
        ("They unpacked a screw. The towel was returned to the shelf.", "screw", False),
        ("A white suture was passed, and handed back to the nurse.", "suture", False),
        ("A button was opened.", "button", False),
    ],
)
def test_what_came_to_nothing_was_not_used(text: str, word: str, expected: bool, grammar: Grammar) -> None:
    assert denied(text, word, grammar) is expected


def test_what_was_undone_again_was_not_done(grammar: Grammar) -> None:
    text = "He tied the front one to the back one; I cut that and tied the upper one."
    assert denied(text, "back", grammar)
    assert not denied(text, "upper", grammar)


@pytest.mark.parametrize(
    ("text", "word", "expected"),
    [
        ("I had the rasp in my hand for the rim and put it down again.", "rim", True),
        ("I held the rasp over the rim, thought better of it, and went on.", "rim", True),
        ("My hand went to the rim with the rasp and came back empty.", "rim", True),
        ("Portal: infiltrated, drawn on the skin, never incised.", "portal", True),
        ("Rim: rasped, not measured.", "rim", False),
        ("I had the rasp in my hand for the rim, and it bled.", "rim", False),
        ("The portal was drawn, then cut. Another was never opened.", "portal", False),
        ("I thought the rim rough. It was rasped.", "rim", False),
    ],
)
def test_what_was_taken_up_and_put_down_again(text: str, word: str, expected: bool, grammar: Grammar) -> None:
    assert denied(text, word, grammar) is expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("The bank offered us a graft, which we turned down.", "considered"),
        ("A graft was on offer. We did not take it.", "considered"),
        ("The bank offered us a graft and we took it.", "performed"),
        ("The bank offered us a graft. We did not trim the rim.", "performed"),
    ],
)
def test_what_was_offered_and_refused_is_none_of_ours(text: str, expected: str, grammar: Grammar) -> None:
    assert mood(text, "graft", grammar) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("The knot puckered the graft, so I cut it and pulled the strands out.", True),
        ("I tied the knot, hated the look of it, and snipped it straight back out.", True),
        ("I tied the knot, cut it, and tied it again.", False),
        ("I tied the knot, did not like it, and tied it again.", False),
        ("I tied the knot and cut it short.", False),
    ],
)
def test_a_knot_cut_again_is_none_unless_tied_anew(text: str, expected: bool, grammar: Grammar) -> None:
    assert denied(text, "knot", grammar) is expected


def test_what_is_told_of_a_thing_binned_goes_with_it(grammar: Grammar) -> None:
    told = "We had to bin a suture, a green one at the back, and passed a white one."
    assert denied(told, "green", grammar) and not denied(told, "white", grammar)
