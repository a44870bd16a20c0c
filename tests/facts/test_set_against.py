"""Numbers of this case set against those of a habit, another time, another patient or a label."""

from __future__ import annotations

import pytest

from .reading import facts


def told(text: str, what: str) -> set[tuple[object, bool]]:
    """The values of a measurement, each with whether it is of this case."""
    found = facts(f"Right knee meniscus. {text}", "measurements")
    return {(f.get("value", f.get("low")), f.get("role") != "reference") for f in found if f["what"] == what}


@pytest.mark.parametrize(
    ("text", "what", "other", "ours"),
    [
        ("At the first operation the tourniquet was up ninety minutes. Today it is fifty.", "tourniquet.time", 90, 50),
        ("My rule is four millimeters of rim. She has three.", "rim.width", 4, 3),
        ("In her other knee the defect was twenty millimeters. Here it is nine.", "defect.ap_length", 20, 9),
        ("On her good side the defect was twenty millimeters. Here it is nine.", "defect.ap_length", 20, 9),
        ("His brother's tear measured thirty millimeters, his measures ten.", "tear.length", 30, 10),
        ("The book puts the drill guide at fifty degrees. Ours stood at sixty.", "guide.angle", 50, 60),
        ("Three years ago the defect was nine millimeters. Now it measures twelve.", "defect.ap_length", 9, 12),
        ("On the label the graft is nine millimeters wide. It measured ten millimeters wide.", "graft.width", 9, 10),
        ("According to the box the graft is nine millimeters wide. I measured ten millimeters in width.",
         "graft.width", 9, 10),
        ("Referral letter: the trochlea lesion is fifteen millimeters long. My ruler says the lesion is eleven long.",
         "lesion.length", 15, 11),
        ("The radiologist gives eighteen millimeters for the tear; with the hook along it I get thirteen.",
         "tear.length", 18, 13),
        ("The MRI gave a defect length of twenty millimeters. The ruler gives nine.", "defect.ap_length", 20, 9),
        ("A defect of twenty millimeters was what I was promised. It measured ten millimeters along the rim.",
         "defect.ap_length", 20, 10),
    ],
)  # fmt: skip
def test_a_number_set_against_anothers(text: str, what: str, other: int, ours: int) -> None:
    assert told(text, what) == {(other, False), (ours, True)}


@pytest.mark.parametrize(
    ("text", "what", "expected"),
    [
        ("My rule is four millimeters of rim. We used two sutures.", "rim.width", {(4, False)}),
        ("My rule is four millimeters of rim. The tear was nine millimeters long.", "rim.width", {(4, False)}),
        ("The rim is four millimeters. She is nine.", "rim.width", {(4, True)}),
        ("I put marks on the graft at eighteen millimeters of length.", "graft.ap_length", {(18, True)}),
        ("The rim is not four millimeters.", "rim.width", set()),
        ("The rim is certainly not the four millimeters in the plan.", "rim.width", set()),
        ("The rim is four millimeters. Delete that, wrong patient.", "rim.width", set()),
        (
            "The letter came today, and now the lesion of the trochlea is fifteen millimeters long.",
            "lesion.length",
            {(15, True)},
        ),
    ],
)
def test_what_is_set_against_nothing(text: str, what: str, expected: set[tuple[int, bool]]) -> None:
    assert told(text, what) == expected
