"""What is told otherwise than in one plain sentence: measured anew, tried first, of all at once, of the other knee."""

from __future__ import annotations

import pytest

from .reading import facts, flags, measured, side_of

TRANSPLANT = "Right knee, segmental medial meniscus transplant. "
REPAIR = "Medial meniscus repair. "


@pytest.mark.parametrize(
    ("text", "found"),
    [
        # taken anew, the later value holds
        ("The defect was 26 mm in length. On re-measuring it was 25 mm in length.", ("defect.ap_length", 25.0)),
        ("The tear was twelve millimeters, but I measured again and got fifteen millimeters.", ("tear.length", 15.0)),
        # a unit said once for a list told in sentences; a larger number is in millimeters
        ("Length of the defect along the rim two centimeters. Width point nine.", ("defect.width", 9.0)),
        ("Length of the defect along the rim two centimeters. Width nine.", ("defect.width", 9.0)),
        # a dimension behind 'with' is said of the number after it
        ("The graft was marked 24 mm by 10 mm with a root distance of 7 mm.", ("graft.width", 10.0)),
        ("The graft was marked 24 mm by 10 mm with a root distance of 7 mm.", ("graft.root_distance", 7.0)),
        # neighbors side by side are a range
        ("The rim is one, one and a half millimeters.", ("rim.width", (1.0, 1.5))),
        ("The rim is two, three millimeters.", ("rim.width", (2.0, 3.0))),
        # a row of stitches runs round the rim; the incision was measured
        ("Then inside-out round the rim, incision four centimeters, graft in.", ("incision.length", 40.0)),
        # put right as it is said, and going on
        ("The graft was cut at eighteen, no, nineteen millimeters, and the rim was rasped.", ("graft.ap_length", 19.0)),
        # what is as large as the defect is no defect
        ("The graft was trimmed to the exact size of the defect, twenty by nine millimeters.", ("graft.width", 9.0)),
    ],
)
def test_measured(text: str, found: tuple[str, object]) -> None:
    own = [value for what, value in measured(TRANSPLANT + text) if what == found[0]]
    assert own == [found[1]]


def test_a_size_tried_first_is_none() -> None:
    text = TRANSPLANT + "Slot width 8 mm, depth 10 mm. First depth 8 mm, not enough, deeper to 10."
    assert [m for m in measured(text) if m[0] == "slot.depth"] == [("slot.depth", 10.0)]
    assert not flags(text)


@pytest.mark.parametrize(
    ("text", "allowance"),
    [
        ("I always cut the graft exactly as large as the defect.", 0.0),
        ("The graft was cut with no allowance.", 0.0),
        ("The graft was cut twenty millimeters, one shorter than the gap.", 1.0),
    ],
)
def test_the_allowance_in_words(text: str, allowance: float) -> None:
    assert ("graft.allowance", allowance) in measured(TRANSPLANT + text)


def test_no_allowance_of_what_others_do() -> None:
    text = "Other surgeons cut as large as the defect."
    assert "graft.allowance" not in [what for what, _ in measured(TRANSPLANT + text)]


def test_the_same_size_at_another_place() -> None:
    text = "Knee, ACL reconstruction. Femoral tunnel nine millimeters in diameter. Tibial tunnel, same diameter."
    assert measured(text, "site") == [("tunnel.diameter", 9.0, "femoral"), ("tunnel.diameter", 9.0, "tibial")]
    assert measured(text.replace("same diameter", "same diameter as the graft"), "site") == [
        ("tunnel.diameter", 9.0, "femoral")
    ]


@pytest.mark.parametrize(
    "aside",
    [
        "His right knee's got an old reconstruction in it and that's not our problem today.",
        "She was operated two times in the right knee by me, this one instead was operated elsewhere.",
        "The right knee had an extrusion of 2.5 mm, but it has no symptom.",
        "The right knee is totally fine, we never touched that one.",
    ],
)
def test_the_other_knee_told_beside(aside: str) -> None:
    text = f"Left knee, medial meniscus repair. {aside}"
    assert side_of(text) == ["left"]
    assert all(role == "reference" for _, _, role in measured(text, "role"))


