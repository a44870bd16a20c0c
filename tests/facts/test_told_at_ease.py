"""What is told at ease: by habit and its fruit, in a row, standing first, as the like of what was just said."""

from __future__ import annotations

import pytest

from .reading import facts, measured, steps

TRANSPLANT = "Left knee, segmental medial meniscus transplant. "
REPAIR = "Right knee, medial meniscus repair. "
NATIVE = (
    "Native meniscus: blue posterior superior, striped white posterior inferior, green anterior superior, plain white"
    " anterior inferior. "
)
BACK = frozenset({"posterior-superior", "posterior-inferior"})
FRONT = frozenset({"anterior-superior", "anterior-inferior"})


@pytest.mark.parametrize(
    ("text", "code", "status"),
    [
        # a look told as a habit was taken where it is told what it showed; a treatment was not
        ("You always check for a bridge here. Clean.", "bridge-check", "performed"),
        ("We always go all the way around first. The ACL looks good.", "diagnostic-arthroscopy", "performed"),
        ("We always check for a bridge. Then the knots.", "bridge-check", None),
        ("At this point we usually trim the graft. Fine.", "graft-trimming", None),
        # an order is no question, whatever is asked behind it
        ("Let the tourniquet down, what are we at? Fifty minutes.", "tourniquet-deflation", "performed"),
        ("Should we let the tourniquet down, what do you think? Not yet.", "tourniquet-deflation", None),
    ],
)
def test_steps(text: str, code: str, status: str | None) -> None:
    found = steps(TRANSPLANT + text).get(code)
    assert found == status if status else found != "performed"


def test_in_a_run_on_what_stands_first_is_what_is_refused() -> None:
    text = (
        "um right knee medial meniscus repair three all-inside implants in the horn and the repair was probed and I"
        " made a few holes in the notch to vent the marrow for some blood clot we didn't use then bent it to ninety"
        " degrees and washed it out and closed the skin and put a dressing and a brace on her and that was it"
    )
    found = steps(text)
    assert found["fibrin-clot"] == "declined"
    assert found["marrow-venting"] == "performed"


@pytest.mark.parametrize(
    ("text", "found"),
    [
        # sizes in a row, what they are behind the last
        ("Two tunnels, nine millimeters and eight millimeters in diameter.", [8.0, 9.0]),
        ("The tunnel was nine millimeters and we drilled it.", [9.0]),
    ],
)
def test_sizes_in_a_row(text: str, found: list[float]) -> None:
    told = "Left knee ACL reconstruction. " + text
    assert [value for what, value in measured(told) if what == "tunnel.diameter"] == found


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Blood loss thirty cc irrigated and closed.", ("blood_loss.volume", 30.0)),
        ("The rim is somewhere between one and two millimeters.", ("rim.width", (1.0, 2.0))),
        (
            "Ruler along the rim. Five, ten, fifteen, not quite twenty, so eighteen millimeters.",
            ("defect.ap_length", 18.0),
        ),
        ("Knee out straight before? It moved from, let me see, five, to one twenty degrees.", ("knee.extension", 5.0)),
        ("Asleep the knee went from ten degrees short, so ten degrees, to ninety.", ("knee.extension", 10.0)),
    ],
)
def test_measured(text: str, found: tuple[str, object]) -> None:
    what = found[0].partition(".")[0]
    assert [m for m in measured(TRANSPLANT + text) if m[0].startswith(what)][0] == found
    assert not [m for m in measured(TRANSPLANT + text) if m[0] == "fluid.volume"]


def test_the_weeks_of_a_brace_are_none_of_the_weight() -> None:
    text = REPAIR + "partial weight bearing for four weeks brace zero to ninety for six weeks"
    own = [f["value"] for f in facts(text, "plan") if f["item"] == "weight-bearing-duration"]
    assert own == [4.0]


