"""Sizes that no word list knows for another's, told by all the signs around them, and this case's beside them."""

from __future__ import annotations

import pytest

from extractor.facts.others_sizes import ANOTHERS, BESIDE, are_rivals, weight_of

from .reading import facts, flags, reading

KNEE = "Right knee arthroscopy. Meniscus torn. "
PLAIN = (
    "The graft was twenty four millimeters long when cut.",
    "Graft twenty four long.",
    "Meniscal defect eighteen millimeters.",
    "The tear is twelve millimeters.",
    "Tunnel nine millimeters.",
    "Femoral tunnel seven and a half, tibial tunnel eight.",
    "I drilled the tibial tunnel at nine.",
    "The rim left was two millimeters.",
    "We resected about thirty percent.",
    "Tourniquet forty minutes.",
    "She bends to one hundred thirty degrees.",
    "He hyperextends ten degrees.",
    "Extrusion was three millimeters.",
    "The lesion measured ten by eight millimeters.",
    "Guide set to fifty five degrees.",
    "Stitches five millimeters apart.",
    "I made an incision of three centimeters.",
    "Loose body twelve millimeters, out.",
    "Tensioned at eighty newtons.",
    "Graft fixed at thirty degrees of flexion.",
    "Cut it to twenty three and no more.",
    "I usually take less, but this gap was twenty one millimeters.",
    "As always, the tunnel was drilled to nine millimeters.",
    "The other knee is fine; this one bends to one hundred twenty degrees.",
    "Same as last time, nine millimeters of tunnel in the femur.",
    "Not a long tear, eight millimeters.",
    "For her I chose a tunnel of seven millimeters.",
)
LEAD = (
    "Left knee, ACL reconstruction under general anesthesia. Time out. Standard portals, diagnostic arthroscopy, "
    "medial meniscus intact. "
)
REST = " The notch was cleaned with the shaver. Graft fixed with a button and a screw. Closed, dressing, crutches."
BESIDE_OURS = (
    (
        "The boy on Tuesday had a tear of thirty millimeters, what a morning. In this knee the tear was twelve "
        "millimeters long.",
        "tear.length",
        12,
    ),
    (
        "A colleague from abroad showed pictures of a tear forty millimeters long, imagine. The tear here was fifteen "
        "millimeters long.",
        "tear.length",
        15,
    ),
)
CONFLICTS = (
    ("The tear was eighteen millimeters long. The tear was twenty millimeters long.", "tear.length", [18, 20]),
    (
        "The tibial tunnel was drilled to nine millimeters. The tibial tunnel was ten millimeters.",
        "tunnel.diameter",
        [9, 10],
    ),
    ("Tourniquet forty minutes. The tourniquet was let down at fifty minutes.", "tourniquet.time", [40, 50]),
    ("The graft is nine millimeters. The graft came to eight millimeters.", "ligament_graft.diameter", [9, 8]),
)
ALONE = "At the last meeting somebody showed a tunnel of fourteen millimeters, for which he was laughed at."
UNREAD = "The rep said it comes in twenty five millimeters too, which nobody wanted."


def _read(text: str, what: str) -> list[object]:
    told = facts(LEAD + text + REST, "measurements")
    return [m.get("value") for m in told if m["what"] == what and m.get("role") != "reference"]


@pytest.mark.parametrize("said", PLAIN)
def test_a_size_told_plainly_of_this_case_stays(said: str) -> None:
    found = reading(KNEE + said)
    assert all(weight_of(found.case, q) <= BESIDE - 100 for q in found.case.note.quantities)
    assert not [m for m in facts(KNEE + said, "measurements") if m.get("role") == "reference"]


@pytest.mark.parametrize(("said", "what", "value"), BESIDE_OURS)
def test_beside_one_of_the_case_a_size_told_like_another_s_yields(said: str, what: str, value: float) -> None:
    assert _read(said, what) == [value]


@pytest.mark.parametrize(("said", "what", "values"), CONFLICTS)
def test_two_sizes_that_both_look_like_the_case_s_stay(said: str, what: str, values: list[float]) -> None:
    assert _read(said, what) == values


@pytest.mark.parametrize(
    ("said", "rivals"),
    [
        ("Before, extension lacked twelve degrees. Checked again afterwards, extension two degrees.", False),
        ("The femoral tunnel is nine millimeters. The tibial tunnel is eight millimeters.", False),
        ("The tear was eighteen millimeters long. The tear was twenty millimeters long.", True),
    ],
)
def test_only_sizes_of_one_thing_are_rivals(said: str, rivals: bool) -> None:
    found = reading(LEAD + said + REST)
    one, other = (d for d in found.drafts if d.kind == "measurements")
    assert are_rivals(found.case, one, other) == rivals


def test_one_that_stands_alone_is_asked_about() -> None:
    assert _read(ALONE, "tunnel.diameter") == []
    asked = [f for f in flags(LEAD + ALONE + REST) if any(s.rule == ANOTHERS for s in f.spans)]
    assert [f.check for f in asked] == ["unread-number"] and "is it this case's?" in asked[0].message


def test_nobody_is_asked_about_another_s_number_that_no_rule_reads() -> None:
    found = reading(LEAD + UNREAD + REST)
    assert found.theirs and not found.flags
