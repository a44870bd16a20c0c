"""Stitches of a repair told in prose: what was meant and what was used, tools for the technique, passes, losses.

That repairs are told so is common practice, no source; the sentences are the project's own.
"""

from __future__ import annotations

import pytest

from .reading import facts, flags, steps

TECHNIQUES = {"inside-out": "inside_out", "all-inside": "all_inside", "outside-in": "outside_in"}
WORDS = ("two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
BODY, HORN = ("body", None), ("posterior_horn", None)
ANYWHERE = (None, None)
FEW, MANY = ((4, 5), (8, 9))

# {n} is a number, {m} one more; behind it (place, way) and which of the two numbers it is of.
ONE_NUMBER = {
    "Instead of {n} {t} sutures I needed {m}.": (ANYWHERE, "m"),
    "I thought {n} {t} stitches would be enough, but it took {m}.": (ANYWHERE, "m"),
    "I had planned on {n} {t} stitches. In the end it took {m}.": (ANYWHERE, "m"),
    "{n} {t} stitches were planned, {m} were placed.": (ANYWHERE, "m"),
    "I planned {n} {t} stitches but used {m} in the body.": (BODY, "m"),
    "It needed no fewer than {n} {t} sutures.": (ANYWHERE, "n"),
    "As many as {n} {t} sutures were placed in the body.": (BODY, "n"),
    "About {n} {t} sutures were placed in the body.": (BODY, "n"),
    "Suture count {n}. {t}.": (ANYWHERE, "n"),
    "Repaired {t} with {n}.": (ANYWHERE, "n"),
    "{n} of 2-0, {t}, posterior horn.": (HORN, "n"),
    "{t}, {n} passes through the posterior horn, tied.": (HORN, "n"),
    "{n} bites {t} through the body.": (BODY, "n"),
    "The {t} device was fired {n} times in the body.": (BODY, "n"),
    "{n} {t} vertical loop sutures in the body.": (("body", "vertical_mattress"), "n"),
    "{n} {t} stitches in the body. One broke and was exchanged.": (BODY, "n"),
    "{n} {t} stitches, knots tied on the capsule under direct vision.": (ANYWHERE, "n"),
    "The graft was tubularized and the ends whipstitched with number 2, then {n} {t} sutures went in the body.": (
        BODY,
        "n",
    ),
}


@pytest.mark.parametrize("text", ONE_NUMBER)
@pytest.mark.parametrize("technique", TECHNIQUES)
def test_one_number(text: str, technique: str) -> None:
    n, m = MANY if technique == "all-inside" else FEW
    (region, way), which = ONE_NUMBER[text]
    said = text.format(n=WORDS[n - 2], m=WORDS[m - 2], t=technique)
    said = said[:1].upper() + said[1:]
    (found,) = facts(f"Meniscus repair. {said}", "sutures")
    assert found["count"] == (n if which == "n" else m)
    assert (found.get("region"), found.get("configuration")) == (region, way)
    assert (found["technique"], found.get("surface")) == (TECHNIQUES[technique], None)
    assert steps(f"Meniscus repair. {said}")[f"{technique}-stitch"] == "performed"


PUT_RIGHT = {  # four said first, or one more; which number and place holds
    "Four {t} sutures were placed in the body, actually it was five.": (5, "body", None),
    "Four {t} stitches in the body. Let me count again. Five.": (5, "body", None),
    "Four {t} stitches in the posterior horn, correction, in the body.": (4, "body", None),
    "Four vertical {t} stitches in the body, correction, horizontal.": (4, "body", "horizontal_mattress"),
    "Five {t} stitches in the body, but one didn't hold and came out.": (4, "body", None),
    "I lost one of the five {t} stitches in the body.": (4, "body", None),
    "Five {t} implants in the body. The last one pulled out.": (4, "body", None),
    "Four {t} implants in the body, the last a replacement for one that failed.": (4, "body", None),
    "One {t} implant in the body was wasted, four were used.": (4, "body", None),
    "None in the posterior horn. Four {t} stitches in the body.": (4, "body", None),
    "No {t} stitches were needed in the posterior horn, four in the body.": (4, "body", None),
    "From the posterior horn to the body I ran four {t} verticals.": (4, None, "vertical_mattress"),
    "I switched sides, four {t} stitches in the body, and there it held.": (4, "body", None),
    "{t} stitches in the body, and there are four.": (4, "body", None),
    "{t}, in the body. Four.": (4, "body", None),
    "Technique {t}, stitches four, body.": (4, "body", None),
    "Four {t} stitches in the body, and after one of them broke I redid it.": (4, "body", None),
    "Four {t} stitches in the body, one of which had to be revised.": (4, "body", None),
    "Four {t} implants successfully deployed in the body, one failed.": (4, "body", None),
    "Four good {t} stitches in the body after one was lost.": (4, "body", None),
    "We put five {t} stitches in the body. No, I'm wrong, four.": (4, "body", None),
    "The needle pairs were retrieved from the body, four pairs, {t}.": (4, "body", None),
    "Four {t} stitches in the body, no more were needed.": (4, "body", None),
    "Four {t} implants in the body, and a fifth jammed in the cannula and was discarded.": (4, "body", None),
    "Four {t} implants went into the body and one went in the bin.": (4, "body", None),
    "Five {t} implants in the body, the third pulled out.": (4, "body", None),
    "Two fewer than planned, four {t} stitches in the body.": (4, "body", None),
    "The repair runs along the body and posterior horn with four {t} stitches.": (4, None, None),
}


@pytest.mark.parametrize("text", PUT_RIGHT)
@pytest.mark.parametrize("technique", TECHNIQUES)
def test_what_was_put_right_or_lost(text: str, technique: str) -> None:
    (found,) = facts("Meniscus repair. " + text.format(t=technique), "sutures")
    assert (found["count"], found.get("region"), found.get("configuration")) == PUT_RIGHT[text]
    assert found["technique"] == TECHNIQUES[technique]


BY_TOOLS = (
    "Zone-specific needle through the body, {} passes, tied over the capsule.",
    "{} sutures were passed through the body with double-armed needles through a zone-specific cannula.",
    "Double-loaded needles were passed through the single-barrel cannula, {} stitches in the body.",
)


@pytest.mark.parametrize("text", BY_TOOLS)
def test_a_technique_told_by_its_tools(text: str) -> None:
    (found,) = facts(f"Meniscus repair. {text.format('four')}", "sutures")
    assert (found["count"], found["technique"], found["region"]) == (4, "inside_out", "body")


PLACES = (
    "The posterior horn needed {n}, the body {m}. {t}.",
    "{t} repair. The posterior horn took {n} and the body {m}.",
    "Besides the {n} {t} stitches in the posterior horn I needed {m} in the body.",
    "{t} in the posterior horn, {n} stitches, and in the body, {m}.",
    "{t} to the posterior horn ({n}) and the body ({m}).",
    "{t} suturing. Posterior horn: {n} vertical, body: {m} vertical.",
)


@pytest.mark.parametrize("text", PLACES)
@pytest.mark.parametrize("technique", TECHNIQUES)
def test_a_number_at_each_place(text: str, technique: str) -> None:
    found = facts("Meniscus repair. " + text.format(n="four", m="two", t=technique), "sutures")
    assert {(f["region"], f["count"], f["technique"]) for f in found} == {
        ("posterior_horn", 4, TECHNIQUES[technique]),
        ("body", 2, TECHNIQUES[technique]),
    }


@pytest.mark.parametrize("technique", TECHNIQUES)
def test_ways_ahead_of_their_numbers(technique: str) -> None:
    found = facts(f"Meniscus repair. Vertical four horizontal two {technique}.", "sutures")
    assert {(f["configuration"], f["count"]) for f in found} == {("vertical_mattress", 4), ("horizontal_mattress", 2)}


@pytest.mark.parametrize("number", ["At least four", "Four or five", "Up to nine"])
@pytest.mark.parametrize("technique", TECHNIQUES)
def test_a_number_left_open_is_asked_about(number: str, technique: str) -> None:
    text = f"Meniscus repair. {number} {technique} sutures were placed in the body."
    assert not [f for f in facts(text, "sutures") if f.get("count")]
    assert "suture-count-mismatch" in {f.check for f in flags(text)}


NO_STITCHES = (
    "Two cannulas were used for the inside-out sutures.",
    "It took two tries to place the all-inside implant.",
    "We took two passes with the shaver before the all-inside repair.",
    "Inside-out sutures were tied over the capsule with four throws.",
    "The meniscus was rasped ten times and repaired inside-out.",
    "Inside-out repair after two failed passes.",
    "Both ends of the hamstring graft got a whip stitch with four throws of number 2.",
    "The tendon graft was prepared with four locking stitches of number 2 at each end.",
    "The graft was quadrupled and held with three cinch sutures.",
    "The sutures were tied with a sliding knot and five throws.",
)


@pytest.mark.parametrize("text", NO_STITCHES)
def test_what_is_no_stitch_of_a_meniscus(text: str) -> None:
    assert not facts(f"Knee, meniscus intact. {text}", "sutures")


def test_front_and_back_are_no_correction() -> None:
    found = facts("Meniscus repair. In back I have four all-inside stitches, in front two.", "sutures")
    assert {(f["region"], f["count"]) for f in found} == {("posterior", 4), ("anterior", 2)}


@pytest.mark.parametrize("technique", TECHNIQUES)
def test_one_here_and_another_there(technique: str) -> None:
    text = f"An {technique} stitch in the posterior horn and another in the body."
    found = facts(f"Meniscus repair. {text}", "sutures")
    assert {(f["region"], f["count"], f["technique"]) for f in found} == {
        (region, 1, TECHNIQUES[technique]) for region in ("posterior_horn", "body")
    }


def test_the_size_of_a_tendon_suture_is_none_of_the_meniscus() -> None:
    text = "The graft ends were prepared with two number 2 sutures each. Meniscus: four all-inside vertical mattress."
    (found,) = facts(f"Meniscus repair. {text}", "sutures")
    assert (found["count"], found.get("usp_size")) == (4, None)


def test_sutures_of_a_root_told_by_their_number() -> None:
    (found,) = facts("Meniscus root repair. Two sutures were passed through the root.", "sutures")
    assert (found["count"], found["tissue"]) == (2, "root")


def test_sutures_drawn_through_a_tunnel_are_not_lost() -> None:
    text = "Two luggage tag sutures were passed through the root and pulled through a tibial tunnel."
    (found,) = facts(f"Meniscus root repair. {text}", "sutures")
    assert (found["count"], found["configuration"], found["tissue"]) == (2, "luggage_tag", "root")
