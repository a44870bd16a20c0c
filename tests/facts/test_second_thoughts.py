"""A number put right by a sound, a stroke of the pen or a 'not', and numbers that only stand beside one another.

Sizes and wordings are the project's own; that surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts, measured, side_of

SIZES = (
    ("Root tunnel. Guide set to {} degrees.", "guide.angle", "fifty-five", 55, "sixty", 60, "degrees"),
    ("Segmental transplant. The gap measured {} millimeters along the rim.", "defect.ap_length", "fifteen", 15,
     "sixteen", 16, "millimeters"),
    ("Osteotomy, opening wedge. It was opened to {} degrees.", "correction.angle", "nine", 9, "eleven", 11, "degrees"),
    ("Tourniquet time {} minutes.", "tourniquet.time", "seventy", 70, "eighty", 80, "minutes"),
)  # fmt: skip
PUT_RIGHT = (
    "{a}, hmm, {b}", "{a}, um, {b}", "{a}, well, {b}", "{a}, ah, {b}", "{a}, then crossed out, {b}", "{a}, erased, {b}",
    "{a} {u}, struck through, {b}", "{a}, written over with {b}", "{a} {u}, I misread, {b}",
)  # fmt: skip
BESIDE = (
    ("Segmental transplant. The gap along the rim, ten, hmm, fifteen, twenty, and it ends at twenty-two millimeters.",
     {("defect.ap_length", 22)}),
    ("The meniscal defect is nine millimeters wide, well, twenty millimeters long.",
     {("defect.width", 9), ("defect.ap_length", 20)}),
    ("Cruciate. Tibial tunnel, eight, um, thirty-five millimeters long.",
     {("tunnel.diameter", 8), ("tunnel.length", 35)}),
    ("Vertical tear, fourteen millimeters, hmm, three millimeters from the capsule.",
     {("tear.length", 14), ("tear.rim_distance", 3)}),
    ("Osteotomy. I opened it to nine degrees, and the line still ran too far medial, so no, not nine, the correction "
     "is eleven degrees.", {("correction.angle", 11)}),
)  # fmt: skip


@pytest.mark.parametrize(
    ("said", "what", "value"),
    [(t.format(w.format(a=a, b=b, u=u)), what, v) for t, what, a, _, b, v, u in SIZES for w in PUT_RIGHT],
)
def test_the_last_number_holds(said: str, what: str, value: float) -> None:
    assert [m[:2] for m in measured(f"Left knee. {said}") if m[0] == what] == [(what, value)]


@pytest.mark.parametrize(("said", "sizes"), BESIDE)
def test_numbers_of_different_things_stay(said: str, sizes: set[tuple[str, float]]) -> None:
    assert {m[:2] for m in measured(f"Left knee, medial meniscus. {said}")} == sizes


WHEN = ("by then", "by now", "by that time", "at that point", "in the meantime", "meanwhile", "after that", "then")
THEN = ("we had the graft thawed and marked it", "my fellow had thawed the graft and marked it")


@pytest.mark.parametrize("said", [f"{when} {then}" for when in WHEN for then in THEN])
def test_a_new_thought_opens_at_its_time(said: str) -> None:
    text = (
        "left knee segmental transplant of the medial meniscus the body is deficient the rim was rasped until it bled "
        "the hole is twenty millimeters along the rim and nine millimeters wide and from the posterior root to the "
        f"start of it is ten millimeters {said} nineteen by nine millimeters starting ten millimeters off its own root"
    )
    read = {m[0]: m[1] for m in measured(text)}
    assert read["defect.ap_length"] == 20
    assert read["defect.root_distance"] == 10
    assert read["graft.ap_length"] == 19
    assert side_of(text) == ["left"]


@pytest.mark.parametrize(
    "said",
    ["therapy starts at one week back to clinic in two weeks", "physio from one week back to see me at two weeks"],
)
def test_back_to_clinic_is_no_time_past(said: str) -> None:
    plan = {(p["item"], p.get("value")) for p in facts(f"Left knee, medial meniscus repaired. {said}", "plan")}
    assert plan == {("therapy-start", 1), ("follow-up", 2)}
