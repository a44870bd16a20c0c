"""Stitches told one by one under a number, or under a heading that says technique and size once for all.

The sentences are the project's own; that stitches are told so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts, flags

IO, OI = "inside_out", "outside_in"
V, H = "vertical_mattress", "horizontal_mattress"
PH = "posterior_horn"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "We repaired the meniscus inside out, everything with 2-0 braided. First three vertical mattress on the "
            "top surface of the posterior horn. Then a single vertical mattress on the undersurface. In the body two "
            "more, horizontal.",
            [
                {"technique": IO, "usp_size": "2-0", "configuration": V, "surface": "superior", "count": 3},
                {"technique": IO, "usp_size": "2-0", "configuration": V, "surface": "inferior", "count": 1},
                {"technique": IO, "usp_size": "2-0", "configuration": H, "region": "body", "count": 2},
            ],
        ),
        (
            "The meniscus tear was stitched from inside out using 2-0 suture. On the upper surface I put three, "
            "vertical mattress, and on the lower surface two more.",
            [
                {"technique": IO, "usp_size": "2-0", "surface": "superior", "count": 3, "configuration": V},
                {"technique": IO, "usp_size": "2-0", "surface": "inferior", "count": 2},
            ],
        ),
        (
            "Meniscus, posterior horn inside-out x3 above, x2 below, 2-0, all vertical.",
            [
                {"technique": IO, "usp_size": "2-0", "surface": "superior", "count": 3, "configuration": V},
                {"technique": IO, "usp_size": "2-0", "surface": "inferior", "count": 2, "configuration": V},
            ],
        ),
        (
            "Two outside-in sutures of 0 size secured the anterior horn of the meniscus.",
            [{"technique": OI, "usp_size": "0", "region": "anterior_horn", "count": 2}],
        ),
        (
            "Six inside-out sutures in the meniscus. Four of these were blue, on the top. The remaining two were "
            "white, underneath.",
            [
                {"technique": IO, "surface": "superior", "color": "blue", "count": 4},
                {"technique": IO, "surface": "inferior", "color": "white", "count": 2},
            ],
        ),
        (
            "Two threads were set in the root of the meniscus: the one is a white tape, cinch, the other is a blue "
            "suture number 2, also cinch.",
            [
                {"tissue": "root", "color": "white", "form": "tape", "configuration": "cinch"},
                {"tissue": "root", "color": "blue", "form": "suture", "usp_size": "2", "configuration": "cinch"},
            ],
        ),
        (
            "Two sutures were set in the root of the meniscus. The one is white, number 2, simple, and the other is "
            "a blue tape, cinch.",
            [
                {"tissue": "root", "color": "white", "usp_size": "2", "configuration": "simple"},
                {"tissue": "root", "color": "blue", "form": "tape", "configuration": "cinch"},
            ],
        ),
        (
            "Two sutures through the root of the meniscus, a blue tape as a cinch and beside it a white suture as a "
            "simple stitch.",
            [
                {"tissue": "root", "color": "blue", "form": "tape", "configuration": "cinch"},
                {"tissue": "root", "color": "white", "form": "suture", "configuration": "simple"},
            ],
        ),
        (
            "Then five stitches in the meniscus, inside-out, 2-0, one at a time. Posterior horn on top, a blue one "
            "and beside it a white one. Posterior horn underneath, a green one. Body on top, a black one, and "
            "underneath in the body a purple one. All vertical mattress.",
            [
                {"technique": IO, "usp_size": "2-0", "color": c, "region": r, "surface": s, "configuration": V}
                for c, r, s in [
                    ("blue", PH, "superior"),
                    ("white", PH, "superior"),
                    ("green", PH, "inferior"),
                    ("black", "body", "superior"),
                    ("purple", "body", "inferior"),
                ]
            ],
        ),
        (
            "The meniscus graft was thawed. White suture through the posterior plug, green suture through the "
            "anterior plug. Black suture at the corner, traction.",
            [{"tissue": "graft", "color": "black", "role": "traction"}],
        ),
    ],
)
def test_each_stitch_is_told(text: str, expected: list[dict[str, object]]) -> None:
    told = facts(text, "sutures")
    for want in expected:
        match = [s for s in told if want.items() <= s.items()]
        assert len(match) == 1, (want, told)
        told.remove(match[0])
    assert not [s for s in told if s.get("color") not in ("white", "green")]


def test_stitches_under_another_technique_are_not_those_of_the_heading() -> None:
    text = (
        "Inside-out technique for the meniscus, with 2-0. Three vertical mattress on top. Then two all-inside "
        "stitches, vertical, in the posterior horn."
    )
    assert [(s["technique"], s.get("usp_size")) for s in facts(text, "sutures")] == [(IO, "2-0"), ("all_inside", None)]


@pytest.mark.parametrize(
    ("text", "announced"),
    [
        ("Four inside-out sutures in the meniscus. Two of them went on top, blue. The other two below, white.", []),
        ("Six inside-out sutures in the meniscus. Two of them went on top, blue. The other two below, white.", [6]),
        ("Four inside-out sutures, 2-0, in the meniscus. On top a blue one and a white one. Below a green one.", [4]),
    ],
)
def test_a_number_is_held_against_its_colored_parts(text: str, announced: list[int]) -> None:
    assert [c["count"] for c in facts(text, "claims")] == announced
    assert not [f for f in flags(text) if f.check == "term-uncertain"]


@pytest.mark.parametrize(
    ("text", "counts"),
    [
        ("The ramp lesion of the meniscus was closed with two vertical mattress sutures through a hook.", [2]),
        ("The tear in the body of the meniscus was closed with three horizontal mattress stitches of 2-0.", [3]),
        ("The tear of the meniscus was stable. The incision was closed with three vertical mattress sutures.", []),
        ("The tear of the meniscus was probed and then the skin closed with three simple stitches.", []),
    ],
)
def test_what_closes_a_tear_is_no_stitch_of_the_skin(text: str, counts: list[int]) -> None:
    assert [s["count"] for s in facts(text, "sutures")] == counts


def test_what_is_said_of_the_rest_is_not_said_of_all() -> None:
    text = (
        "Four inside-out sutures in the meniscus. One blue on top, and one white beneath, and the other two, green, "
        "in the body."
    )
    assert [(s["color"], s.get("region")) for s in facts(text, "sutures")] == [
        ("blue", None),
        ("white", None),
        ("green", "body"),
    ]


def test_stitches_of_two_techniques_are_no_parts_of_each_other() -> None:
    text = "Two meniscus stitches were placed all-inside. Two were vertical mattress, inside-out, 2-0."
    assert [(s["technique"], s["count"]) for s in facts(text, "sutures")] == [("all_inside", 2), (IO, 2)]


@pytest.mark.parametrize("text", ["If two posterior: meniscus two", "Four inside-out meniscus sutures, the other two"])
def test_a_note_may_end_in_a_number(text: str) -> None:
    assert isinstance(facts(text, "sutures"), list)
