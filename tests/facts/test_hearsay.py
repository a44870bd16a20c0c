"""What was suspected, or told by others, and what was seen. Worded for these tests."""

from __future__ import annotations

import pytest

from .reading import facts


def findings(text: str) -> set[tuple[object, object, object]]:
    return {(f.get("structure"), f["finding"], f["status"]) for f in facts(f"Right knee. {text}", "findings")}


@pytest.mark.parametrize(
    "text",
    [
        "Radiology was sure of an ACL tear. Probed it: ACL intact.",
        "The letter speaks of a torn ACL. Intact.",
        "His therapist thought the ACL was torn. It is intact.",
        "There was a question of an ACL tear; we saw a normal ACL.",
        "The ACL tear that the report mentions is not there: the ACL is intact.",
    ],
)
def test_what_was_seen_holds_against_what_was_told(text: str) -> None:
    assert ("acl", "tear", "present") not in findings(text)
    assert ("acl", "intact", "present") in findings(text)


@pytest.mark.parametrize(
    "text",
    [
        "A tear of the lateral meniscus had been suspected, and the probe proved otherwise.",
        "The resident called a tear in the lateral meniscus. I looked and there is none.",
        "What looked like a tear of the lateral meniscus turned out to be a fold.",
        "My fellow took a fold of the lateral meniscus for a tear, which a probe disproves.",
        "We were afraid of a tear of the lateral meniscus.",
        "The report has a tear of the lateral meniscus. What I see is a tear of the medial meniscus.",
        "The letter has a bucket handle tear of the lateral meniscus. What I see is a torn medial meniscus.",
    ],
)
def test_what_was_not_borne_out_is_no_finding(text: str) -> None:
    assert ("lateral-meniscus", "tear", "present") not in findings(text)


@pytest.mark.parametrize(
    "text",
    [
        "A tear of the lateral meniscus was suspected and confirmed.",
        "The resident called a tear in the lateral meniscus, and so it was.",
        "The lateral meniscus is torn, as the resident said. Nothing else was seen.",
        "The lateral meniscus is torn as on the report. No PCL tear was found.",
        "We were worried about the rim. The lateral meniscus has a tear.",
        "The report was read. The lateral meniscus is torn. The ACL is intact.",
    ],
)
def test_what_nobody_denies_was_found(text: str) -> None:
    assert ("lateral-meniscus", "tear", "present") in findings(text)


def test_what_is_ruled_out_gives_way_to_what_is_named_instead() -> None:
    found = findings("It is not the medial meniscus that is torn but the lateral.")
    assert ("lateral-meniscus", "tear", "present") in found
    assert not any(name == "medial-meniscus" for name, _, _ in found)
