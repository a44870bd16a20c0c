"""A pause written as a full stop changes nothing where the next piece only goes on; a new thought stays one."""

from __future__ import annotations

import re

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
    "paused",
    [
        "The graft is marked eighteen long and nine wide. "
        "Starting twelve from its posterior root, and cut with the blade.",
        "We outlined the graft at twenty-two by ten millimeters. Begin nine from its root, and there I cut it.",
        "We resected the flap of the meniscus, I would say fifteen. Maybe twenty percent of it.",
        "How far is the tear from the capsule? Two. Perhaps three millimeters.",
        "Count the marks along the gap with me. Five, ten. "
        "Fifteen, and two more, so the defect is seventeen millimeters long.",
        "Exam under anesthesia, extension minus three degrees. Flexion one hundred forty.",
        "The defect is twenty millimeters long. From the posterior root to the gap. Eight and a half.",
        "Five inside-out sutures in the body. Two-oh braided, and I tied them over the capsule.",
        "One traction suture. Number two, was placed at the posterior horn of the graft.",
        "Inside-out stitches, vertical mattress. Four on the upper surface, two on the lower.",
        "Bucket tear. Lateral meniscus, posterior horn, 21 mm long.",
        "Native sutures, posterior superior white, posterior inferior blue. For the anterior side. "
        "The superior one is green and the inferior one black.",
        "The tear is, I measure eleven, no. Twelve millimeters long.",
        "Twenty years ago part of the meniscus was resected elsewhere. At that time forty percent was taken away.",
        "The rim was trimmed with the shaver. Got it to two millimeters, and then the rasp.",
        "The tibial tunnel for the posterior root was drilled. Measuring six millimeters, and flushed.",
    ],
)
def test_the_words_that_open_a_piece_tell_that_it_goes_on(paused: str) -> None:
    flowing = re.sub(r"\. ([A-Z])", lambda stop: f", {stop[1].lower()}", paused)
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
        "The rim was trimmed. Was the tourniquet up?",
        "The defect is 18 millimeters. Starting with the graft now, I mark 17.",
        "The graft was passed. Running after three months.",
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
