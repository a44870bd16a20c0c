"""The operated side: every mention that can only mean it, and no other 'left' or 'right' (contract, section 8)."""

from __future__ import annotations

import pytest

from .reading import drafts, side_of


@pytest.mark.parametrize(
    ("text", "side"),
    [
        ("Left knee arthroscopy, meniscus repair.", "left"),
        ("Knee, right, meniscus repair.", "right"),
        ("Right medial meniscus repair was done.", "right"),
        ("Left lower extremity was prepped for the meniscus repair.", "left"),
        ("L knee. Meniscus repair.", "left"),
        ("Arthroscopy of the right knee joint.", "right"),
        ("Side, left. The meniscus is torn.", "left"),
        ("Knee arthroscopy on the right side; the right knee was marked.", "right"),
        ("We are operating on the right. The meniscus is torn.", "right"),
        # announced at the head of the note, the knee not named
        ("ACL on the left, quads tendon this time.", "left"),
        ("Right side, ACL reconstruction.", "right"),
        ("This is her left. The medial meniscus is torn.", "left"),
        ("ACL reconstruction, right.", "right"),
        ("A knee like a bag of marbles, the right one, and the meniscus is torn.", "right"),
        # a diagnosis, and no complaint
        ("Right knee ACL injury since a fall, the meniscus is intact.", "right"),
        # a question and its answer
        ("Which knee? Right. The meniscus is torn.", "right"),
        # with the trap beside it
        ("All right, this is the left knee, the meniscus is torn.", "left"),
        ("Left knee. We are left with a meniscal rim of two millimeters.", "left"),
        ("This is a revision ACL on the right, no, hang on, left. It's the left knee.", "left"),
        ("An ACL on the, uh, right, no, left. It's the left knee.", "left"),
    ],
)
def test_the_operated_side(text: str, side: str) -> None:
    assert side_of(text) == [side]


@pytest.mark.parametrize(
    "text",
    [
        # plain English
        "We are left with a meniscal rim of two millimeters.",
        "Two millimeters of meniscus were left.",
        "The meniscus is all right.",
        "Right, the meniscus next.",
        "Right away the knee was flexed and the meniscus seen.",
        "The meniscus was pulled to the right place.",
        "At a right angle to the meniscus a needle was passed.",
        "ACL torn, right, hamstrings next. The meniscus is fine.",
        "The right side of the meniscus is torn.",
        # announced both ways
        "Left side today. It is the right one. The meniscus is torn.",
        # the surgeon's own place
        "Arthroscopy. I stood on the left, my resident on the right of the table. The meniscus is torn.",
        "The meniscal flap was left alone.",
        # a side of something else than the knee
        "The right side of the meniscus was probed.",
        "The left arm was padded. The meniscus was torn.",
        # the complaint does not tell the operated side
        "He complains of left knee pain. The meniscus was torn.",
        # another time
        "Her right knee was operated on last spring. The meniscus was torn.",
        # the other knee
        "The right knee is uninvolved. The meniscus was torn.",
        "The opposite left knee is healthy. The meniscus was torn.",
    ],
)
def test_no_operated_side(text: str) -> None:
    assert side_of(text) == []


@pytest.mark.parametrize(
    "text",
    [
        "Her right knee was done last spring; today the left knee has a meniscus tear.",
        "The right knee is uninvolved. Left knee prepped, the meniscus is torn.",
        "The contralateral right knee was padded. The left knee was scoped, the meniscus repaired.",
        "He had pain of the right knee for years. Today it is the left knee, meniscus repair.",
    ],
)
def test_the_other_knee_is_passed_over(text: str) -> None:
    assert side_of(text) == ["left"]


def test_both_sides_said_are_both_kept() -> None:
    """The checks make a side-conflict of it (contract, section 7)."""
    assert side_of("Left knee arthroscopy. The right knee was prepped, the meniscus of the right knee repaired.") == [
        "left",
        "right",
    ]


def test_both_knees_meant_are_bilateral() -> None:
    assert side_of("Bilateral knees were prepped for meniscus repair.") == ["bilateral"]


def test_each_mention_is_evidence() -> None:
    text = "Left knee. The left knee was prepped. Left medial meniscus repair."
    found = drafts(text, "laterality")
    assert [text[d.spans[0].start : d.spans[0].end] for d in found] == [
        "Left knee",
        "left knee",
        "Left medial meniscus",
    ]
