"""What is told beside the case: kept for others, left after all, used up, of the other knee, minutes of something else.

The words are the project's own; that surgeons speak so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts

DEEDS = {
    "inside-out-stitch": "Inside-out",
    "trephination": "Trephination",
    "fibrin-clot": "A fibrin clot",
    "microfracture": "Microfracture",
}
KEPT = (
    "{} I keep for the old tears, so none today.", "{} I save for the long ones.", "{} is for the young ones.",
    "{} I use in chronic cases only.",
)  # fmt: skip
LEFT = (
    "but I'd rather not.",
    "but I would sooner leave it.",
    "only I don't want to risk it.",
    "better leave it alone.",
)
ENDED = (
    "green is finished, sister gives me yellow.", "we are out of green, so yellow.", "the green ran out, yellow then.",
    "green is used up, they hand me a yellow one.",
)  # fmt: skip
LOST = (
    "the light source died on us for half an hour.", "it took the rep thirty minutes to find the tray.",
    "the shaver broke and cost us thirty minutes.", "thirty minutes of that for a dead monitor.",
)  # fmt: skip
ACROSS = (
    "Her other knee had the same last year, that piece was twenty-four millimeters.",
    "The other side had its graft two years ago, twenty-four millimeters it was.",
    "The opposite knee was done in June, the graft there was twenty-four millimeters.",
)
MISSING = (
    "had been ordered but the rep had brought the wrong one", "was on order but came in the wrong size",
    "had been ordered, the box was empty",
)  # fmt: skip


@pytest.mark.parametrize("said", KEPT)
@pytest.mark.parametrize("code", DEEDS)
def test_what_is_kept_for_others_was_not_done(code: str, said: str) -> None:
    text = f"Left knee, lateral meniscus. Portals made. {said.format(DEEDS[code])} Wounds closed."
    assert code not in {s["code"] for s in facts(text, "steps") if s["status"] == "performed"}


@pytest.mark.parametrize("left", LEFT)
def test_what_could_be_and_is_left_was_not_reached(left: str) -> None:
    text = f"Left knee, lateral meniscus repaired. We could bring the knee to ninety degrees, {left}"
    assert not facts(text, "measurements")


def test_what_could_be_reached_was() -> None:
    text = "Left knee, lateral meniscus repaired. We could bring the knee to ninety degrees, and nothing moved."
    assert [m["value"] for m in facts(text, "measurements")] == [90]


@pytest.mark.parametrize("ended", ENDED)
def test_what_was_used_up_is_not_what_was_used(ended: str) -> None:
    text = "Left knee, medial meniscus, segmental allograft. In the graft. Posterior superior white tape. "
    looks = [(s["surface"], s["color"]) for s in facts(f"{text}Posterior inferior, {ended}", "sutures")]
    assert looks == [("superior", "white"), ("inferior", "yellow")]


def test_what_is_finished_may_be_laid() -> None:
    text = "Left knee, medial meniscus. In the native meniscus. Posterior superior is blue. Blue is finished. "
    looks = [(s["surface"], s["color"]) for s in facts(f"{text}Posterior inferior is white.", "sutures")]
    assert looks == [("superior", "blue"), ("inferior", "white")]


@pytest.mark.parametrize("lost", LOST)
def test_minutes_of_something_else_are_not_the_tourniquets(lost: str) -> None:
    text = f"Left knee, lateral meniscus repaired. Tourniquet off, ninety minutes, {lost}"
    assert [m["value"] for m in facts(text, "measurements") if m.get("role") != "reference"] == [90]


@pytest.mark.parametrize("across", ACROSS)
def test_sizes_of_the_other_knee_are_none_of_this_one(across: str) -> None:
    text = f"Right knee, lateral, a segmental allograft. {across} Portals, scope in. A C L intact. Now the numbers. "
    text += "Along the rim the defect is eighteen millimeters."
    told = [m["value"] for m in facts(text, "measurements") if m["role"] != "reference"]
    steps = {s["code"] for s in facts(text, "steps")}
    assert told == [18] and {"portal-placement", "diagnostic-arthroscopy"} <= steps


@pytest.mark.parametrize("why", MISSING)
def test_what_did_not_come_was_not_used(why: str) -> None:
    text = f"Right knee, lateral meniscus root repair. An anchor {why}, so the sutures were fixed over a button."
    assert [d["kind"] for d in facts(text, "devices")] == ["button"]


@pytest.mark.parametrize("back", ["and then handed back", "and returned to the table", "but not used"])
def test_one_more_that_went_back_is_no_suture(back: str) -> None:
    text = (
        "Right knee, lateral meniscus root repair. Two sutures, one orange and one black, were passed through the root."
    )
    looks = [s["color"] for s in facts(f"{text} A third one was loaded {back}.", "sutures")]
    assert looks == ["orange", "black"]


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("graft-thaw", "Graft is thawed? Thank you."),
        ("diagnostic-arthroscopy", "Then the full round. A C L intact."),
        ("diagnostic-arthroscopy", "Once around. Both menisci seen."),
        ("graft-delivery", "Up the cannula with the graft."),
        ("graft-delivery", "Down the cannula goes the graft."),
        ("irrigation", "Wash, close the capsule, close the skin."),
    ],
)
def test_deeds_told_without_a_verb_of_doing(code: str, said: str) -> None:
    text = f"Left knee, medial meniscus, segmental allograft. Portals made. {said}"
    assert code in {s["code"] for s in facts(text, "steps") if s["status"] == "performed"}


@pytest.mark.parametrize("said", ["So that's the loose body done.", "Grasper, and out it comes.", "Loose body out."])
def test_a_loose_body_that_is_out_was_removed(said: str) -> None:
    text = f"Right knee. A loose body in the gutter. {said}"
    assert [s["code"] for s in facts(text, "steps")] == ["loose-body-removal"]


@pytest.mark.parametrize("gone", ["thirty percent gone", "thirty percent is gone now", "and the flap is gone"])
def test_what_was_resected_was_not_missing(gone: str) -> None:
    text = f"Left knee. Lateral meniscus, complex tear of the body. Partial meniscectomy with the shaver, {gone}."
    assert [f["finding"] for f in facts(text, "findings")] == ["tear"]


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("Along the rim is fifteen, is twenty, and something, twenty-three millimeter.", 23),
        ("Along the rim ten is here, fifteen is here, and we end on eighteen millimeters.", 18),
        ("Along the rim I see ten, I see fifteen, and a little more, seventeen millimeters.", 17),
    ],
)
def test_marks_counted_with_words_between(said: str, value: float) -> None:
    found = facts(f"Left knee, medial meniscus, segmental transplant. {said}", "measurements")
    assert [(m["what"], m["value"]) for m in found] == [("defect.ap_length", value)]


@pytest.mark.parametrize("on", ["go on", "a bit more", "deeper", "keep going"])
def test_a_depth_put_right_with_an_order_between(on: str) -> None:
    text = "Right knee, osteochondral autograft. Drill the sockets, ten millimeters in diameter, "
    found = facts(f"{text}fourteen, no, {on}, fifteen millimeters deep.", "measurements")
    assert [(m["what"], m["value"]) for m in found] == [("tunnel.diameter", 10), ("tunnel.depth", 15)]


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("inside-out-stitch", "Inside-out I use for the posterior horn, three of them."),
        ("outside-in-stitch", "Outside-in stitches I do in the anterior horn, two."),
        ("microfracture", "Microfracture is for the trochlea, six holes."),
    ],
)
def test_what_is_for_a_place_is_done_there(code: str, said: str) -> None:
    steps = facts(f"Left knee, lateral meniscus tear. {said}", "steps")
    assert code in {s["code"] for s in steps if s["status"] == "performed"}


@pytest.mark.parametrize(
    "said",
    [
        "A full round of antibiotics was given.", "The stitch goes once around the root.",
        "A full circle of the rim was rasped.", "That's the loose body on the scan.",
        "A loose body is in the gutter. It is out of reach.",
    ],
)  # fmt: skip
def test_rounds_and_bodies_that_are_no_deed(said: str) -> None:
    steps = {s["code"] for s in facts(f"Left knee, meniscus torn. {said}", "steps")}
    assert not steps & {"diagnostic-arthroscopy", "loose-body-removal"}


def test_an_earlier_operation_goes_on_until_now() -> None:
    text = "Right knee. He had a medial meniscectomy in 2019. A third of the meniscus was taken. The A C L is intact. "
    assert not [s for s in facts(f"{text}Today he has a lateral tear.", "steps") if s["status"] == "performed"]


def test_minutes_told_otherwise_stay_a_conflict() -> None:
    text = "Left knee, meniscus repaired. Tourniquet time sixty minutes, the nurse noted sixty-five minutes."
    assert [m["value"] for m in facts(text, "measurements") if m.get("role") != "reference"] == [60, 65]


def test_what_is_written_up_later_is_this_case() -> None:
    text = "A C L reconstruction of the left knee with an allograft, written up after lunch."
    assert [p["status"] for p in facts(text, "procedures")] == ["performed"]
