"""Findings, sizes and procedures told beside those of another time. The sentences are the project's own."""

from __future__ import annotations

import pytest

from .reading import facts


@pytest.mark.parametrize(
    "text",
    [
        "The ACL graft from his previous reconstruction is intact.",
        "ACL graft, the one from his surgery in 2019, intact, nine millimeter hamstring.",
        "ACL graft put in at another hospital in 2020, intact.",
    ],
)
def test_a_graft_of_before_is_found_intact_today(text: str) -> None:
    note = f"Left knee, meniscus repair. {text}"
    found = [(f["structure"], f["finding"]) for f in facts(note, "findings") if f["status"] == "present"]
    assert found == [("acl", "intact")]
    assert "acl-reconstruction" not in {f["code"] for f in facts(note, "procedures") if f["status"] == "performed"}


def test_what_was_sound_then_is_no_finding_of_today() -> None:
    note = "Left knee, meniscus repair. In 2019 the ACL was intact."
    assert not [f for f in facts(note, "findings") if f["structure"] == "acl"]


@pytest.mark.parametrize(
    "text",
    [
        "On Tuesday's lady we had a defect of twenty-four millimeters.",
        "I did the same operation on a right knee a month ago and there the defect measured twenty-four millimeters.",
        "In the cadaver course we had the same gap. It measured twenty-four millimeters.",
    ],
)
def test_another_s_size_is_none_of_this_case(text: str) -> None:
    note = f"Left knee, meniscus transplant. The defect was seventeen millimeters along the rim. {text}"
    own = [
        f["value"] for f in facts(note, "measurements") if f["what"].startswith("defect") and f["role"] == "observed"
    ]
    assert own == [17]


@pytest.mark.parametrize(
    "text",
    [
        "Hybrid repair of a vertical tear, all-inside behind and inside-out in the middle. Medial meniscus has a"
        " vertical tear in the posterior horn.",
        "Medial meniscus with a vertical tear in the posterior horn, inside-out in the body.",
    ],
)
def test_where_it_was_stitched_is_not_where_it_was_torn(text: str) -> None:
    (tear,) = [f for f in facts(f"Left knee, medial meniscus. {text}", "findings") if f["finding"] == "tear"]
    assert tear["region"] == "posterior_horn"


def test_a_habit_is_no_finding_as_of_the_one_before() -> None:
    note = "Knee. Medial meniscus deficient. Usually I see the femoral condyle go as well, not here."
    assert {f["structure"] for f in facts(note, "findings")} == {"medial-meniscus"}
