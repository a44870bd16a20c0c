"""Findings: which structure shows what, coordinated, attributive, likewise and absent (contract, section 6).

Tear patterns are those of the ISAKOS classification of meniscal tears (Anderson et al., Am J Sports Med 2011;39:926-32;
the list as quoted elsewhere): horizontal, longitudinal with the bucket handle, radial, flap, complex. Grades are those
of Outerbridge and of the ICRS, 0 to 4 (contract, section 6).
"""

from __future__ import annotations

import pytest

from .reading import facts


def found(text: str, status: str = "present") -> set[tuple[str | None, str]]:
    """(structure, finding) of one status."""
    return {(f.get("structure"), f["finding"]) for f in facts(text, "findings") if f["status"] == status}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # coordination
        (
            "The medial meniscus, the lateral meniscus and the ACL were intact.",
            {("medial-meniscus", "intact"), ("lateral-meniscus", "intact"), ("acl", "intact")},
        ),
        ("ACL and PCL intact.", {("acl", "intact"), ("pcl", "intact")}),
        ("Both menisci were intact.", {("medial-meniscus", "intact"), ("lateral-meniscus", "intact")}),
        ("The cruciates of this knee were intact.", {("acl", "intact"), ("pcl", "intact")}),
        # attributive
        (
            "An intact lateral meniscus was seen, and a torn medial meniscus.",
            {("lateral-meniscus", "intact"), ("medial-meniscus", "tear")},
        ),
        ("There was a tear of the lateral meniscus.", {("lateral-meniscus", "tear")}),
        # two structures, two findings
        (
            "The medial meniscus was torn and the lateral meniscus was intact.",
            {("medial-meniscus", "tear"), ("lateral-meniscus", "intact")},
        ),
        # likewise
        (
            "The lateral meniscus was intact, as was the ACL.",
            {("lateral-meniscus", "intact"), ("acl", "intact")},
        ),
        # what the sentence before is about
        ("The PCL was looked at. It was intact, knee stable.", {("pcl", "intact")}),
        ("The menisci were probed. They were intact.", {("medial-meniscus", "intact"), ("lateral-meniscus", "intact")}),
        ("The graft was laid beside the ACL of the knee. It was intact.", set()),
        # a saying, not a tear
        ("Some wear and tear of the medial meniscus was seen.", set()),
        ("The patella showed wear and tear.", {("patella", "chondral-lesion")}),
        # roots
        ("The posterior root of the medial meniscus was torn.", {("medial-root", "tear")}),
        # a finding that needs no structure
        ("Synovitis and an effusion of the knee were seen.", {("synovium", "synovitis"), (None, "effusion")}),
        # in hand from the sentence before
        ("We look at the lateral meniscus. There is a radial tear.", {("lateral-meniscus", "tear")}),
    ],
)
def test_present(text: str, expected: set[tuple[str | None, str]]) -> None:
    assert found(text) == expected
    assert not found(text, "absent")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("No loose bodies were seen in the knee.", {(None, "loose-body")}),
        (
            "Knee. The patella and trochlea had no chondral lesions.",
            {("patella", "chondral-lesion"), ("trochlea", "chondral-lesion")},
        ),
        ("There was no synovitis in this knee.", {("synovium", "synovitis")}),
        ("The knee was free of effusion.", {(None, "effusion")}),
    ],
)
def test_absent_is_kept_as_absent(text: str, expected: set[tuple[str | None, str]]) -> None:
    assert found(text, "absent") == expected
    assert not found(text)


@pytest.mark.parametrize(
    ("text", "pattern"),
    [
        ("A radial tear of the lateral meniscus was seen.", "radial"),
        ("The medial meniscus had a horizontal tear.", "horizontal"),
        ("A longitudinal tear of the medial meniscus was seen.", "longitudinal"),
        ("A bucket handle tear of the medial meniscus was found.", "bucket-handle"),
        ("A flap tear of the lateral meniscus was seen.", "flap"),
        ("A complex tear of the medial meniscus was seen.", "complex"),
    ],
)
def test_tear_patterns(text: str, pattern: str) -> None:
    assert [f["pattern"] for f in facts(text, "findings")] == [pattern]


