"""Ties as they are told in loose talk: along the meniscus, 'these two', a partner, what is not to be tied.

That ties are told so is common practice, no source; the sentences are the project's own.
"""

from __future__ import annotations

import pytest

from .reading import facts

BACK, FRONT = ("pi", "ps"), ("ai", "as")
TOP, BOTTOM = ("as", "ps"), ("ai", "pi")


def tied(text: str) -> list[tuple[str, ...]]:
    found = [f["between"] for f in facts(f"Meniscus. {text}", "ties")]
    return sorted(tuple(sorted("".join(part[0] for part in end.split("-")) for end in ends)) for ends in found)


@pytest.mark.parametrize(
    "text",
    [
        "Graft ties: posterosuperior to posteroinferior, anterosuperior to anteroinferior.",
        "The rearmost top one was tied to the rearmost bottom one, the foremost top one to the foremost bottom one.",
        "Back top thread to back bottom thread over the capsule, half hitches. Front top and front bottom likewise.",
        "The knot in the back is upper to lower; the knot in front is upper to lower.",
        "Tied: PS-PI, AS-AI.",
        "Tied the upper strand in the rear to its mate below. The upper strand in front to its mate below.",
        "Once the posterior superior had been tied to the posterior inferior, the anterior superior was tied to the"
        " anterior inferior.",
        "The posterior sutures were tied, superior limb to inferior limb, then the anterior sutures in the same way.",
        "Posterior superior gets tied to posterior inferior, and the anterior ones are done the same way.",
        "The one on top in the back was tied to the one below it. The one on top in front to the one below it.",
        "It was the posterior superior that got tied to the posterior inferior, the anterior superior to the anterior"
        " inferior.",
    ],
)
def test_top_to_bottom(text: str) -> None:
    assert tied(text) == [FRONT, BACK]


@pytest.mark.parametrize(
    "text",
    [
        "I knotted both upper sutures to each other and both lower sutures to each other.",
        "The two top sutures were tied to one another and so were the two bottom ones.",
        "The upper pair was tied together, then the lower pair.",
        "I tied the two superior ones front to back and the two inferior ones front to back.",
    ],
)
def test_along_the_meniscus(text: str) -> None:
    assert tied(text) == sorted([TOP, BOTTOM])


@pytest.mark.parametrize(
    "text",
    [
        "Native side, white at the posterior upper corner, blue at the posterior lower corner. These two were tied"
        " together.",
        "At the back white on top, blue underneath. I tied them over the capsule.",
        "Graft: posterior superior white and posterior inferior blue, tied to each other.",
        "At the back white on top, blue underneath. The upper was tied to the lower.",
    ],
)
def test_the_two_told_just_before(text: str) -> None:
    assert tied(text) == [BACK]


@pytest.mark.parametrize(
    "text",
    [
        "Do not tie posterior superior to anterior inferior. Posterior superior goes with posterior inferior.",
        "I did not tie back top to front bottom but back top to back bottom.",
        "I nearly tied the posterior superior to the anterior inferior, then saw it and tied it to the posterior"
        " inferior.",
    ],
)
def test_only_what_was_tied_is_a_tie(text: str) -> None:
    assert tied(text) == [BACK]


@pytest.mark.parametrize(
    "text",
    [
        "Should the graft slip, tie the posterior superior to the posterior inferior.",
        "Remind me to tie the posterior superior to the posterior inferior.",
        "White posterior superior, blue posterior inferior, green anterior superior. These were tied.",
        "White posterior superior, blue anterior inferior. These two were tied together.",
        "Instead of top to bottom at the back, nothing was tied.",
    ],
)
def test_no_tie_is_guessed(text: str) -> None:
    """Not yet made, or which to which is not said: a rule abstains (DESIGN, section 3)."""
    assert not tied(text)


def test_a_tie_tells_the_sutures_it_names_in_one_tissue() -> None:
    text = "Meniscus. Anterior superior and anterior inferior, that's white and black on the graft, were tied together."
    found = [(f["tissue"], f["region"], f["surface"], f["color"]) for f in facts(text, "sutures")]
    assert sorted(found) == [("graft", "anterior", "inferior", "black"), ("graft", "anterior", "superior", "white")]


COLORED = (
    "Native and graft the same: white posterior superior, blue posterior inferior, green anterior superior, black"
    " anterior inferior."
)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("At the back white to blue, in front green tied to black.", [FRONT, BACK]),
        ("White to blue at the back, green tied to black in front.", [FRONT, BACK]),
        ("At the back white to blue, in front green to black.", [FRONT, BACK]),
        ("Front pair: green to black. Back pair: white to blue. All tied with five throws.", [FRONT, BACK]),
        ("White with the blue and green with the black.", [FRONT, BACK]),
        ("From white to blue to green to black we go around.", []),
        ("We changed white to blue.", []),
        ("I prefer white to blue, green to black.", []),
        ("If white to blue, then green to black.", []),
    ],
)
def test_colors_that_go_to_each_other(text: str, expected: list[tuple[str, ...]]) -> None:
    assert tied(f"{COLORED} {text}") == expected
