"""Ways of stitching that a note names in one place and refuses in another. Worded for these tests."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript

KNEE = "Left knee, medial meniscus repair. Four inside-out sutures in the body of the medial meniscus. "


def done(text: str, grammar: Grammar) -> set[str]:
    return {s.code for s in extract(Transcript(text=KNEE + text), grammar).steps if s.status == "performed"}


@pytest.mark.parametrize(
    "text",
    [
        "Somebody had chalked outside-in on the board. It did not need an outside-in.",
        "The drawing in the chart is of an outside-in stitch. We did not do any outside-in.",
        "The front is outside-in country. No outside-in here.",
        "The tray for the front was the outside-in one. Outside-in was not needed.",
        "The next size of tear is an outside-in tear. We did not go outside-in.",
    ],
)
def test_a_way_of_stitching_named_and_refused_was_not_done(text: str, grammar: Grammar) -> None:
    assert "outside-in-stitch" not in done(text, grammar)


@pytest.mark.parametrize(
    "text",
    [
        "Outside-in, two sutures, for the anterior horn. No further outside-in was needed.",
        "The anterior horn was closed outside-in. In the body no outside-in was needed.",
        "Anterior horn outside-in. Posterior horn, no outside-in.",
        "Two PDS sutures, outside-in, in front. The body needed no outside-in.",
    ],
)
def test_a_way_of_stitching_told_in_its_place_was_done(text: str, grammar: Grammar) -> None:
    assert "outside-in-stitch" in done(text, grammar)
