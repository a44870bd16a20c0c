"""Procedures: named or told by their steps, with extent, side and compartment (contract, section 6)."""

from __future__ import annotations

import pytest

from .reading import drafts, facts


def done(text: str, *fields: str) -> list[tuple[object, ...]]:
    found = [f for f in facts(text, "procedures") if f["status"] == "performed"]
    return sorted(((f["code"], *(f.get(name) for name in fields)) for f in found), key=str)


@pytest.mark.parametrize(
    ("text", "code", "compartment"),
    [
        ("Segmental medial meniscal allograft transplantation, left knee.", "meniscus-transplant", "medial"),
        ("Lateral meniscus repair, left knee.", "meniscus-repair", "lateral"),
        ("Left knee. Medial root repair through a tibial tunnel.", "root-repair", "medial"),
        ("Left knee partial lateral meniscectomy.", "partial-meniscectomy", "lateral"),
    ],
)
def test_named_with_compartment_and_side(text: str, code: str, compartment: str) -> None:
    assert done(text, "compartment", "side") == [(code, compartment, "left")]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("ACL reconstruction, right knee.", "acl-reconstruction"),
        ("Right knee PCL reconstruction.", "pcl-reconstruction"),
        ("Microfracture of the medial femoral condyle was done in the knee.", "microfracture"),
        ("Right knee. Chondroplasty of the patella was performed.", "chondroplasty"),
        ("Right knee synovectomy.", "synovectomy"),
    ],
)
def test_named(text: str, code: str) -> None:
    assert (code,) in done(text)


@pytest.mark.parametrize(("said", "extent"), [("Segmental", "segmental"), ("Whole", "whole")])
def test_extent_of_a_transplant(said: str, extent: str) -> None:
    text = f"{said} lateral meniscal allograft transplantation."
    assert done(text, "extent") == [("meniscus-transplant", extent)]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "Right knee. A tear of the lateral meniscus was found. Three all-inside stitches were placed.",
            ("meniscus-repair", "lateral", "right"),
        ),
        (
            "Left knee. The torn medial meniscus was resected back to a stable edge.",
            ("partial-meniscectomy", "medial", "left"),
        ),
        ("Right knee. A loose body was removed.", ("loose-body-removal", None, "right")),
    ],
)
def test_told_by_its_steps(text: str, expected: tuple[str, str | None, str]) -> None:
    assert done(text, "compartment", "side") == [expected]


def test_a_compartment_in_the_sentence_before() -> None:
    text = "We work on the lateral meniscus of the right knee. The repair was done with two all-inside stitches."
    assert done(text, "compartment") == [("meniscus-repair", "lateral")]


def test_a_portal_is_no_compartment() -> None:
    text = "Right knee. Through a medial portal the lateral meniscus repair was done."
    assert done(text, "compartment") == [("meniscus-repair", "lateral")]


def test_two_procedures_keep_their_own_compartments() -> None:
    text = "Right knee. Medial meniscus repair. Partial lateral meniscectomy."
    assert done(text, "compartment") == [("meniscus-repair", "medial"), ("partial-meniscectomy", "lateral")]


def test_stitches_in_the_other_compartment_are_kept_beside() -> None:
    """The checks make a compartment-conflict of it (contract, section 7)."""
    text = "Left knee. Medial meniscus repair was done. Three all-inside stitches were placed in the lateral meniscus."
    (procedure,) = facts(text, "procedures")
    assert procedure["compartment"] == "medial"
    assert {other["value"] for other in procedure["compartment_others"]} == {"lateral"}


def test_repairs_of_both_menisci_are_no_conflict() -> None:
    text = (
        "Left knee. Medial meniscus repair. Lateral meniscus repair, three all-inside stitches in the lateral meniscus."
    )
    assert not [p for p in facts(text, "procedures") if p.get("compartment_others")]


@pytest.mark.parametrize(
    ("text", "status"),
    [
        ("Left knee. Status post partial lateral meniscectomy.", "prior"),
        ("Left knee. She had a partial lateral meniscectomy three years ago.", "prior"),
        ("Left knee. A partial meniscectomy is planned.", "planned"),
    ],
)
def test_prior_and_planned(text: str, status: str) -> None:
    assert [f["status"] for f in facts(text, "procedures")] == [status]


