"""Stitches, ties and looks told together: more of the same, the other of two roots, pairs matched by place alone."""

from __future__ import annotations

from typing import Any

import pytest

from .reading import drafts, facts

BACK = frozenset({"posterior-superior", "posterior-inferior"})
FRONT = frozenset({"anterior-superior", "anterior-inferior"})
NATIVE = (
    "Meniscus transplant. Native: white posterior superior, blue posterior inferior, green anterior superior, black"
    " anterior inferior. "
)


def ties(text: str) -> set[frozenset[str]]:
    return {frozenset(f["between"]) for f in facts(text, "ties")}


@pytest.mark.parametrize(
    "text",
    [
        "Pair one, posterior superior with posterior inferior. Pair two, anterior superior with anterior inferior.",
        "We pair them. Posterior superior to posterior inferior, anterior superior to anterior inferior.",
        "First the back pair, superior to inferior, then the front pair, superior to inferior.",
    ],
)
def test_sutures_matched_by_place_are_tied(text: str) -> None:
    assert ties(NATIVE + text) == {BACK, FRONT}


@pytest.mark.parametrize(
    "text",
    [
        "The shaver went along, posterior superior to posterior inferior.",  # a deed of another kind
        "From posterior superior to posterior inferior it is smooth.",  # a way
        "Posterior superior and posterior inferior.",  # a list
    ],
)
def test_places_alone_are_no_tie(text: str) -> None:
    assert ties(NATIVE + text) == set()


def test_places_of_sutures_that_were_never_told_are_no_tie() -> None:
    assert ties("Meniscus. Posterior superior with posterior inferior.") == set()


@pytest.mark.parametrize(
    "text",
    [
        "Four inside-out, two-oh, vertical mattress, on the superior surface and two of the same on the inferior one.",
        "Four inside-out, vertical mattress, two-oh, on top and two more of them underneath.",
        "Four inside-out, two-oh, vertical mattress, on top plus two identical ones below.",
        "Inside-out now. Four on top, two-oh, vertical mattress, and another two likewise below.",
    ],
)
def test_more_of_the_same_on_the_other_surface(text: str) -> None:
    same = {"technique": "inside_out", "usp_size": "2-0", "configuration": "vertical_mattress"}
    expected = [{**same, "surface": "superior", "count": 4}, {**same, "surface": "inferior", "count": 2}]
    assert facts(f"Meniscus repair. {text}", "sutures") == expected


@pytest.mark.parametrize(
    "text",
    [
        "Number two suture, white, luggage tag, through the posterior root of graft, and one more, blue, luggage tag,"
        " through the anterior root of graft.",
        "Through the posterior root of the graft a white suture, luggage tag, and through the anterior root a second,"
        " blue, luggage tag.",
        "Posterior root of the graft, luggage tag, white. Anterior root, the same with a blue one.",
    ],
)
def test_each_root_has_its_own_suture(text: str) -> None:
    found = {(f["region"], f["color"], f["configuration"]) for f in facts(f"Meniscus transplant. {text}", "sutures")}
    assert found == {("posterior_root", "white", "luggage_tag"), ("anterior_root", "blue", "luggage_tag")}


@pytest.mark.parametrize("text", ["Two spinal needles were passed outside-in.", "I pass two needles inside-out."])
def test_needles_are_no_stitches(text: str) -> None:
    assert drafts(f"Meniscus repair. {text}", "sutures") == []


def test_what_another_is_compared_with_is_no_stitch() -> None:
    text = "Meniscus repair. Three outside-in stitches, and the distance from one to the other is 5 millimeters."
    assert [f["count"] for f in facts(text, "sutures")] == [3]
    assert [(f["what"], f["value"]) for f in facts(text, "measurements")] == [("stitch.spacing", 5)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("the white striped tape", {"color": "white", "pattern": "striped", "form": "tape"}),
        ("the black and white striped tape", {"color": "black", "pattern": "striped", "form": "tape"}),
        ("the black and white tape", {"color": "black", "form": "tape"}),
    ],
)
def test_the_form_stands_behind_pattern_and_second_color(text: str, expected: dict[str, Any]) -> None:
    (suture,) = facts(f"Native meniscus. Posterior superior gets {text}.", "sutures")
    assert {k: suture[k] for k in ("color", "pattern", "form") if k in suture} == expected


def test_implants_are_of_the_technique_that_was_done() -> None:
    text = "Meniscus repair. Three all-inside stitches. An inside-out one was not needed. So chart three implants."
    assert [(f["kind"], f["count"]) for f in facts(text, "devices")] == [("all-inside-implant", 3)]
