"""Ligaments, cartilage, resections and osteotomies as they are told: sizes, grades, devices. Worded for these tests."""

from __future__ import annotations

import pytest

from extractor.language.quantities import read_quantities
from extractor.language.tokens import tokenize

from .reading import facts


def measured(text: str) -> dict[str, object]:
    return {f["what"]: f.get("value") for f in facts(text, "measurements")}


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("It measures twenty to eleven millimeters.", [20, 11]),
        ("Length four zero, forty millimeters.", [40]),
        ("A pressure of two five zero, two hundred fifty millimeters of mercury.", [250]),
        ("Tourniquet up at two fifty two portals made.", [250, 2]),
        ("Eighteen by twelve, let me see again, eighteen by thirteen millimeters.", [18, 13]),
        ("It measured eight but would not pass the tube, so eight and a half millimeters.", [8.5]),
    ],
)
def test_numbers_as_they_are_said(text: str, values: list[float]) -> None:
    assert [q.value for q in read_quantities(tokenize(text).words)] == values


@pytest.mark.parametrize(
    "text", ["The rim went from three to two millimeters.", "The rim was three to two millimeters."]
)
def test_a_range_that_falls_is_still_one(text: str) -> None:
    assert [q.value for q in read_quantities(tokenize(text).words)] == [None]


@pytest.mark.parametrize(
    ("text", "values", "earlier"),
    [
        ("Trimmed from twenty to eighteen millimeters.", [18], [(20,)]),
        ("Cut at 21 by 9 mm, then another 2 mm off, so 19.", [19, 9], [(21,), ()]),
        ("Shaped to seventeen millimeters. Too long. A further millimeter off, so sixteen.", [16], [(17,)]),
        (
            "Cut at twenty millimeters. The rim was two millimeters. Eighteen minutes of tourniquet.",
            [20, 2, 18],
            [()] * 3,
        ),
        ("Cut to twenty millimeters, the gap one millimeter less, nineteen millimeters.", [20, 1, 19], [()] * 3),
    ],
)
def test_what_was_cut_again_is_as_long_as_it_is_now(
    text: str, values: list[float], earlier: list[tuple[float, ...]]
) -> None:
    found = read_quantities(tokenize(text).words)
    assert [q.value for q in found] == values and [q.earlier for q in found] == earlier


@pytest.mark.parametrize(
    ("text", "value", "earlier"),
    [
        ("I wrote down four centimeters, but it was three centimeters.", 30, (40,)),
        ("The board says twenty minutes, it was really thirty minutes.", 30, (20,)),
        ("Ten and a half, or rather eleven, millimeters in diameter.", 11, (10.5,)),
    ],
)
def test_what_was_only_written_yields(text: str, value: float, earlier: tuple[float, ...]) -> None:
    (found,) = read_quantities(tokenize(text).words)
    assert found.value == value and found.earlier == earlier


def test_what_a_pressure_was_changed_to_holds() -> None:
    told = facts(
        "Right knee. The tourniquet was inflated to 260 mmHg, lowered by anesthesia to 250 mmHg.", "measurements"
    )
    assert [(f["value"], f["earlier_values"]) for f in told] == [(250, [260])]


def test_motion_that_went_up_is_two_facts() -> None:
    text = "Right knee. Flexion was 90 degrees under anesthesia. At the end flexion was raised to 130 degrees."
    assert 90 in [f.get("value") for f in facts(text, "measurements")]


@pytest.mark.parametrize(
    ("text", "grade"),
    [
        ("Right knee. A lesion of fourth grade according to I C R S on the trochlea.", "4"),
        ("Right knee. Trochlea Outerbridge, I would say two.", "2"),
        ("Right knee. The second grade three lesion sat on the trochlea.", "3"),
        ("Right knee. The trochlea is degree two.", "2"),
        ("Right knee. Patella Outerbridge one, trochlea two.", "2"),
    ],
)
def test_grades_as_they_are_told(text: str, grade: str) -> None:
    told = {f["structure"]: f.get("grade") for f in facts(text, "findings")}
    read = told["trochlea"]
    assert isinstance(read, dict) and read["value"] == grade


def test_a_count_behind_a_surface_is_no_grade() -> None:
    told = {f["structure"] for f in facts("Right knee. Patella Outerbridge two, trochlea two portals.", "findings")}
    assert told == {"patella"}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Right knee. The trochlea is fine.", {"trochlea"}),
        ("Right knee trochlea is fine medial meniscus intact", {"trochlea", "medial-meniscus"}),
        ("Left knee. Everything normal except Outerbridge one of the patella.", set()),
        ("Left knee, lateral meniscus. We did her right knee two winters ago and that one is fine.", set()),
    ],
)
def test_what_is_sound(text: str, expected: set[str]) -> None:
    assert {f.get("structure") for f in facts(text, "findings") if f["finding"] == "intact"} == expected


@pytest.mark.parametrize(
    ("text", "sizes"),
    [
        ("Knee ACL reconstruction. Guide pin two point four, reamer eight, done.", [2.4, 8]),
        ("Knee ACL reconstruction. Screw for the tibia, nine by thirty, and it holds.", [9]),
        ("Knee ACL reconstruction. I opened an eight millimeter screw first, so in went a nine by thirty.", [9]),
        ("Knee ACL reconstruction. The eight by twenty screw stripped and was changed for a nine by thirty.", [9]),
        ("Knee ACL revision. The femoral screw, seven by twenty, was removed.", []),
        ("Knee ACL reconstruction. Anchor one in, anchor two in.", [None]),
    ],
)
def test_sizes_of_devices(text: str, sizes: list[float | None]) -> None:
    assert [f.get("size") for f in facts(text, "devices")] == sizes


def test_implants_counted_in_the_singular() -> None:
    told = facts("Right knee. Lateral meniscus torn, we put two implant all inside.", "devices")
    assert [(f["kind"], f.get("size"), f.get("count")) for f in told] == [("all-inside-implant", None, 2)]


def test_a_backup_that_was_not_used_leaves_the_fixation_done() -> None:
    text = "Knee ACL reconstruction. For the tibia a screw nine by thirty, a staple was ready but not used."
    told = {f["code"]: f["status"] for f in facts(text, "steps")}
    assert told["tibial-fixation"] == "performed"


@pytest.mark.parametrize(
    "text",
    [
        "Right knee. Some schools make holes of microfracture, I did no microfracture.",
        "Right knee. Holes there, microfracture, is a thing we can do later if she has pain.",
    ],
)
def test_what_others_do_or_may_be_done_later_is_no_procedure(text: str) -> None:
    assert [f for f in facts(text, "procedures") if f["status"] == "performed"] == []


def test_a_spelt_ligament_graft_is_no_allograft() -> None:
    assert facts("Left knee. The A C L graft is intact.", "grafts") == []


def test_a_size_in_centimeters_lends_its_unit_to_nothing_else() -> None:
    text = (
        "Knee ACL reconstruction. Harvested quad through a two centimeter cut, and it is sixty-eight millimeters long."
    )
    assert measured(text)["ligament_graft.length"] == 68


def test_a_tunnel_on_a_scan_was_not_made() -> None:
    text = "Left knee after a ligament reconstruction. The MRI report has spoken of a tunnel of twelve millimeters."
    assert [f.get("role") for f in facts(text, "measurements")] == ["observed"]


def test_the_other_knee_told_of_in_a_few_words_is_no_conflict() -> None:
    text = "Left knee scope. Meniscus torn. Right knee, total knee two years back, doing fine. General."
    assert {f["value"] for f in facts(text, "laterality")} == {"left"}
