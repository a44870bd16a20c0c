"""Which suture was tied to which: by position, by color, as a pair, by surface (contract, section 4)."""

from __future__ import annotations

import pytest

from .reading import drafts, facts

BACK = frozenset({"posterior-superior", "posterior-inferior"})
FRONT = frozenset({"anterior-superior", "anterior-inferior"})
NATIVE = (
    "Native meniscus: white posterior superior, blue posterior inferior, green anterior superior, black anterior"
    " inferior. "
)


def ties(text: str) -> set[frozenset[str]]:
    found = [frozenset(f["between"]) for f in facts(text, "ties")]
    assert len(found) == len(set(found)), "a tie told twice is one fact"
    return set(found)


@pytest.mark.parametrize(
    "text",
    [
        # by position
        "Meniscus. Posterior superior was tied to posterior inferior, then anterior superior to anterior inferior.",
        "Meniscus. Tied posterior superior with posterior inferior. Anterior superior with anterior inferior.",
        "Meniscus. The sutures were tied: posterior superior to posterior inferior, anterior superior to anterior"
        " inferior.",
        # by color
        f"{NATIVE}White was tied to blue and green to black.",
        f"{NATIVE}Tied white to blue, then green to black.",
        f"{NATIVE}The white was tied to this blue, and our green to that black.",
        "Meniscus. This posterior superior one was tied to this posterior inferior one. Then the anterior superior to"
        " our anterior inferior suture.",
        # as a pair
        "Meniscus. The two posterior sutures were tied to each other, then the two anterior ones.",
        "Meniscus sutures. The posterior pair was tied, then the anterior pair.",
        # by surface
        "Meniscus. At each end the superior suture was tied to the inferior one.",
        "Meniscus graft. Tied top to bottom at the back, then top to bottom in front.",
    ],
)
def test_every_way_of_tying_gives_the_same(text: str) -> None:
    assert ties(text) == {BACK, FRONT}


def test_one_pair_only() -> None:
    assert ties("Meniscus. Posterior superior was tied to posterior inferior.") == {BACK}


def test_a_crossed_tie_is_kept_as_said() -> None:
    """Positions that differ in both; the checks make a tie-mismatch of it (contract, section 7)."""
    text = "Meniscus. Posterior superior was tied to anterior inferior."
    assert ties(text) == {frozenset({"posterior-superior", "anterior-inferior"})}


def test_told_twice_is_one_tie_with_more_evidence() -> None:
    text = (
        "Meniscus. Posterior superior was tied to posterior inferior. "
        "Once again, posterior superior was tied to posterior inferior."
    )
    (tie,) = drafts(text, "ties")
    assert len(tie.spans) == 2


@pytest.mark.parametrize(
    "text",
    [
        "Meniscus. Posterior superior was not tied to posterior inferior.",
        "Meniscus. We usually tie posterior superior to posterior inferior.",
        "Meniscus. We could tie posterior superior to posterior inferior.",
        "Native meniscus: white posterior superior, blue posterior inferior.",
        "Meniscus. The tourniquet was tied on the thigh.",
    ],
)
def test_no_tie_where_none_was_made(text: str) -> None:
    assert not ties(text)


def test_colors_that_no_position_has_give_no_tie() -> None:
    assert not ties(f"{NATIVE}Purple was tied to yellow.")


def test_a_color_at_two_positions_gives_no_tie() -> None:
    """Which of the two is meant was not said: a rule abstains (DESIGN, section 3)."""
    text = (
        "Native meniscus: white posterior superior, white posterior inferior, green anterior superior. "
        "White was tied to green."
    )
    assert not ties(text)


def test_positions_of_ties_are_no_sutures_of_their_own() -> None:
    text = f"{NATIVE}Posterior superior was tied to posterior inferior."
    assert len(facts(text, "sutures")) == 4