def test_two_operations_of_one_earlier_time_are_both_prior() -> None:
    text = "Left knee. She is a year after an ACL reconstruction and a lateral meniscus repair. The plica was excised."
    found = [(f["code"], f["status"]) for f in facts(text, "procedures")]
    assert sorted(found) == [
        ("acl-reconstruction", "prior"), ("meniscus-repair", "prior"), ("synovectomy", "performed"),
    ]  # fmt: skip


def test_a_prior_procedure_has_not_the_operated_side() -> None:
    (prior,) = facts("Left knee. Status post partial lateral meniscectomy.", "procedures")
    assert "side" not in prior


@pytest.mark.parametrize(
    "text",
    [
        "Right knee. A meniscus repair was not done.",
        "Right knee. No meniscus repair was needed.",
        "Right knee. If the meniscus had torn further a meniscus repair could be done.",
        "Right knee. I usually add a microfracture to a meniscus repair.",
    ],
)
def test_what_was_not_done_is_no_procedure(text: str) -> None:
    assert not done(text)


def test_named_twice_is_one_procedure_with_more_evidence() -> None:
    (procedure,) = drafts("Left medial meniscus repair. The medial meniscus repair went well.", "procedures")
    assert len(procedure.spans) == 2


LISTED = """PROCEDURES PERFORMED:
1. Left knee medial femoral chondroplasty.
2. Chondroplasty of the trochlea.
3. Partial lateral meniscectomy.

DESCRIPTION OF PROCEDURE: The knee was prepped. A loose body was removed. """


def test_work_on_the_kneecap_is_not_that_in_a_compartment() -> None:
    assert [d for d in done(LISTED, "compartment") if d[0] == "chondroplasty"] == [
        ("chondroplasty", "medial"),
        ("chondroplasty", None),
    ]


def test_a_numbered_list_of_procedures_is_whole() -> None:
    assert {code for (code,) in done(LISTED)} == {"chondroplasty", "partial-meniscectomy"}
    alone = LISTED.replace("2. Chondroplasty of the trochlea.\n3. Partial lateral meniscectomy.\n", "")
    assert {code for (code,) in done(alone)} == {"chondroplasty", "loose-body-removal"}


def test_a_compartment_said_once_and_told_of_nowhere_else_is_a_slip() -> None:
    text = (
        "Left knee, arthroscopic partial medial meniscectomy. Two portals. There was a flap tear of the medial "
        "meniscus. It was taken down with the shaver. This completed the partial lateral meniscectomy."
    )
    (found,) = drafts(text, "procedures")
    assert found.fields["compartment"] == "medial"
    assert [o["value"] for o in found.fields["compartment_others"]] == ["lateral"]  # type: ignore[attr-defined]


def test_two_menisci_worked_on_are_two_procedures() -> None:
    text = (
        "Left knee. Portals. Flap tear of the medial meniscus, partial medial meniscectomy. The lateral meniscus was "
        "frayed, partial lateral meniscectomy."
    )
    assert done(text, "compartment") == [("partial-meniscectomy", "lateral"), ("partial-meniscectomy", "medial")]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("Right knee PCL. Achilles graft passed, fixed on the femur with a screw.", "pcl-reconstruction"),
        ("Right knee. The ACL is torn. Quad tendon graft passed, button flipped on the femur.", "acl-reconstruction"),
        ("Right knee, medial condyle. The donor condyle was cored, the plug pressed in.", "osteochondral-allograft"),
        ("Right knee. Two plugs were cored from the trochlea and pressed in.", "osteochondral-autograft"),
        ("Right knee, varus. The osteotomy was opened to a correction of nine degrees.", "high-tibial-osteotomy"),
        ("Right knee. Patella grade two, regularization with the shaver.", "chondroplasty"),
    ],
)
def test_told_by_what_was_done(text: str, code: str) -> None:
    assert [c for (c,) in done(text)] == [code]


@pytest.mark.parametrize(
    "text",
    [
        "Right knee. We changed course from a root repair to a partial meniscectomy of the medial meniscus.",
        "Right knee. What began as a root repair ended as a partial meniscectomy of the medial meniscus.",
    ],
)
def test_what_was_meant_first_is_only_planned(text: str) -> None:
    status = {p["code"]: p["status"] for p in facts(text, "procedures")}
    assert status == {"root-repair": "planned", "partial-meniscectomy": "performed"}
