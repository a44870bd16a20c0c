"""What an earlier operation was, what this case is set against, and what was denied of a subject far on.

The wordings are the project's own; that surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts, measured

THEN = (
    "We did the right knee last season, {}.", "She had her other knee scoped two years ago, {}.",
    "He was operated on elsewhere in 2017, {}.", "Her right side was done last spring and {}.",
)  # fmt: skip
WHAT = (
    "it was a partial meniscectomy", "that was a root repair over a button", "he got four all-inside implants",
    "there it was three stitches outside-in in the body", "they found a tear of eighteen millimeters",
    "the report describes a tear of twelve millimeters",
)  # fmt: skip
TODAY = "The tear measures fifteen millimeters and was repaired with two all-inside implants."


@pytest.mark.parametrize("then", THEN)
@pytest.mark.parametrize("what", WHAT)
def test_what_an_earlier_operation_was_is_of_then(then: str, what: str) -> None:
    text = f"Left knee, medial meniscus. {then.format(what)} {TODAY}"
    assert [m for m in measured(text, "role") if m[2] != "reference"] == [("tear.length", 15, "observed")]
    assert [(d["kind"], d.get("count")) for d in facts(text, "devices")] == [("all-inside-implant", 2)]
    assert {p["code"] for p in facts(text, "procedures") if p["status"] == "performed"} == {"meniscus-repair"}


@pytest.mark.parametrize(
    "then",
    ["He fell in June, it was a radial tear of the medial meniscus.", "She tore it in 2018, it was a radial tear."],
)
def test_what_was_found_behind_an_injury_is_found_today(then: str) -> None:
    assert [f["pattern"] for f in facts(f"Left knee, medial meniscus. {then}", "findings")] == ["radial"]


HABITS = {
    "trephination": "When the tissue is white I make also the trephination",
    "notch-preparation": "Where the notch is narrow I do a notchplasty",
    "fibrin-clot": "When there is a gap I add a fibrin clot",
    "synovectomy": "Whenever the synovium is red we do a synovectomy",
}
SET_AGAINST = (
    "; here it was not so.",
    ", but in this knee it was fine.",
    ". Here it was not.",
    "; this one was better.",
)


@pytest.mark.parametrize("code", HABITS)
@pytest.mark.parametrize("against", SET_AGAINST)
def test_a_habit_that_this_case_is_set_against_is_no_deed(code: str, against: str) -> None:
    done = [s for s in facts(f"Left knee, medial meniscus. {HABITS[code]}{against}", "steps") if s["code"] == code]
    assert all(s["status"] != "performed" for s in done)


def test_a_deed_told_with_its_time_is_done() -> None:
    text = "Left knee, meniscus. When the rim was exposed I trephined it. When the graft is in I check for a bridge."
    assert {s["code"] for s in facts(text, "steps") if s["status"] == "performed"} >= {"trephination", "bridge-check"}


ASIDES = ("as is done by some", "which many would add", "the way my partner does it", "although popular")
DENIALS = ("was not felt to be necessary", "was not used", "was not judged useful", "was felt to be unnecessary")


@pytest.mark.parametrize("aside", ASIDES)
@pytest.mark.parametrize("denial", DENIALS)
def test_a_subject_is_denied_over_an_aside(aside: str, denial: str) -> None:
    text = "Left knee, meniscus. {}, {}, {}."
    assert not facts(text.format("Interference screw fixation of the bridge", aside, denial), "devices")
    clot = facts(text.format("A fibrin clot", aside, denial), "steps")
    assert all(s["status"] != "performed" for s in clot)


def test_a_donor_plug_only_thought_of_makes_no_allograft() -> None:
    told = "The plug, eight millimeters in diameter, was harvested from the trochlea and tapped in."
    for thought in ("We considered an allograft plug, but kept to her own bone.", "An allograft plug was discussed."):
        codes = {p["code"] for p in facts(f"Left knee. {thought} {told}", "procedures")}
        assert codes == {"osteochondral-autograft"}


@pytest.mark.parametrize(
    "said",
    [
        "Along the rim I first read fourteen millimeters, and with the knee more open it was sixteen, so sixteen.",
        "Along the rim I first got fourteen millimeters, after flexing the knee it was sixteen.",
        "Along the rim at first fourteen millimeters, then with the probe pushed flat sixteen, so sixteen millimeters.",
        "The defect first measured fourteen millimeters along the rim, with the retractor in it came to sixteen.",
    ],
)
def test_a_first_reading_yields_to_the_second(said: str) -> None:
    assert measured(f"Left knee, meniscus transplant. The rim was rasped. {said}") == [("defect.ap_length", 16)]


def test_marks_of_a_ruler_are_none_on_the_graft() -> None:
    said = (
        "The marks on this one are five millimetres, so five, ten, fifteen, there, fifteen millimetres along the rim."
    )
    assert measured(f"Left knee, segmental allograft. {said}") == [("defect.ap_length", 15)]
