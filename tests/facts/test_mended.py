"""Sentences that were once read wrong: a wrong side, and what was not done, not now, or not there."""

from __future__ import annotations

import pytest

from .reading import facts, measured, side_of, steps


@pytest.mark.parametrize(
    "text",
    [
        "We left the meniscus alone.",
        "He left the knee.",
        "I left the knee in extension.",
        "We left medial meniscus tissue behind.",
    ],
)
def test_left_as_a_verb_is_no_side(text: str) -> None:
    assert side_of(text) == []


@pytest.mark.parametrize(
    ("text", "status"),
    [
        ("If the meniscus graft is too long, we trim it.", "conditional"),
        ("If the meniscus graft is too long we trim it.", "conditional"),
        ("In case the meniscus graft does not fit we trim it.", "conditional"),
        ("Trimming the meniscus graft was considered.", "planned"),
    ],
)
def test_trimming_only_thought_of(text: str, status: str) -> None:
    assert steps(text).get("graft-trimming") == status


@pytest.mark.parametrize(
    "text",
    [
        "Two months ago the lateral meniscus rim was rasped.",
        "Last year at another hospital the meniscal rim was rasped.",
        "As a rule the meniscal rim is rasped.",
        "Rasping the meniscal rim is what I normally do.",
    ],
)
def test_a_fronted_time_or_habit_is_no_step(text: str) -> None:
    assert "rim-abrasion" not in steps(text)


def test_a_fronted_time_holds_for_findings_ties_plans_and_values() -> None:
    assert not facts("Two years ago the medial meniscus was torn.", "findings")
    assert not facts("Usually the medial meniscus is torn.", "findings")
    assert not facts("Last year the meniscus sutures were tied posterior superior to posterior inferior.", "ties")
    assert not facts("After the operation years ago the knee was non weight bearing for six weeks.", "plan")
    text = "Two years ago his meniscus tear measured nine millimeters."
    assert measured(text, "role") in ([], [("tear.length", 9, "reference")])


def test_a_partial_meniscectomy_is_no_partial_weight_bearing() -> None:
    assert not facts("A partial medial meniscectomy was done.", "plan")


def test_the_same_denied_is_not_expanded() -> None:
    text = "Native meniscus: white posterior superior. The same was not done on the graft."
    assert [f["tissue"] for f in facts(text, "sutures")] == ["native"]


def test_a_corrected_position_is_the_last() -> None:
    (suture,) = facts("Native meniscus: white posterior superior, no, posterior inferior.", "sutures")
    assert (suture["surface"], suture["color"]) == ("inferior", "white")


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("A no. 2 suture was passed through the posterior root of the meniscus.", "native-suture-passage"),
        ("With a no. 15 blade the knee portals were made.", "portal-placement"),
    ],
)
def test_no_before_a_number_is_no_denial(text: str, code: str) -> None:
    assert steps(text).get(code) == "performed"


@pytest.mark.parametrize(
    "text",
    [
        "Neither the ACL nor the PCL was torn.",
        "There were no loose bodies, synovitis or effusion in the knee.",
        "There was no tear, fraying or extrusion of the medial meniscus.",
    ],
)
def test_a_denied_list_is_denied_whole(text: str) -> None:
    assert not [f for f in facts(text, "findings") if f["status"] == "present" and f["finding"] != "intact"]


def test_no_hyphen_is_lost() -> None:
    text = "Three all\u2011inside stitches were placed in the meniscus."
    assert [f["technique"] for f in facts(text, "sutures")] == ["all_inside"]


@pytest.mark.parametrize(
    "text",
    [
        "As always, the meniscal rim was rasped.",
        "We rasped the meniscal rim, and if the graft is loose we tie it again.",
    ],
)
def test_what_was_done_stays_done(text: str) -> None:
    """The other side of the rules above: today's work beside a habit or a condition."""
    assert steps(text).get("rim-abrasion") == "performed"


def test_a_denial_ends_before_what_is_there() -> None:
    text = "No loose bodies in the knee, grade 2 chondral changes of the medial femoral condyle."
    assert {f["finding"]: f["status"] for f in facts(text, "findings")} == {
        "loose-body": "absent",
        "chondral-lesion": "present",
    }


def test_a_side_said_before_an_earlier_operation_is_of_this_one() -> None:
    text = (
        "this is the revision on the right knee first ACL was done three years ago "
        "through tunnels that were nine millimeters"
    )
    assert side_of(text) == ["right"]
    assert not [m for m in facts(text, "measurements") if m.get("role") == "made"]


def test_no_fragment_of_a_bucket_handle_and_no_washing_is_a_loose_body() -> None:
    handle = "Knee. Bucket handle tear of the medial meniscus. The fragment was removed in one piece."
    washed = "No loose bodies in the knee. Number three, knee washed out with two liters."
    assert "loose-body-removal" not in steps(handle) | steps(washed)
    assert "loose-body-removal" in steps("Knee. A loose body was grasped and removed.")


def test_flexion_said_as_two_high_angles_is_no_span_from_extension() -> None:
    said = facts("Knee released. After, extension zero, flexion one twenty, maybe one thirty.", "measurements")
    assert {m["what"] for m in said} == {"knee.extension", "knee.flexion"}
    assert [m["value"] for m in said if m["what"] == "knee.extension"] == [0]


@pytest.mark.parametrize("label", ["Tissue no. 4417", "Donor tissue no. LM-4417", "Tissue number 4417"])
def test_the_number_of_a_graft_is_its_identifier(label: str) -> None:
    (graft,) = facts(f"Meniscal allograft transplantation. The allograft was thawed. {label}.", "grafts")
    assert graft["identifier"].endswith("4417")
