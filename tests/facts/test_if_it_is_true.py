"""What is said to be so 'if the probe is honest' is so; what hangs on an 'if' of what may come is not. Own wording."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript


def told(text: str, grammar: Grammar) -> set[tuple[str, float | None]]:
    record = extract(Transcript(text=f"Left knee. {text}"), grammar)
    return {(m.what, m.value) for m in record.measurements if m.role not in ("reference", "target")}


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("Six all-inside stitches, five millimeters apart if my eyes are to be trusted.", ("stitch.spacing", 5)),
        ("The rim was trimmed to two millimeters, if you need the number.", ("rim.width", 2)),
        ("The defect is twenty millimeters long if the probe is honest.", ("defect.ap_length", 20)),
        ("The defect is twenty millimeters long if you believe the ruler.", ("defect.ap_length", 20)),
        ("The defect is twenty millimeters long, if anything a touch more.", ("defect.ap_length", 20)),
        ("Tourniquet fifty minutes, if the clock on the wall is right.", ("tourniquet.time", 50)),
        ("The tear is eighteen millimeters, if I may say so.", ("tear.length", 18)),
    ],
)
def test_an_if_that_only_vouches_takes_nothing_back(text: str, size: tuple[str, float], grammar: Grammar) -> None:
    assert size in told(text, grammar)


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("If the tear is eighteen millimeters we repair it.", ("tear.length", 18)),
        ("The rim would be two millimeters if we trimmed it.", ("rim.width", 2)),
        ("Trim to two millimeters if it frays.", ("rim.width", 2)),
    ],
)
def test_an_if_of_what_may_come_tells_no_size(text: str, size: tuple[str, float], grammar: Grammar) -> None:
    assert size not in told(text, grammar)
