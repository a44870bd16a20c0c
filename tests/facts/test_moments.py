"""A motion measured before and after: each number keeps its own moment."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("It bent to 110 degrees before and to 130 degrees after the release.", {("before", 110), ("after", 130)}),
        ("She went from 5 to 115 before to a full 0 to 135 afterwards.", {("before", 115), ("after", 135)}),
        ("Preoperative motion 10 to 110 degrees; final motion 0 to 130 degrees.", {("before", 110), ("after", 130)}),
        ("Range of motion before: 0 to 120. After: 0 to 135.", {("before", 120), ("after", 135)}),
        ("Under anesthesia it moved 0 to 120, after the repair it moved 0 to 125.", {("before", 120), ("after", 125)}),
        ("Initial motion zero to one ten.", {("before", 110)}),
        ("Final extension zero, final flexion 130.", {("after", 130)}),
    ],
)
def test_each_number_has_the_moment_beside_it(said: str, expected: set[tuple[str, float]]) -> None:
    record = extract(Transcript(text=f"Right knee arthroscopy, medial meniscus repaired. {said}"), load_grammar())
    assert {(m.when, m.value) for m in record.measurements if m.what == "knee.flexion"} == expected
    assert not [flag for flag in record.flags if flag.check == "value-conflict"]