def test_a_brace_on_the_other_knee_is_no_aside() -> None:
    assert side_of("Left knee, medial meniscus repair. Right knee brace applied.") == ["left", "right"]


@pytest.mark.parametrize(
    ("text", "forms", "sizes"),
    [
        ("Back top white, back bottom blue, front top green, front bottom black, all plain suture.",
         {"suture"}, {None}),
        ("Back top white. Back bottom blue. Front top green. Front bottom black. All of them number two tapes.",
         {"tape"}, {"2"}),
        ("All suture number zero. Back top white. Back bottom blue. Front top green. Front bottom black.",
         {"suture"}, {"0"}),
    ],
)  # fmt: skip
def test_looks_of_all(text: str, forms: set[str], sizes: set[str | None]) -> None:
    found = facts("Native meniscus sutures. " + text, "sutures")
    assert len(found) == 4
    assert {f.get("form") for f in found} == forms and {f.get("usp_size") for f in found} == sizes


def test_a_run_on_of_places_and_colors() -> None:
    text = (
        "segmental meniscus transplant then four native sutures posterior superior is white posterior inferior is blue"
        " anterior superior is green anterior inferior is purple and the scope goes round and everything is where it"
        " should be in the joint"
    )
    found = {(f["region"], f["surface"]): f.get("color") for f in facts(text, "sutures")}
    assert found == {
        ("posterior", "superior"): "white",
        ("posterior", "inferior"): "blue",
        ("anterior", "superior"): "green",
        ("anterior", "inferior"): "purple",
    }


@pytest.mark.parametrize(
    ("text", "counts"),
    [
        ("Inside-out, vertical, 2-0. Ten stitches. Six on the femoral side, and three on the tibial side.", [3, 6]),
        ("Two needles for each stitch. In total three outside-in stitches, horizontal.", [3]),
        ("Number of sutures: 6. Technique: inside-out. Configuration: vertical mattress.", [6]),
        ("Three inside-out stitches, vertical. One more tore through and was taken out.", [3]),
    ],
)
def test_numbers_of_stitches(text: str, counts: list[int]) -> None:
    assert sorted(f["count"] for f in facts(REPAIR + text, "sutures")) == counts


def test_a_size_of_sutures_put_right() -> None:
    (stitch,) = facts(REPAIR + "One cross stitch, all-inside, number zero, no, make that 2-0.", "sutures")
    assert stitch["usp_size"] == "2-0"


def test_colored_sutures_of_a_graft_told_in_one_breath() -> None:
    text = (
        "Whole meniscus transplant. The graft is thawed. I put a blue tape in the posterior root and a white tape in"
        " the anterior root, both with luggage tag, and one green suture in the body, for traction."
    )
    found = [(f["color"], f["region"], f.get("configuration"), f.get("role")) for f in facts(text, "sutures")]
    assert found == [
        ("blue", "posterior_root", "luggage_tag", None),
        ("white", "anterior_root", "luggage_tag", None),
        ("green", "body", None, "traction"),
    ]


@pytest.mark.parametrize(
    ("text", "item", "value"),
    [
        ("See me in ten days, actually I'm away, two weeks.", "follow-up", 2.0),
        ("Partial weight for four weeks, no flexion over ninety in that time.", "flexion-limit", 90.0),
    ],
)
def test_plans(text: str, item: str, value: float) -> None:
    assert [f["value"] for f in facts("Meniscus done. " + text, "plan") if f["item"] == item] == [value]


@pytest.mark.parametrize(
    "text",
    ["We will come back for the ACL in eight weeks.", "Pulled the stitch and put it back at five, bite of five."],
)
def test_no_visit(text: str) -> None:
    assert not [f for f in facts("Meniscus done. " + text, "plan") if f["item"] == "follow-up"]


def test_a_cannula_sized_behind_a_pause() -> None:
    assert facts(REPAIR + "Cannula in laterally, seven millimeters, I would take an eight.", "devices") == [
        {"kind": "cannula", "size": 7.0, "unit": "mm"}
    ]
