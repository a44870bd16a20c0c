"""Notes without any punctuation: where thoughts part, by what surrounds them. Sentences are worded for these tests."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import load_grammar
from extractor.language.annotate import annotate
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript

OPENING = "left knee spinal anesthesia time out was done he was prepped and draped two portals were made"
CLOSING = "the knee was washed out the portals were closed with nylon dressing on and he went out in good shape"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("the medial meniscus is intact", "on the lateral side there is a radial tear"),
        ("the tourniquet was let down", "now we look at the lateral side again"),
        ("the cannula is ten millimeters", "two stitches were passed in the graft"),
        ("we left the rim alone", "next the graft was thawed on the back table"),
        ("a microfracture was not done", "tourniquet time was fifty two minutes"),
        ("the knee was stable to ninety degrees", "okay tourniquet down at fifty minutes"),
    ],
)
def test_thought_opens(before: str, after: str) -> None:
    note = annotate(f"{OPENING} {before} {after} {CLOSING}", load_grammar())
    opens = len(OPENING.split()) + len(before.split())
    at = next(i for i, start in enumerate(note.tokens.starts) if start == _start(note.tokens.text, opens))
    assert note.segments.level[at]


def _start(text: str, word: int) -> int:
    return len(" ".join(text.split()[:word])) + 1


@pytest.mark.parametrize(
    "whole",
    [
        "the distance from the root to the edge of the defect is seven millimeters",
        "the white tape in the posterior position was tied to the blue one",
        "we did not need a second stitch in the body of the meniscus",
    ],
)
def test_thought_is_whole(whole: str) -> None:
    note = annotate(f"{OPENING} {whole} {CLOSING}", load_grammar())
    first = len(OPENING.split()) + 1
    starts = {_start(note.tokens.text, k) for k in range(first, first + len(whole.split()) - 1)}
    inside = [i for i, start in enumerate(note.tokens.starts) if start in starts]
    assert all(note.segments.level[i] < 3 for i in inside)


def test_habit_and_denial_end_with_their_thought() -> None:
    said = (
        "usually I leave more of the rim here I left two millimeters a microfracture was not needed the rim was rasped"
    )
    record = extract(Transcript(text=f"{OPENING} lateral meniscus transplant {said} {CLOSING}"), load_grammar())
    assert [m.value for m in record.measurements if m.what == "rim.width"] == [2]
    assert "rim-abrasion" in {s.code for s in record.steps if s.status == "performed"}


def test_punctuated_note_is_not_weighed(monkeypatch: pytest.MonkeyPatch) -> None:
    def never() -> dict[str, int]:
        raise AssertionError

    monkeypatch.setattr("extractor.language.unpunctuated._weights", never)
    annotate(f"{OPENING.replace(' he', '. He')}. {CLOSING.replace(' the', ', the')}.", load_grammar())


@pytest.mark.parametrize("every", [4, 5, 6])
def test_full_stops_anywhere_part_nothing(every: int) -> None:
    said = (
        "the defect along the rim measured twenty two millimeters a microfracture was not done now the rim was rasped"
    )
    done = "next the graft was cut to twenty one millimeters"
    words = f"{OPENING} lateral meniscus transplant {said} {done} {CLOSING}".split()
    pieces = [" ".join(words[i : i + every]).capitalize() for i in range(0, len(words), every)]
    bare, stopped = (
        extract(Transcript(text=text), load_grammar()) for text in (" ".join(words), ". ".join(pieces) + ".")
    )
    assert [(m.what, m.value) for m in stopped.measurements] == [(m.what, m.value) for m in bare.measurements]
    assert [(s.code, s.status) for s in stopped.steps] == [(s.code, s.status) for s in bare.steps]
    assert ("defect.ap_length", 22) in {(m.what, m.value) for m in stopped.measurements}