def test_a_tear_told_again_without_its_pattern_is_the_same() -> None:
    text = "A radial tear of the lateral meniscus was seen. The lateral meniscus tear was probed."
    assert [(f["finding"], f["pattern"]) for f in facts(text, "findings")] == [("tear", "radial")]


def test_region() -> None:
    (fact,) = facts("A longitudinal tear in the posterior horn of the medial meniscus was seen.", "findings")
    assert fact["region"] == "posterior_horn"


@pytest.mark.parametrize(
    ("text", "structure", "grade"),
    [
        ("Knee. ICRS grade three lesion of the trochlea.", "trochlea", {"system": "icrs", "value": "3"}),
        (
            "Knee. The lesion was grade two Outerbridge on the medial femoral condyle.",
            "medial-femoral-condyle",
            {"system": "outerbridge", "value": "2"},
        ),
        ("Knee. Outerbridge IV changes of the patella.", "patella", {"system": "outerbridge", "value": "4"}),
        ("Knee. Grade 3 chondromalacia of the patella.", "patella", {"system": None, "value": "3"}),
    ],
)
def test_grades(text: str, structure: str, grade: dict[str, object]) -> None:
    (fact,) = facts(text, "findings")
    assert (fact["structure"], fact["finding"], fact["grade"]) == (structure, "chondral-lesion", grade)


def test_a_grade_over_a_range_is_none() -> None:
    """Which of the two was not said: the rule abstains."""
    (fact,) = facts("Knee. Outerbridge grade two to three changes of the patella.", "findings")
    assert "grade" not in fact


@pytest.mark.parametrize(
    "text",
    [
        "The uninvolved knee had a torn medial meniscus.",
        "If the medial meniscus is torn we could repair it.",
        "He has a history of a torn medial meniscus, the knee was scoped.",
    ],
)
def test_findings_of_another_knee_or_time_are_none(text: str) -> None:
    assert not [f for f in facts(text, "findings") if f["finding"] == "tear"]


def test_what_lies_in_front_of_a_root_is_no_front_and_no_root() -> None:
    told = "Left knee, lateral meniscus. There is a missing bit in front of the posterior root."
    assert [f.get("region") for f in facts(told, "findings")] == [None]
    told = "Left knee. The medial meniscus is torn just in front of the posterior root."
    assert [(f["structure"], f.get("region")) for f in facts(told, "findings")] == [("medial-meniscus", None)]


def test_the_tear_worked_on_is_the_one_told_of_before() -> None:
    told = "Left knee. The medial meniscus had split lengthways. Both cruciates were sound. I freshened the tear."
    found = [(f["structure"], f["finding"]) for f in facts(told, "findings")]
    assert ("acl", "tear") not in found and ("medial-meniscus", "tear") in found


def test_what_is_missing_has_no_root_for_its_place() -> None:
    told = "Left knee, lateral meniscus transplant. A piece is missing eight millimeters from the posterior root."
    assert [f.get("region") for f in facts(told, "findings")] == [None]


def test_what_was_lost_long_ago_is_still_missing() -> None:
    told = "Left knee, medial meniscus transplant. The posterior horn is absent from a previous resection."
    assert [(f["finding"], f["region"]) for f in facts(told, "findings")] == [("deficiency", "posterior_horn")]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("I searched the gutter for a loose body and drew a blank.", []),
        ("I searched the gutter for a loose body and found one.", ["loose-body"]),
        ("I went hunting for a loose body. It lay behind the cruciate.", []),
        ("Loose body, not found.", []),
        ("A loose body was ruled out.", []),
        ("A loose body lay in the gutter, and its bed was not found.", ["loose-body"]),
    ],
)
def test_what_is_only_looked_for_is_no_finding(text: str, expected: list[str]) -> None:
    told = [f["finding"] for f in facts(f"Left knee, meniscus. {text}", "findings") if f["status"] == "present"]
    assert told == expected


def test_the_size_of_what_was_not_found_is_no_size() -> None:
    told = "Left knee. Ultrasound had shown a loose body of nine millimeters, which I could not find."
    assert {m["role"] for m in facts(told, "measurements")} <= {"reference"}
