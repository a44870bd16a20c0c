"""Stitches, bites, findings and limits that stand beside others of their kind, and are none of theirs.

The wordings are the project's own; that surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts, measured

REPAIR = "Left knee, medial meniscus repair. "
GROUPS = ("region", "surface", "color", "count")


def groups(text: str) -> list[tuple[object, ...]]:
    return [tuple(f.get(k) for k in GROUPS) for f in facts(REPAIR + text, "sutures")]


@pytest.mark.parametrize(
    "behind", ["Two sutures in the body.", "Two sutures were placed in the body.", "In the body two."]
)
@pytest.mark.parametrize("ahead", ["Three sutures in the posterior horn.", "Three were placed in the posterior horn."])
def test_stitches_elsewhere_are_laid_as_those_told_at_once_before(ahead: str, behind: str) -> None:
    found = groups(f"Inside out. {ahead} {behind}")
    assert found == [("posterior_horn", None, None, 3), ("body", None, None, 2)]


def test_a_single_one_of_another_color_is_no_part_of_the_number_before() -> None:
    found = groups("Inside out. Two green sutures on the superior surface and one red suture on the inferior surface.")
    assert found == [(None, "superior", "green", 2), (None, "inferior", "red", 1)]


@pytest.mark.parametrize("threads", ["2-0s", "two-ohs", "2-0 sutures"])
def test_threads_may_be_counted_by_their_size(threads: str) -> None:
    found = facts(f"{REPAIR}Inside-out, three {threads} in the body.", "sutures")
    assert [(f["usp_size"], f["count"], f["region"]) for f in found] == [("2-0", 3, "body")]


@pytest.mark.parametrize("lead", ["I go through the skin, and", "The needle comes from the skin and"])
def test_skin_that_a_needle_goes_through_is_not_sewn(lead: str) -> None:
    found = groups(f"The technique is outside-in. {lead} I put three vertical stitches on the superior surface.")
    assert found == [(None, "superior", None, 3)]


@pytest.mark.parametrize(
    ("said", "bite"),
    [
        ("Three stitches, each stitch takes three millimeters of tissue.", 3),
        ("Every bite takes four millimeters of tissue.", 4),
        ("Four sutures, each one catches three millimeters of meniscus.", 3),
        ("The stitches grab five millimeters of tissue.", 5),
    ],
)
def test_what_a_stitch_takes_is_its_bite(said: str, bite: int) -> None:
    assert measured(REPAIR + said) == [("stitch.bite", bite)]


@pytest.mark.parametrize(
    "said",
    [
        "The attending usually spaces them at three millimeters, mine came out at five millimeters. Six sutures.",
        "Six stitches. The professor spaces the stitches at three millimeters, I put mine at five.",
    ],
)
def test_others_space_them_so_and_mine_otherwise(said: str) -> None:
    assert [m for m in measured(REPAIR + said, "role") if m[2] != "reference"] == [("stitch.spacing", 5, "made")]


def found_of(text: str) -> set[tuple[object, ...]]:
    return {(f["structure"], f["finding"]) for f in facts(f"Left knee. {text}", "findings")}


def test_each_of_a_list_has_its_own_finding() -> None:
    said = "The exploration finds a complete tear of the ACL, a PCL intact, a lateral meniscus intact."
    assert found_of(said) == {("acl", "tear"), ("pcl", "intact"), ("lateral-meniscus", "intact")}


@pytest.mark.parametrize("said", ["and the ACL graft is tight", "and the new ACL is tight"])
def test_a_graft_in_the_place_of_a_torn_ligament_is_no_sound_one(said: str) -> None:
    assert found_of(f"The ACL is torn. The graft was passed and fixed. Probed again, {said}.") == {("acl", "tear")}


def test_a_bucket_handle_is_of_the_meniscus_that_is_not_sound() -> None:
    said = (
        "Medial meniscus repair. The lateral meniscus was intact. The PCL was intact. The bucket handle was displaced."
    )
    assert ("medial-meniscus", "tear") in found_of(said) and ("lateral-meniscus", "tear") not in found_of(said)


def test_a_range_put_right_after_some_talk_is_of_the_brace() -> None:
    said = (
        "Ranged zero to ninety degrees. Brace locked zero to ninety, no, scratch that, zero to sixty degrees for now."
    )
    ranges = [(f["low"], f["high"]) for f in facts(REPAIR + said, "plan") if f["item"] == "brace-range"]
    assert ranges == [(0, 60)] and ("knee.flexion", 60) not in measured(REPAIR + said)


def test_an_age_behind_a_deed_tells_when_it_was() -> None:
    said = "Partial lateral meniscectomy. He had a medial repair on the right in his twenties and asks about it."
    done = {(p["code"], p["status"]) for p in facts(f"Left knee. {said}", "procedures")}
    assert done == {("partial-meniscectomy", "performed"), ("meniscus-repair", "prior")}
