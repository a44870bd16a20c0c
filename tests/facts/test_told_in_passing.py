"""What is told in passing: left, sent back or only promised, said of each or the same, told ahead or behind."""

from __future__ import annotations

import pytest

from .reading import facts, steps


@pytest.mark.parametrize(
    ("text", "code"),
    [
        (
            "Meniscus. Outside-in for the front, I had it on the list, but it lies flat, so skip it.",
            "outside-in-stitch",
        ),
        ("Meniscus. The rep was itching to hand me an all-inside and I told him to put it back.", "all-inside-stitch"),
        ("Meniscus. We had an all-inside device out, it went back on the shelf.", "all-inside-stitch"),
        ("Meniscus. A fibrin clot I had promised the patient, but none was put in.", "fibrin-clot"),
        ("Meniscus. A fibrin clot was stirred, in the end it stayed in the dish.", "fibrin-clot"),
        ("Meniscus. Thought real hard about trephinating the rim, so no trephination.", "trephination"),
        ("Meniscus. A needle was brought in for trephination and then put away again.", "trephination"),
        ("Meniscus. So saucerization, I mean partial meniscectomy, falls away.", "partial-meniscectomy"),
        ("Meniscus. Trimming the graft? It lay flat, so no.", "graft-trimming"),
        ("Meniscus, cuff on but left deflated the whole case.", "tourniquet-inflation"),
    ],
)
def test_what_came_to_nothing_is_not_performed(text: str, code: str) -> None:
    assert steps(text).get(code) != "performed"


def test_what_a_helper_is_told_denies_nothing() -> None:
    told = steps("Meniscus transplant. Ten millimeter cannula, and the graft goes in, easy, don't twist it, beautiful.")
    assert told.get("graft-delivery") == told.get("cannula-placement") == "performed"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "Meniscus transplant. A posterior and an anterior tunnel were drilled, each eight millimeters across.",
            {("posterior", 8.0), ("anterior", 8.0)},
        ),
        (
            "Meniscus transplant. Posterior tunnel, a five millimeter tunnel. Front one, same, five, and forty long.",
            {("posterior", 5.0), ("anterior", 5.0)},
        ),
        (
            "Meniscus transplant. Both tunnels are six millimeters in diameter, the posterior one forty long.",
            {(None, 6.0)},
        ),
    ],
)
def test_which_tunnel_a_diameter_is_of(text: str, expected: set[tuple[str | None, float]]) -> None:
    told = [m for m in facts(text, "measurements") if m["what"] == "tunnel.diameter"]
    assert {(m.get("site"), m["value"]) for m in told} == expected


def test_a_sentence_goes_on_with_what_was_in_hand() -> None:
    text = "Meniscus transplant. The graft is thawed. I want it fifteen by ten millimeters, thirteen from its root."
    assert {(m["what"], m["value"]) for m in facts(text, "measurements")} == {
        ("graft.ap_length", 15.0), ("graft.width", 10.0), ("graft.root_distance", 13.0),
    }  # fmt: skip


@pytest.mark.parametrize(
    "text",
    [
        "Meniscus transplant. Graft N L 7780 was thawed.",
        "Meniscus transplant. Allograft N L seven seven eight zero, thawed.",
    ],
)
def test_an_identifier_right_behind_its_graft(text: str) -> None:
    assert [g["identifier"] for g in facts(text, "grafts")] == ["NL7780"]
    assert not facts(text, "measurements")


def test_colors_told_behind_the_sutures() -> None:
    text = "Medial meniscus root repair. Two cinch sutures through the root. One is white and one is green."
    assert {(s["color"], s["configuration"]) for s in facts(text, "sutures")} == {
        ("white", "cinch"),
        ("green", "cinch"),
    }


def test_two_tones_are_one_suture() -> None:
    text = "Meniscus transplant. Native meniscus, posterior superior white/blue striped, posterior inferior white."
    told = {(s["surface"], s["color"], s.get("pattern")) for s in facts(text, "sutures")}
    assert told == {("superior", "white", "striped"), ("inferior", "white", None)}


def test_parts_told_a_sentence_each_are_compared_with_their_number() -> None:
    text = "Meniscus. Eight stitches were placed inside-out. Three went in the posterior horn. Four went in the body."
    assert [s["count"] for s in facts(text, "sutures")] == [3, 4]
    assert [c["count"] for c in facts(text, "claims")] == [8]


@pytest.mark.parametrize("said", ["posterior to posterior, anterior to anterior", "back to back and front to front"])
def test_an_end_tied_to_itself(said: str) -> None:
    looks = "posterior superior white, posterior inferior blue, anterior superior green, anterior inferior black"
    told = facts(f"Meniscus transplant. Native sutures, {looks}. Tied: {said}.", "ties")
    assert [set(t["between"]) for t in told] == [
        {"posterior-superior", "posterior-inferior"}, {"anterior-superior", "anterior-inferior"},
    ]  # fmt: skip


def test_a_repair_lends_its_technique_to_its_stitches() -> None:
    text = "Outside-in repair of the lateral meniscus. Edges rasped. Five sutures two-oh, horizontal mattress."
    (stitches,) = facts(text, "sutures")
    assert stitches["technique"] == "outside_in"
    assert steps(text).get("outside-in-stitch") == "performed"
    assert "outside-in-stitch" not in steps("Outside-in repair of the lateral meniscus.")


@pytest.mark.parametrize(
    ("said", "grade"),
    [("Outerbridge one, two? I'd go with two.", "2"), ("Outerbridge two or three? Call it three.", "3")],
)
def test_a_grade_that_was_asked_about(said: str, grade: str) -> None:
    (finding,) = facts(f"The lateral femoral condyle, {said}", "findings")
    assert finding["grade"] == {"system": "outerbridge", "value": grade}
