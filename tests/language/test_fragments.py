"""A pause written as a full stop changes nothing where the next piece only goes on; a new thought stays one."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import load_grammar
from extractor.language.annotate import annotate
from extractor.pipeline import extract
from extractor.record.models import CaseRecord
from extractor.speech.transcript import Transcript


def read(text: str) -> CaseRecord:
    return extract(Transcript(text=f"Left knee, lateral meniscus. {text}"), load_grammar())


def primary(text: str) -> list[tuple[object, ...]]:
    """Measurements, sutures and ties of a note, without their places in it."""
    record = read(text)
    sizes = [(m.what, m.site, m.value, m.low, m.high) for m in record.measurements]
    sutures = [(s.tissue, s.region, s.surface, s.color, s.count, s.configuration) for s in record.sutures]
    return sorted([*sizes, *sutures, *(tie.between for tie in record.ties)], key=repr)


@pytest.mark.parametrize(
    ("paused", "flowing"),
    [
        ("I cut the slot. Eight millimeters wide. Ten deep.", "I cut the slot, eight millimeters wide, ten deep."),
        ("Bridge of the graft shaped. Width 7 mm. Depth 9 mm.", "Bridge of the graft shaped, width 7 mm, depth 9 mm."),
        ("The rim was prepared with the shaver. It's 2 millimeters.", "The rim was prepared, it's 2 millimeters."),
        ("Native sutures. White posterior. Superior surface.", "Native sutures. White posterior, superior surface."),
        ("The defect is 15 millimeters long. Sorry, 16.", "The defect is 15 millimeters long, sorry, 16."),
        ("The guide is at sixty. No wait, fifty-five degrees.", "The guide is at sixty, no wait, fifty-five degrees."),
        ("The slot is 2 centimeters long. 9 millimeters wide.", "The slot is 2 centimeters long, 9 millimeters wide."),
        ("Blood loss. Forty.", "Blood loss, forty."),
        ("Blood loss is next to nothing. Say fifteen cc.", "Blood loss is next to nothing, say fifteen cc."),
        (
            "Four inside-out sutures, vertical mattress. At the posterior horn, 4 millimeters apart.",
            "Four inside-out sutures, vertical mattress, at the posterior horn, 4 millimeters apart.",
        ),
        (
            "Native sutures red posterior superior, blue posterior inferior. White anterior superior, by a hook.",
            "Native sutures red posterior superior, blue posterior inferior, white anterior superior, by a hook.",
        ),
        (
            "Graft marked at 20 by 10 millimeters. And 8 from its posterior root.",
            "Graft marked at 20 by 10 millimeters, and 8 from its posterior root.",
        ),
        (
            "In the graft. Posterior superior. White. Posterior inferior. Blue.",
            "In the graft, posterior superior, white, posterior inferior, blue.",
        ),
        (
            "Five inside-out sutures in the body. Vertical mattress.",
            "Five inside-out sutures in the body, vertical mattress.",
        ),
    ],
)
def test_a_piece_that_goes_on_is_read_with_what_stands_before(paused: str, flowing: str) -> None:
    assert primary(flowing)
    assert primary(paused) == primary(flowing)


@pytest.mark.parametrize(
    "said",
    [
        "Touch weight bearing six weeks. No flexion beyond 60 degrees.",
        "The graft came through a cut of four centimeters. It's seventy millimeters long.",
        "Which knee? Right. And which side of it? Medial.",
        "Top at the back? White tape. Bottom at the back? Blue.",
        "Tourniquet 55 minutes. 30 cc blood loss.",
        "Number 3. 18 millimeters along the rim.",
        "The length is 18. Correction, the graft was cut at 19.",
        "The pin was set. 8 by 20 millimeter screw in the femur.",
    ],
)
def test_a_thought_of_its_own_stays_a_sentence(said: str) -> None:
    note = annotate(f"Knee. {said}", load_grammar())
    assert note.words.count(".") == 1 + said.count(".")


def test_no_centimeters_are_carried_over_a_pause() -> None:
    (width,) = [
        m for m in read("Length of the defect two centimeters. Width nine.").measurements if m.what.endswith("width")
    ]
    assert width.value == 9
