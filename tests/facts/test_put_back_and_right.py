"""What lay ready and went back, what was put right by a gauge, and steps told in few words.

The sentences are the project's own; that surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts, measured, steps

READY = (
    "I had {} ready and left them in the box.", "{} were ready for the body and were left in the box.",
    "I had {} standing by and never opened them.", "{} were on the table, they stayed there.",
)  # fmt: skip


@pytest.mark.parametrize("said", READY)
@pytest.mark.parametrize("tool", ["all-insides", "all-inside devices"])
def test_what_lay_ready_and_went_back(said: str, tool: str) -> None:
    said = said.format(tool)
    text = f"Left knee, segmental lateral meniscus transplant. Portals made. {said[0].upper()}{said[1:]} Skin closed."
    assert steps(text).get("all-inside-stitch") != "performed"


@pytest.mark.parametrize(
    ("said", "kept"),
    [
        ("A screw, eight by twenty-five, was prepared on the table in the case that the bone is soft. The bone was not "
         "soft, the screw goes back.", False),
        ("A screw was ready on the table in case the bone was soft. It was not, so the screw went back.", False),
        ("An eight by twenty-five screw was on the table as a spare. Bone hard, screw back to the shelf.", False),
        ("A screw, eight by twenty-five, was put in the tibia.", True),
        ("The screw was opened, it goes back and forth, but it went in.", True),
    ],
)  # fmt: skip
def test_a_screw_that_went_back(said: str, kept: bool) -> None:
    text = f"Left knee, medial meniscus root repair. Portals made. {said} Skin closed."
    assert bool([d for d in facts(text, "devices") if d["kind"] == "screw"]) is kept


@pytest.mark.parametrize(
    "said",
    [
        "I had warned him that a gap would mean opening the back and going inside out. There was no gap.",
        "A bigger tear means going inside out. This one was small.",
        "We had inside-out needles ready and put them back.",
    ],
)
def test_a_deed_that_only_might_have_been(said: str) -> None:
    text = f"Left knee, lateral meniscus repair. Portals made. {said} Skin closed."
    assert steps(text).get("inside-out-stitch") != "performed"


@pytest.mark.parametrize("tool", ["tamp", "gauge", "scale", "assistant"])
@pytest.mark.parametrize(
    "said", ["no, the {} says fifteen.", "no wait, the {} said fifteen, I let it stand at fifteen."]
)
def test_put_right_by_what_a_gauge_said(tool: str, said: str) -> None:
    text = f"Left knee, osteochondral plugs. The recipient sockets are sixteen millimeters deep, {said.format(tool)}"
    assert ("tunnel.depth", 15) in measured(text)
    assert ("tunnel.depth", 16) not in measured(text)


@pytest.mark.parametrize(
    ("said", "weeks"),
    [
        ("Back in ten days or so, let's make it two weeks.", [2]), ("Back in three weeks, or let's say four.", [4]),
        ("Follow up at ten days, let us make that two weeks.", [2]),
    ],
)  # fmt: skip
def test_a_visit_put_right(said: str, weeks: list[float]) -> None:
    text = f"Left knee arthroscopy, meniscus trimmed. Portals closed. {said}"
    assert [p["value"] for p in facts(text, "plan") if p["item"] == "follow-up"] == weeks


@pytest.mark.parametrize(
    ("title", "said", "code"),
    [
        ("lateral meniscus transplant", "Donor piece had been softening in warm saline.", "graft-thaw"),
        ("lateral meniscus transplant", "Twins went into the graft. Up the cannula, an eight millimeter one, and home.",
         "graft-delivery"),
        ("arthroscopy", "She is sleeping, we make the examination of the knee, it is stable.", "exam-under-anesthesia"),
        ("lateral meniscus transplant", "Donor tissue out. Pen marks at fifteen by eleven.", "graft-marking"),
        ("meniscus", "Through the lateral portal and a medial one I found the following.", "portal-placement"),
        ("meniscus", "Trimmed. Closed over nothing, no drain.", "closure"),
        ("osteochondral plugs", "Lesion curetted to a clean wall.", "lesion-preparation"),
    ],
)  # fmt: skip
def test_a_step_in_few_words(title: str, said: str, code: str) -> None:
    assert steps(f"Left knee, {title}. {said}").get(code) == "performed"


@pytest.mark.parametrize(
    ("title", "said", "what", "value"),
    [
        ("meniscus repair", "The cut at the corner, three centimeters of skin.", "incision.length", 30),
        ("meniscus repair", "The stitches were tied, knee out straight at zero degrees.", "knee.flexion_angle", 0),
        ("partial lateral meniscectomy", "I went six millimeters wide at the worst spot.", "resection.width", 6),
        ("partial lateral meniscectomy", "At its widest I took six millimeters.", "resection.width", 6),
    ],
)
def test_a_size_in_few_words(title: str, said: str, what: str, value: float) -> None:
    assert measured(f"Left knee, {title}. {said}") == [(what, value)]


@pytest.mark.parametrize(
    "said", ["Its sutures duplicate those in the native tissue.", "Its sutures copy the native ones."]
)
def test_the_graft_called_its(said: str) -> None:
    text = (
        "Left knee, segmental lateral meniscus transplant. Posterior superior, a blue suture in the native meniscus. "
        f"Posterior inferior, a white tape. The donor meniscus had been thawed. {said}"
    )
    assert sorted(s["color"] for s in facts(text, "sutures") if s["tissue"] == "graft") == ["blue", "white"]


def test_a_graft_without_sutures_has_none() -> None:
    text = (
        "Left knee, segmental lateral meniscus transplant. Posterior superior, a blue suture in the native meniscus. "
        "Posterior inferior, a white tape. The graft has no sutures yet."
    )
    assert {s["tissue"] for s in facts(text, "sutures")} == {"native"}
