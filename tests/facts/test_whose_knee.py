"""Sizes of the knee not operated on, where its side is named, and those of this knee. Worded for these tests."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript


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
