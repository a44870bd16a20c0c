"""Sizes of the knee not operated on, where its side is named, and those of this knee. Worded for these tests."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript

KNEE = "Left ACL. Motion from zero to one thirty"


def sizes(text: str, grammar: Grammar) -> set[tuple[str, float | None]]:
    record = extract(Transcript(text=text), grammar)
    return {(m.what, m.value) for m in record.measurements if m.role != "reference"}


@pytest.mark.parametrize(
    ("text", "theirs"),
    [
        ("Left ACL. I did her right side three years ago, femoral tunnel drilled to eight.", ("tunnel.diameter", 8)),
        (
            "Left ACL. Her right knee was done elsewhere, the tunnels were drilled to eight millimeters there.",
            ("tunnel.diameter", 8),
        ),
        ("Left ACL. The right was done in spring, that femoral tunnel was drilled to eight.", ("tunnel.diameter", 8)),
        (
            "Left ACL. Two years back the right knee had the same, with a femoral tunnel drilled to eight millimeters.",
            ("tunnel.diameter", 8),
        ),
        ("Left ACL. Contralateral ACL in twenty nineteen, femur drilled to eight.", ("tunnel.diameter", 8)),
        (
            "Left ACL. Same operation as on the right in March, where the femoral tunnel was drilled to eight.",
            ("tunnel.diameter", 8),
        ),
        (
            "Left ACL. Motion zero to one thirty, hyperextension contralateral three degrees.",
            ("knee.hyperextension", 3),
        ),
        (
            "Left ACL. Zero to one thirty on the left, the right goes to three of hyperextension.",
            ("knee.hyperextension", 3),
        ),
        ("Left ACL. Range zero to one thirty with the right at hyperextension three.", ("knee.hyperextension", 3)),
        (
            "Left ACL. Normal for her is three degrees of hyperextension, as the right shows.",
            ("knee.hyperextension", 3),
        ),
        ("Left ACL. Zero to one thirty, while the good knee hyperextends three degrees.", ("knee.hyperextension", 3)),
        ("Left ACL. Her right one still goes into hyperextension, three degrees.", ("knee.hyperextension", 3)),
        (
            "Left meniscectomy. Thirty percent was resected. On her right I had to take sixty percent.",
            ("resection.percent", 60),
        ),
        (
            "Left knee. The right knee, which I had scoped in May and where the loose body was fifteen millimeters.",
            ("loose_body.size", 15),
        ),
    ],
)
def test_a_size_of_the_other_knee_is_none_of_this(text: str, theirs: tuple[str, float], grammar: Grammar) -> None:
    assert theirs not in sizes(text, grammar)


@pytest.mark.parametrize(
    ("text", "ours"),
    [
        ("Right knee. The left leg hangs free, and the rim was trimmed to two millimeters.", ("rim.width", 2)),
        ("Right knee. The left leg is in a holder, the tear was sixteen millimeters long.", ("tear.length", 16)),
        (
            "Left knee. I looked for the right length and settled on nineteen millimeters for the graft.",
            ("graft.ap_length", 19),
        ),
        ("Left knee. Right, so the defect is twenty millimeters long.", ("defect.ap_length", 20)),
        (
            "Left knee. White came out on the right, and the defect is twenty millimeters long.",
            ("defect.ap_length", 20),
        ),
        ("Right knee. We were left with a rim of two millimeters.", ("rim.width", 2)),
        ("Left knee. Exam compared with the right, range of motion zero to one forty.", ("knee.flexion", 140)),
        ("Left knee repair, the right one being fine. The tear was sixteen millimeters long.", ("tear.length", 16)),
        ("Left knee. Hyperextension three degrees on both sides.", ("knee.hyperextension", 3)),
        (
            "left knee his right knee never bothered him so the rim was trimmed to two millimeters",
            ("rim.width", 2),
        ),
    ],
)
def test_a_size_of_this_knee_stays(text: str, ours: tuple[str, float], grammar: Grammar) -> None:
    assert ours in sizes(text, grammar)


@pytest.mark.parametrize(
    "text",
    [
        "Left ACL. The tibial tunnel was drilled in steps to seven, eight, nine to ten millimeters.",
        "Left ACL. Tibial tunnel drilled over the pin, from nine up to ten millimeters.",
        "Left ACL. The tibial tunnel was drilled in two passes, nine, ten millimeters.",
        "Left ACL. I drilled the tibial tunnel, eight, nine and ten millimeters.",
        "Left ACL. The tibial tunnel was drilled sequentially to eight and ten millimeters.",
    ],
)
def test_of_a_tunnel_widened_in_steps_the_last_size_holds(text: str, grammar: Grammar) -> None:
    assert {value for what, value in sizes(text, grammar) if what == "tunnel.diameter"} == {10}


@pytest.mark.parametrize(
    "text",
    [
        KNEE + ", while the normal side hyperextends three degrees.",
        KNEE + ", and the other hyperextends three degrees.",
        KNEE + ". The opposite knee, for comparison, hyperextends three degrees.",
        KNEE + ". Contralaterally she hyperextends three degrees.",
        KNEE + " where the right hyperextends three degrees.",
        KNEE + ", the right by the way hyperextends three degrees.",
        KNEE + ", compared with a right that hyperextends three degrees.",
        KNEE + ". On the right she hyperextends three degrees.",
    ],
)
def test_the_other_knee_moves_as_it_does(text: str, grammar: Grammar) -> None:
    assert ("knee.hyperextension", 3) not in sizes(text, grammar)


@pytest.mark.parametrize(
    "text",
    [
        "Left ACL. Compared with the right it hyperextends three degrees.",
        "Left ACL. Unlike the right, which is stiff, it hyperextends three degrees.",
        "Left ACL. She hyperextends three degrees and flexes to one thirty.",
    ],
)
def test_a_knee_set_beside_is_not_the_one_told_of(text: str, grammar: Grammar) -> None:
    assert ("knee.hyperextension", 3) in sizes(text, grammar)


@pytest.mark.parametrize(
    "theirs",
    [
        "The one I did before midnight was a right knee with a ten millimeter graft.",
        "The one this morning was a right with a ten millimeter graft.",
        "The one this morning was a left too, with a ten millimeter graft.",
        "The last case was a left knee, and its graft was ten millimeters.",
        "The next one is a right knee with a graft of ten millimeters.",
    ],
)
def test_a_knee_of_somebody_else_on_the_list(theirs: str, grammar: Grammar) -> None:
    record = extract(Transcript(text=f"Left ACL. {theirs} The graft measured eight millimeters in diameter."), grammar)
    assert record.laterality is not None and record.laterality.value == "left"
    assert {m.value for m in record.measurements if m.role != "reference"} == {8}
    assert "side-conflict" not in {flag.check for flag in record.flags}


def test_a_side_announced_first_holds_beside_one_named_later(grammar: Grammar) -> None:
    text = "Okay, knee arthroscopy, left side. The right knee stays as it is."
    record = extract(Transcript(text=text), grammar)
    assert record.laterality is not None and record.laterality.value == "left"