@pytest.mark.parametrize(
    ("text", "torn", "intact"),
    [
        (
            "The PCL was intact and so were both menisci, and the ACL was torn.",
            {"acl"},
            {"pcl", "medial-meniscus", "lateral-meniscus"},
        ),
        ("The ACL was fine, as were the PCL and the lateral meniscus.", set(), {"acl", "pcl", "lateral-meniscus"}),
        (
            "Medial meniscus: flap tear. Lateral meniscus: intact. The tear was not repairable.",
            {"medial-meniscus"},
            {"lateral-meniscus"},
        ),
    ],
)
def test_found(text: str, torn: set[str], intact: set[str]) -> None:
    found = facts("Left knee. " + text, "findings")
    assert {f["structure"] for f in found if f["finding"] == "tear"} == torn
    assert {f["structure"] for f in found if f["finding"] == "intact"} == intact


def test_a_remark_on_a_lesion_finds_nothing_intact() -> None:
    found = facts("Left knee. Trochlea has a chondral lesion, grade two, nothing to treat.", "findings")
    assert {f["finding"] for f in found} == {"chondral-lesion"}


@pytest.mark.parametrize(
    "text",
    [
        "Knots. Back two to each other, front two to each other.",
        "The blue was tied to the striped one, and the green to the white.",
        "Each pair was tied to itself.",
    ],
)
def test_ties(text: str) -> None:
    assert {frozenset(f["between"]) for f in facts(TRANSPLANT + NATIVE + text, "ties")} == {BACK, FRONT}


def test_both_ends_are_tied_only_where_it_is_said() -> None:
    assert not facts(TRANSPLANT + NATIVE + "Each pair was sorted and parked.", "ties")


@pytest.mark.parametrize(
    ("text", "found"),
    [
        # one counted beyond the number is one more; within it, it only says where
        (
            "Two all-inside implants, horizontal mattress, and a third was placed as a vertical stitch.",
            {("all_inside", "horizontal_mattress", None, 2), ("all_inside", "vertical_mattress", None, 1)},
        ),
        (
            "Two all-inside stitches, horizontal mattress, the second five millimeters behind.",
            {("all_inside", "horizontal_mattress", None, 2)},
        ),
        # a zero alone before what sutures are made of
        ("Two outside-in stitches with oh monofilament.", {("outside_in", None, "0", 2)}),
        ("Two outside-in stitches with two oh monofilament.", {("outside_in", None, "2-0", 2)}),
    ],
)
def test_stitches(text: str, found: set[tuple[str, str | None, str | None, int]]) -> None:
    told = facts(REPAIR + text, "sutures")
    assert {(f["technique"], f.get("configuration"), f.get("usp_size"), f["count"]) for f in told} == found


def test_a_place_led_in_belongs_to_what_follows() -> None:
    text = REPAIR + "four all-inside in the posterior horn and in the body I switched to inside out, three stitches"
    told = facts(text, "sutures")
    assert {(f["technique"], f.get("region")) for f in told} == {
        ("all_inside", "posterior_horn"),
        ("inside_out", "body"),
    }


def test_a_number_near_its_graft_is_its_identifier() -> None:
    text = TRANSPLANT + "The allograft was thawed, it is number one two eight dash four."
    assert [f["identifier"] for f in facts(text, "grafts") if "identifier" in f] == ["128-4"]
    text = TRANSPLANT + "The suture is number two and the allograft was thawed."
    assert not [f for f in facts(text, "grafts") if "identifier" in f]


def test_one_more_that_was_not_needed_takes_none_of_those_before_back() -> None:
    told = facts(REPAIR + "Three vertical stitches all-inside and a fourth was not needed.", "sutures")
    assert [(f["technique"], f["count"]) for f in told] == [("all_inside", 3)]


def test_what_stayed_in_its_box_is_not_what_was_fixed_with() -> None:
    found = facts(
        "Left knee ACL reconstruction. Tibia fixed with a 9 by 28 screw; the post stayed in the box.", "devices"
    )
    assert [f["kind"] for f in found] == ["screw"]
