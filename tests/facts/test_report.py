"""The report around the operation: elements, graft identifiers, and the plan after it (contract, sections 1 and 6)."""

from __future__ import annotations

import pytest

from .reading import amount, facts


def elements(text: str) -> dict[str, str]:
    return {f["name"]: f["text"].strip(" .\n") for f in facts(text, "elements")}


TYPED = """SURGEON: A. Example
ANESTHESIA: General
PREOPERATIVE DIAGNOSIS: Medial meniscus tear, left knee.
POSTOPERATIVE DIAGNOSIS: Same.
COMPLICATIONS: None.
SPECIMENS: None.
DISPOSITION: To recovery in stable condition.
"""


def test_typed_headings() -> None:
    assert elements(TYPED) == {
        "surgeon": "A. Example",
        "anesthesia": "General",
        "preoperative_diagnosis": "Medial meniscus tear, left knee",
        "postoperative_diagnosis": "Same",
        "complications": "None",
        "specimens": "None",
        "disposition": "To recovery in stable condition",
    }


def test_spoken_headings() -> None:
    text = (
        "Anesthesia colon general new line complications colon none new line specimens colon none new line "
        "procedure colon meniscus repair of the left knee"
    )
    read = elements(text)
    assert {"anesthesia", "complications", "specimens", "procedure"} <= set(read)
    assert read["procedure"] == "meniscus repair of the left knee"
    assert read["anesthesia"].startswith("general")


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("The knee surgery was done under spinal anesthesia.", "anesthesia"),
        ("Knee done. There were no complications.", "complications"),
    ],
)
def test_told_in_a_sentence(text: str, name: str) -> None:
    assert name in elements(text)


def test_a_heading_said_to_be_one_needs_no_others() -> None:
    text = "Heading, surgeon. Myself. Left knee arthroscopy. Heading, blood loss. Ten milliliters. Meniscus intact."
    assert elements(text) == {"surgeon": "Myself", "blood_loss": "Ten milliliters"}


def test_a_heading_goes_before_a_sentence() -> None:
    text = "Anesthesia: spinal.\nThe knee was done. Under general anesthesia nothing was done."
    assert elements(text)["anesthesia"] == "spinal"


def test_a_numbered_list_stays_under_its_heading() -> None:
    text = "PROCEDURES:\n1. Medial meniscus repair.\n2. Chondroplasty of the patella.\n\nThe left knee was prepped."
    procedure = elements(text)["procedure"]
    assert "Medial meniscus repair" in procedure and "Chondroplasty" in procedure
    assert "prepped" not in procedure


def test_the_same_word_inside_a_sentence_is_no_heading() -> None:
    assert "findings" not in elements("The knee was done and the findings were discussed.")


@pytest.mark.parametrize(
    "text",
    [
        "Meniscus allograft, tissue ID AB-1234-C, was thawed.",
        "The meniscus allograft has the tissue identification number AB-1234-C.",
    ],
)
def test_a_graft_with_its_identifier(text: str) -> None:
    (graft,) = facts(text, "grafts")
    assert (graft["source"], graft["identifier"]) == ("allograft", "AB-1234-C")


def test_a_graft_without_an_identifier() -> None:
    """The checks make a graft-identifier-missing of it (contract, section 7)."""
    (graft,) = facts("A meniscus allograft was thawed.", "grafts")
    assert graft["source"] == "allograft" and "identifier" not in graft


def test_a_graft_of_another_time_is_none() -> None:
    assert not facts("The knee had an allograft three years ago.", "grafts")


@pytest.mark.parametrize(
    ("text", "item", "value"),
    [
        ("Knee. Weight bearing as tolerated.", "weight-bearing", "as-tolerated"),
        ("Meniscus repair done. Toe touch weight bearing.", "weight-bearing", "toe-touch"),
        ("Meniscus repair done. She is non weight bearing.", "weight-bearing", "non"),
        ("Meniscus repair done. Non weight bearing for six weeks.", "weight-bearing-duration", 6),
        ("Knee brace zero to ninety degrees.", "brace-range", (0, 90)),
        ("Knee. No flexion past ninety degrees.", "flexion-limit", 90),
        ("Knee done. Follow up in two weeks.", "follow-up", 2),
        ("Knee done. Physical therapy starts at one week.", "therapy-start", 1),
    ],
)
def test_plan(text: str, item: str, value: object) -> None:
    plan = {f["item"]: amount(f) for f in facts(text, "plan")}
    assert plan.get(item) == value
    assert not facts(text, "measurements")


def test_a_habit_is_no_plan() -> None:
    assert not facts("I usually keep a knee non weight bearing for six weeks.", "plan")
