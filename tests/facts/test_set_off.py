"""Sutures told in pieces: form set off from color, half a place put right, one put in place of another, counts anew.

The sentences are the project's own; that sutures are told so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts

SETTING = "Right knee arthroscopy. "


def told(text: str, kind: str, *keys: str) -> set[tuple[object, ...]]:
    return {tuple(fact.get(key) for key in keys) for fact in facts(SETTING + text, kind)}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "Posterior superior on the graft gets the blue tape, posterior inferior the white one, likewise a tape.",
            {("posterior", "superior", "blue", None, "tape"), ("posterior", "inferior", "white", None, "tape")},
        ),
        (
            "Then came the striped one, blue, a tape, at the front of the native rim on top.",
            {("anterior", "superior", "blue", "striped", "tape")},
        ),
        (
            "White went into the upper side of the native rim at the back, and green into the under side at the back.",
            {("posterior", "superior", "white", None, None), ("posterior", "inferior", "green", None, None)},
        ),
        (
            "Blue suture in the native rim, anterior end, upper face. Wait, lower face.",
            {("anterior", "inferior", "blue", None, "suture")},
        ),
        (
            "The native posterior superior white tape tore out, so I changed it for a blue suture in the same hole.",
            {("posterior", "superior", "blue", None, "suture")},
        ),
        (
            "White posterior superior in the native rim, then instead of the blue we took green, anterior superior.",
            {("posterior", "superior", "white", None, None), ("anterior", "superior", "green", None, None)},
        ),
        (
            "The native rear end has blue above and green below; those are tapes, not sutures.",
            {("posterior", "superior", "blue", None, "tape"), ("posterior", "inferior", "green", None, "tape")},
        ),
    ],
)
def test_sutures_told_in_pieces(text: str, expected: set[tuple[object, ...]]) -> None:
    assert told(text, "sutures", "region", "surface", "color", "pattern", "form") == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Meniscus: four horizontals all-inside. Hang on, count again. Five horizontals.", {("all_inside", None, 5)}),
        (
            "Three outside-in stitches, sorry, only two outside-in stitches.",
            {("outside_in", None, 2)},
        ),
        (
            "Four inside-out stitches along the posterior horn of the meniscus, then one farther front in the body.",
            {("inside_out", "posterior_horn", 4), ("inside_out", "body", 1)},
        ),
        (
            "The posterior horn holds four stitches, two all-inside implants and two inside-out sutures.",
            {("all_inside", "posterior_horn", 2), ("inside_out", "posterior_horn", 2)},
        ),
        (
            "Three all-inside stitches in the posterior horn of the meniscus, two inside-out in the body and one "
            "outside-in in the anterior horn.",
            {("all_inside", "posterior_horn", 3), ("inside_out", "body", 2), ("outside_in", "anterior_horn", 1)},
        ),
    ],
)
def test_stitches_counted_anew(text: str, expected: set[tuple[object, ...]]) -> None:
    assert told(text, "sutures", "technique", "region", "count") == expected


@pytest.mark.parametrize(
    "text",
    [
        "At either end of the graft the top suture was tied down to the bottom suture.",
        "Around the posterior edge of the graft the upper suture was tied to the lower one, and the same around the "
        "anterior edge.",
        "The graft is held by a vertical loop at each end, posterior superior to posterior inferior, anterior "
        "superior to anterior inferior.",
    ],
)
def test_ends_tied_over_their_edge(text: str) -> None:
    found = {frozenset(tie["between"]) for tie in facts(SETTING + text, "ties")}  # type: ignore[arg-type]
    ends = ("posterior", "anterior")
    assert found == {frozenset({f"{end}-superior", f"{end}-inferior"}) for end in ends}
