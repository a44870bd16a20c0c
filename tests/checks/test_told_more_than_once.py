"""Two values of one name: a conflict where they are of one thing, none where words tell things or moments apart.

That surgeons talk so is common practice, no source; the sentences are the project's own.
"""

from __future__ import annotations

import pytest

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.record.models import CaseRecord
from extractor.speech.transcript import Transcript


def read(text: str) -> CaseRecord:
    return extract(Transcript(text=text), load_grammar())


def raised(text: str) -> set[str]:
    return {flag.check for flag in read(text).flags}


@pytest.mark.parametrize(
    "text",
    [
        "ACL, right knee. Femoral tunnel drilled to eight millimeters. In. The femoral tunnel was nine millimeters.",
        "Left knee ACL. The tibial guide stood at 50 degrees. Pin in. In the end the tibial guide was at 60 degrees.",
        "Left knee meniscus repair. Tourniquet at 250 mmHg. Repair done. The tourniquet had been at 300 mmHg.",
    ],
)
def test_one_thing_told_twice_is_a_conflict(text: str) -> None:
    assert "value-conflict" in raised(text)


@pytest.mark.parametrize(
    "text",
    [
        "Left knee ACL. Tibial tunnel reamed to seven millimeters, then eight millimeters, then nine millimeters.",
        "Right knee. PCL first. Tibial tunnel eleven millimeters. Then the ACL. Tibial tunnel nine millimeters.",
        "Right knee ACL. Femoral tunnel nine millimeters. Through and through four and a half millimeters.",
        "Left knee root repair. Guide at 50 degrees for the first, and at 60 degrees for the second tunnel.",
        "Left knee meniscus repair. Tourniquet time one, 70 minutes. Tourniquet time two, 25 minutes.",
        "Right knee scope. Cuff up at 280 for 50 minutes, down, then up again for 20 minutes. Meniscus trimmed.",
        "Right knee, both menisci torn. The medial tear was 22 millimeters, the lateral 9.",
    ],
)
def test_two_things_or_moments_are_none(text: str) -> None:
    assert "value-conflict" not in raised(text)


def test_what_grew_step_by_step_ends_at_the_last_size() -> None:
    record = read("Left knee ACL. Tibial tunnel reamed to seven millimeters, then eight millimeters, then nine.")
    (tunnel,) = (m for m in record.measurements if m.what == "tunnel.diameter")
    assert (tunnel.value, tunnel.earlier_values) == (9, (7, 8))


def test_sizes_of_both_compartments_are_read_and_sited() -> None:
    record = read("Right knee, meniscal tears both sides, medial 18 millimeters, lateral 7, both sutured.")
    assert {(m.site, m.value, m.unit) for m in record.measurements} == {("medial", 18, "mm"), ("lateral", 7, "mm")}


@pytest.mark.parametrize(
    ("text", "side", "conflict"),
    [
        (
            "Both knees scoped today. On the right the medial meniscus was trimmed. The left knee was clean.",
            "bilateral",
            0,
        ),
        ("Bilateral knee arthroscopy. Right knee, meniscus trimmed. Left knee, plica only.", "bilateral", 0),
        ("Left knee meniscectomy. Both knees were examined. Right knee scope introduced, meniscus trimmed.", "left", 1),
        ("Bilateral knee arthritis. Right knee arthroscopy, meniscus trimmed.", "right", 0),
    ],
)
def test_both_knees(text: str, side: str, conflict: int) -> None:
    record = read(text)
    assert record.laterality is not None
    assert (record.laterality.value, int("side-conflict" in raised(text))) == (side, conflict)
