"""What is told while it is done: sizes some sentences behind their thing, ties with their colors, talk in between.

Sentences are of their own, trade facts common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts, flags, measured, steps

WHOLE = "Right knee, lateral meniscus allograft transplant with bone bridge. "
SEGMENT = "Right knee, medial meniscus, a segmental allograft transplant for the body. "
CORNERS = (
    "Native sutures, four of them. Posterior superior, striped white. Posterior inferior, purple. "
    "Anterior superior, green. Anterior inferior, black. "
)


def checks(text: str) -> set[str]:
    return {f.check for f in flags(text)}


@pytest.mark.parametrize(
    "told",
    [
        "Slot next. Burr first, then the box chisel. Gauge it. Nine millimeters wide. Depth eleven millimeters.",
        "The slot is cut. Gauge it. Nine millimeters wide. Eleven deep.",
        "We burr the slot. Let me gauge that. Width nine millimeters, depth eleven millimeters.",
        "The trough was made with a box chisel. Its width is nine millimeters and its depth eleven millimeters.",
        "Slot's done. The depth gauge reads eleven millimeters. Width nine millimeters.",
        "The slot is cut, nine wide. Depth ten, no, push the gauge to the very back, eleven millimeters.",
        "The slot is cut, nine wide. Depth ten, no, hold the gauge straight, eleven millimeters.",
    ],
)
def test_slot_named_sentences_before(told: str) -> None:
    assert measured(WHOLE + told) == [("slot.depth", 11), ("slot.width", 9)]


@pytest.mark.parametrize(
    "donor",
    [
        "fresh frozen medial meniscus", "frozen meniscus", "cadaver meniscus", "cryopreserved medial meniscus",
        "meniscus from the bank", "donor medial meniscus",
    ],
)  # fmt: skip
@pytest.mark.parametrize(
    "told",
    [
        "The {} has thawed. It's marked sixteen millimeters from the root and cut at twenty-one millimeters long.",
        "The {} is thawed and cut twenty-one millimeters long, starting sixteen millimeters from the root.",
    ],
)
def test_the_donors_meniscus_is_the_graft(donor: str, told: str) -> None:
    text = f"{SEGMENT}Along the rim the defect is nineteen millimeters. {told.format(donor)}"
    assert measured(text) == [("defect.ap_length", 19), ("graft.ap_length", 21), ("graft.root_distance", 16)]


@pytest.mark.parametrize(
    ("number", "digits", "value"),
    [("eighteen", "one eight", 18), ("twenty", "two zero", 20), ("thirty", "three oh", 30)],
)
@pytest.mark.parametrize("place", ["along the rim", "in length", "from front to back"])
def test_digits_said_again_behind_the_place(number: str, digits: str, value: int, place: str) -> None:
    text = f"{SEGMENT}The defect is {number} millimeters {place}, {digits}, nine millimeters wide."
    assert measured(text) == [("defect.ap_length", value), ("defect.width", 9)]


def test_digits_that_say_another_number() -> None:
    text = f"{SEGMENT}Defect, eighteen millimeters along the rim, one nine, eleven millimeters wide."
    assert "number-uncertain" in checks(text) and ("defect.width", 11) in measured(text)


@pytest.mark.parametrize("gloss", ["that is white to purple", "white to purple", "which is white with purple"])
@pytest.mark.parametrize("opens", ["Three knots.", "Tied.", "Then the knots."])
def test_ties_with_their_colors_behind(gloss: str, opens: str) -> None:
    text = (
        f"{SEGMENT}{CORNERS}{opens} Posterior superior to posterior inferior, {gloss}. "
        "Anterior superior to anterior inferior, green to black."
    )
    assert len(facts(text, "ties")) == 2 and len(facts(text, "sutures")) == 4


@pytest.mark.parametrize(
    "asked", ["How are you getting on with the graft?", "How's the graft?", "Now the graft.", "The graft is out."]
)
def test_the_same_behind_the_sentence_that_names_the_graft(asked: str) -> None:
    told = facts(f"{SEGMENT}{CORNERS}{asked} Same four colors, same four corners.", "sutures")
    assert sum(s["tissue"] == "graft" for s in told) == 4


@pytest.mark.parametrize("said", ["Same portal, same cannula.", "Same number on the label as on the box."])
def test_other_things_that_are_the_same(said: str) -> None:
    told = facts(f"{SEGMENT}{CORNERS}The graft is thawed. {said}", "sutures")
    assert all(s["tissue"] == "native" for s in told)


@pytest.mark.parametrize(
    "talk", ["I want the, not that, the", "not that one,", "give me, no, the", "I need the, no, not that, the"]
)
def test_orders_between_a_corner_and_its_color(talk: str) -> None:
    text = f"{SEGMENT}Native sutures. Posterior superior, striped white. Posterior inferior, {talk} purple."
    assert [s["color"] for s in facts(text, "sutures")] == ["white", "purple"]


@pytest.mark.parametrize("talk", ["stop there", "hold it", "let me see", "who is that"])
def test_a_span_held_up(talk: str) -> None:
    text = f"Right knee, meniscus repair. Bend it for me, zero to, {talk}, ninety-five degrees."
    assert measured(text) == [("knee.extension", 0), ("knee.flexion", 95)]


@pytest.mark.parametrize("for_whom", ["For the registry,", "For the study sheet,", "For the database,"])
def test_told_for_a_registry(for_whom: str) -> None:
    text = f"Left knee, lateral meniscus tear, twelve millimeters long. {for_whom} tear length sixteen millimeters."
    assert {m[1:] for m in measured(text, "role")} == {(12, "observed"), (16, "observed")}


def test_tools_prepare_the_slot() -> None:
    assert steps(f"{WHOLE}Slot next. Burr first, then the box chisel.")["slot-preparation"] == "performed"
