"""Sizes that somebody who is not operating told, booked, wished or feared: none of them is this case's.

Who tells such things, and how, is common practice, no source.
"""

from __future__ import annotations

import itertools

import pytest

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript

SIZES = [
    ("a tunnel of nine millimeters", "tunnel.diameter", "Right knee, ACL reconstruction. The old stump was debrided."),
    ("a tear of twenty millimeters", "tear.length", "Right knee, medial meniscus repair. The tear was rasped."),
    (
        "a rim of three millimeters",
        "rim.width",
        "Right knee, segmental medial meniscus transplant. The knee was scoped.",
    ),
    ("ten degrees of hyperextension", "knee.hyperextension", "Right knee, ACL reconstruction. The stump was debrided."),
]
TELLERS = ("The scheduler", "His lawyer", "The radiologist", "Her coach", "The intake form", "They", "My landlord")
VERBS = (
    "had typed in",
    "claimed",
    "promised her",
    "came up with",
    "was sure of",
    "had put down",
    "predicted",
    "went on about",
)
OURS = ("I warned her of", "We had prepared him for", "I had feared", "We were prepared for")
BEHIND = ("was what I had feared", "had been promised", "is what her coach predicts", "was booked")
HERE = (
    "We found",
    "The probe measured",
    "I expected less and got",
    "Her coach was right, we have",
    "The assistant held the probe and I measured",
    "There is",
)


def _said(size: str, what: str, lead: str, sentence: str) -> bool:
    record = extract(Transcript(text=f"{lead} {sentence} The wounds were closed."), load_grammar())
    return any(m.what == what and m.role != "reference" for m in record.measurements)


@pytest.mark.parametrize("size, what, lead", SIZES, ids=[what for _, what, _ in SIZES])
def test_what_others_tell_is_not_measured(size: str, what: str, lead: str) -> None:
    told = [f"{who} {verb} {size}." for who, verb in itertools.product(TELLERS, VERBS)]
    told += [f"{opening} {size}." for opening in OURS]
    told += [f"{size[0].upper()}{size[1:]} {ending}." for ending in BEHIND]
    assert [sentence for sentence in told if _said(size, what, lead, sentence)] == []


@pytest.mark.parametrize("size, what, lead", SIZES, ids=[what for _, what, _ in SIZES])
def test_what_is_measured_here_is(size: str, what: str, lead: str) -> None:
    assert [opening for opening in HERE if not _said(size, what, lead, f"{opening} {size}.")] == []


def test_the_people_in_the_room_write_down_times_and_amounts() -> None:
    text = (
        "Right knee, medial meniscus repair. The nurse estimated a blood loss of twenty milliliters and noted "
        "a tourniquet time of sixty minutes. The wounds were closed."
    )
    found = {m.what: m.value for m in extract(Transcript(text=text), load_grammar()).measurements}
    assert found["blood_loss.volume"] == 20 and found["tourniquet.time"] == 60
