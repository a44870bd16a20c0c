"""Sizes told in other words: what is read of a sentence does not change with its wording.

Pairs of a sentence that is read right and the same reworded. That surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts, measured

TRANSPLANT = "Left knee, segmental lateral meniscus transplant. "
REPAIR = "Right knee arthroscopy, medial meniscus repair. "
ACL = "Left knee ACL reconstruction with hamstring autograft. "
AWL = "Right knee arthroscopy, microfracture of the medial femoral condyle. "
PAIRS = (
    (
        TRANSPLANT,
        "The gap was twelve millimeters from the posterior root.",
        (
            "The gap was twelve millimeters distant from the posterior root.",
            "The gap was, um, twelve millimeters distant from its posterior root.",
            "The near edge of the gap was twelve millimeters distant from the back root.",
        ),
    ),
    (
        TRANSPLANT,
        "We were left with a rim of two millimeters.",
        (
            "We were left with an edge of two millimeters.",
            "We were left with a lip of two millimeters.",
            "We were left with a border of two millimeters.",
            "We were left with a ledge of two millimeters.",
        ),
    ),
    (
        TRANSPLANT,
        "Along the rim the gap is twenty millimeters long.",
        ("The gap is twenty millimeters end to end.", "The gap is twenty millimeters tip to tip."),
    ),
    (
        TRANSPLANT,
        "I cut it one millimeter under the defect, so the graft is eighteen by nine millimeters.",
        (
            "I cut it one millimeter undersized to the defect, so the graft is eighteen by nine millimeters.",
            "I cut it one millimeter under the defect, so the graft is eighteen... by nine millimeters.",
            "I cut it one millimeter under the defect, so the graft is eighteen by, um, nine millimeters.",
        ),
    ),
    (
        REPAIR,
        "The tourniquet was inflated to two hundred eighty millimeters of mercury.",
        (
            "The tourniquet was inflated to two hundred eighty mils of mercury.",
            "The tourniquet was inflated to two eighty mils of mercury.",
            "The tourniquet was inflated to 280 mils mercury.",
            "The tourniquet was inflated to 280 millimeters.",
            "The tourniquet was inflated to two eighty millimeters.",
            "The cuff was put up to 280 mm.",
            "Tourniquet at 280 mils.",
            "Tourniquet at 280 of mercury.",
            "The tourniquet was inflated to two... eighty millimeters of mercury.",
        ),
    ),
    (
        REPAIR,
        "An eight point two five millimeter cannula was placed.",
        (
            "An eight... point two five millimeter cannula was placed.",
            "An eight um point two five millimeter cannula was placed.",
            "An eight, point two five millimeter cannula was placed.",
            "A cannula of eight... point two five millimeters was placed.",
        ),
    ),
    (
        REPAIR,
        "Three vertical mattress stitches, six millimeters apart.",
        (
            "Three vertical mattress stitches, separated by six millimeters.",
            "Three vertical mattress stitches with six millimeters between.",
            "Three vertical mattress stitches with six millimeters between them.",
            "Three vertical mattress stitches, parted by six millimeters.",
        ),
    ),
    (
        ACL,
        "The tibial tunnel was ten millimeters in diameter and forty-four millimeters long.",
        (
            "The tibial tunnel was ten millimeters in diameter and forty-four millimeters end to end.",
            "The tibial tunnel was ten millimeters in diameter and forty-four millimeters from end to end.",
        ),
    ),
    (
        REPAIR,
        "The medial meniscus had a vertical tear, eighteen millimeters. The portal was a centimeter.",
        (
            "The medial meniscus had a vertical tear. A portal, a centimeter. How long is it? Eighteen millimeters.",
            "The medial meniscus had a vertical tear. A portal, a centimeter. How long? Fifteen, no, eighteen.",
        ),
    ),
    (
        TRANSPLANT,
        "Both ends of the defect were cut at ninety degrees.",
        (
            "Both ends of the defect were cut at right angles.",
            "Both ends of the defect were squared off at a right angle.",
        ),
    ),
    (
        ACL,
        "The graft was sixty-eight millimeters long and nine and a half millimeters in diameter.",
        ("The graft was sixty-eight millimeters long and nine and a half millimeters across.",),
    ),
    (AWL, "Awl holes four millimeters apart.", ("Awl holes separated by four millimeters.",)),
)
CASES = [(note, plain, other) for note, plain, others in PAIRS for other in others]


def _told(note: str) -> list[tuple[object, ...]]:
    devices = [(d["kind"], d.get("size")) for d in facts(note, "devices")]
    return [*measured(note, "site"), *sorted(devices, key=str)]


@pytest.mark.parametrize(("note", "plain", "other"), CASES, ids=[c[2] for c in CASES])
def test_other_words_tell_the_same(note: str, plain: str, other: str) -> None:
    told = _told(note + plain)
    assert told
    assert _told(note + other) == told


@pytest.mark.parametrize(
    ("said", "what"),
    [
        ("The tourniquet was up. The graft was 240 mm long.", "tourniquet.pressure"),
        ("Tourniquet, portals, the plan again, the graft 240 mm long.", "tourniquet.pressure"),
        ("The tourniquet is on. Eight millimeter cannula.", "tourniquet.pressure"),
        ("The two tunnels were separated by ten millimeters.", "stitch.spacing"),
        ("The sutures were passed at right angles to the tear of the meniscus.", "cut.angle"),
        ("The end of the suture was held in a right angle clamp.", "cut.angle"),
    ],
)
def test_what_is_no_such_size(said: str, what: str) -> None:
    assert what not in [m["what"] for m in facts(ACL + said, "measurements")]
