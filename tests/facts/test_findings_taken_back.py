"""A finding called out and taken back is none; one that is only spoken of more closely stays.

The findings and wordings are the project's own; that surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts, side_of

FINDINGS = {
    "loose body": "loose-body",
    "radial tear of the lateral meniscus": "tear",
    "synovitis": "synovitis",
    "bit of laxity of the A C L": "laxity",
    "chondral lesion of the trochlea": "chondral-lesion",
}
TAKEN_BACK = (
    "I called out a {} to the camera, I take that back, it was a fold of fat.",
    "I announced a {} too early, it was a plica.",
    "The look around showed a {}? No, that was a fold, forget it.", "A {} at first sight, then not at all.",
    "The resident called a {}, wrongly.", "First impression a {}, second look clean.",
    "A {}, I said, but it was only an air bubble.",
)  # fmt: skip
HELD = (
    ("loose-body", "I called out a loose body to the camera, it was a big one."),
    ("tear", "I noted a radial tear of the lateral meniscus, it was a mess."),
    ("loose-body", "A loose body? Yes, in the gutter."),
    ("tear", "At first sight a radial tear of the lateral meniscus, and the probe confirmed it."),
    ("loose-body", "What did I find? A loose body, and it was a piece of cartilage."),
    ("loose-body", "I noted a loose body in the gutter. It was a fragment of bone, eight millimeters."),
    ("tear", "Is it a radial tear of the lateral meniscus? It is."),
    ("loose-body", "There is a loose body, please delete the plica."),
)


def _present(said: str) -> set[str]:
    text = f"Left knee arthroscopy, medial meniscus repair. Portals made. {said} P C L intact."
    return {f["finding"] for f in facts(text, "findings") if f["status"] == "present"}


@pytest.mark.parametrize(("said", "finding"), [(s.format(f), code) for f, code in FINDINGS.items() for s in TAKEN_BACK])
def test_a_finding_taken_back_is_none(said: str, finding: str) -> None:
    assert finding not in _present(said)


@pytest.mark.parametrize(("finding", "said"), HELD)
def test_a_finding_spoken_of_stays(finding: str, said: str) -> None:
    assert finding in _present(said)


@pytest.mark.parametrize(
    "said",
    [
        "An A C L reconstruction of the right knee at nineteen has served him well.",
        "A meniscectomy on the right at fifteen is long forgotten.",
        "Her right knee has a graft of its own since three years and is no part of today.",
    ],
)
def test_the_other_knee_at_another_age(said: str) -> None:
    text = f"Left knee, medial meniscus repair. {said} Portals made."
    assert side_of(text) == ["left"]
    assert {p["code"] for p in facts(text, "procedures") if p["status"] == "performed"} == {"meniscus-repair"}
