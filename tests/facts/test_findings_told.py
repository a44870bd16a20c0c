"""Findings told in many wordings: sound ones, those a scan showed and the scope bore out or not, grades by ordinals.

The wordings are the project's own; that surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts

AROUND = "Left knee arthroscopy. Portals were made. {} The wounds were closed."
NAMED = (("ACL", "acl"), ("lateral meniscus", "lateral-meniscus"), ("trochlea", "trochlea"), ("patella", "patella"))
SOUND = (
    "The {} did not show any damage.", "The {} was free of pathology.", "No problem with the {}.",
    "Nothing was wrong with the {}.", "The {} could be called normal.", "The {} was okay.",
)  # fmt: skip
ACL, MEDIAL, LATERAL = ("acl", "tear"), ("medial-meniscus", "tear"), ("lateral-meniscus", "tear")


def _found(said: str) -> list[tuple[object, ...]]:
    told = [f for f in facts(AROUND.format(said), "findings") if f["status"] == "present"]
    return sorted((f.get("structure"), f["finding"]) for f in told)


@pytest.mark.parametrize("wording", SOUND)
def test_what_is_sound(wording: str) -> None:
    for name, structure in NAMED:
        assert _found(wording.format(name)) == [(structure, "intact")], name


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("The MRI showed a tear of the medial meniscus. This was confirmed.", [MEDIAL]),
        ("The MRI showed a torn ACL, confirmed at arthroscopy.", [ACL]),
        ("The tear of the medial meniscus seen on MRI was confirmed.", [MEDIAL]),
        ("The scan had shown a tear of the lateral meniscus, and that is what we found.", [LATERAL]),
        ("The MRI showed a tear of the medial meniscus.", []),
        ("The MRI showed a tear of the medial meniscus. This could not be confirmed.", []),
        ("The MRI showed a chondral lesion of the patella. Not found.", []),
        ("The ACL was torn together with the lateral meniscus.", [ACL, LATERAL]),
        ("Except for the torn lateral meniscus everything was fine.", [LATERAL]),
        ("Gutters free, no plica, patella fine.", [("patella", "intact")]),
        ("Cruciates fine.", [("acl", "intact"), ("pcl", "intact")]),
        ("Nothing was left of the medial meniscus.", [("medial-meniscus", "deficiency")]),
    ],
)
def test_what_was_found(said: str, expected: list[tuple[str, str]]) -> None:
    assert _found(said) == expected


@pytest.mark.parametrize("said", ["Second degree damage of the patella.", "Patellar chondromalacia, grade two."])
def test_a_grade_beside_its_structure(said: str) -> None:
    assert [f["grade"]["value"] for f in facts(AROUND.format(said), "findings")] == ["2"]
