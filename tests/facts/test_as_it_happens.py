"""What is told as it happens, while looking, choosing and cutting; and what somebody did to a younger patient.

The sentences are the project's own; that surgeons talk so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts, measured


def done(text: str) -> set[str]:
    return {s["code"] for s in facts(text, "steps") if s["status"] == "performed"}


@pytest.mark.parametrize("cuff", ["Cuff", "The tourniquet"])
@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("tourniquet-inflation", "{}'s going up, two hundred forty millimeters of mercury."),
        ("tourniquet-inflation", "{} is going up now."),
        ("tourniquet-deflation", "{}'s coming down at eighty four minutes."),
        ("tourniquet-deflation", "{} is being let down."),
        ("tourniquet-deflation", "{}'s down, seventy one minutes."),
    ],
)
def test_the_cuff_as_it_goes(cuff: str, code: str, said: str) -> None:
    assert code in done(f"Right knee, medial meniscus repair. {said.format(cuff)}")


@pytest.mark.parametrize(
    "said",
    [
        "Let me take a walk round.", "Then the general tour.", "I've had a wander round.", "We had our stroll through.",
        "Let's go for a walk.", "Quick lap of the knee.", "I did my rounds.", "We take the grand tour.",
    ],
)  # fmt: skip
def test_a_walk_round_the_joint(said: str) -> None:
    assert "diagnostic-arthroscopy" in done(f"Right knee. Two portals are in. {said} The A C L is intact.")


def test_a_walk_in_six_weeks_is_none() -> None:
    assert "diagnostic-arthroscopy" not in done("Right knee meniscus repair. She can go for a walk in six weeks.")


@pytest.mark.parametrize("not_that", ["not the big one, ", "not the ten, ", "which one, ", ""])
def test_which_cannula(not_that: str) -> None:
    text = (
        f"Right knee, meniscus transplant. Cannula, {not_that}the eight, eight millimeter, through the medial portal."
    )
    assert [(d["kind"], d.get("size")) for d in facts(text, "devices")] == [("cannula", 8.0)]


@pytest.mark.parametrize(
    "said",
    [
        "At fourteen somebody did a meniscectomy the way people did them then.",
        "At the age of seventeen a meniscectomy was done.",
        "Somebody did a meniscectomy on her at school age.",
        "In her teens they did a meniscectomy.",
        "When he was sixteen a meniscectomy was done.",
    ],
)
def test_work_on_a_younger_patient(said: str) -> None:
    text = f"Left knee, lateral segmental meniscus transplant. {said}"
    assert "partial-meniscectomy" not in done(text)
    told = [p for p in facts(text, "procedures") if p["code"] == "partial-meniscectomy"]
    assert all(p["status"] == "prior" for p in told)


@pytest.mark.parametrize("hedge", ["about", "roughly", "approximately", "some", "nearly"])
def test_wear_over_an_area(hedge: str) -> None:
    text = f"Right knee arthroscopy. Patella Outerbridge two over {hedge} two square centimeters."
    assert ("lesion.area", 200.0) in measured(text)


def test_wear_of_more_than_an_area() -> None:
    text = "Right knee arthroscopy. Patella Outerbridge two, more than two square centimeters."
    assert ("lesion.area", (200.0, None)) in measured(text)


@pytest.mark.parametrize("straight", ["comes to", "gets to", "gets down to", "lies flat at"])
@pytest.mark.parametrize("bent", ["bends to", "flexes to"])
def test_straight_and_bent(straight: str, bent: str) -> None:
    text = f"Left knee. Asleep, I examined him. He {straight} zero degrees and {bent} 125 degrees. Meniscus torn."
    assert measured(text) == [("knee.extension", 0.0), ("knee.flexion", 125.0)]


@pytest.mark.parametrize(
    "said",
    [
        "purple, no, not purple, that was a muddle, give me blue", "purple, no, put that back, blue please",
        "purple, wait, that one is for the graft, blue", "not purple, blue",
    ],
)  # fmt: skip
def test_a_color_given_up_for_another(said: str) -> None:
    text = f"Left knee, meniscus transplant. Native stump. Anterior superior, green. Anterior inferior, {said}."
    assert [s["color"] for s in facts(text, "sutures")] == ["green", "blue"]


def test_two_joined_are_both_intact() -> None:
    found = facts("Right knee scope. Lateral femoral condyle and lateral tibial plateau, both intact.", "findings")
    assert {f["structure"] for f in found} == {"lateral-femoral-condyle", "lateral-tibial-plateau"}


@pytest.mark.parametrize("cut", ["Cut. Lovely.", "And cut.", "Good, now cut."])
@pytest.mark.parametrize("goes", ["In it goes, down the cannula.", "And in she goes, through the cannula."])
def test_a_graft_cut_and_sent_in(cut: str, goes: str) -> None:
    text = "Right knee, medial segmental meniscus transplant. It is thawed. Mark it sixteen by ten, starting twelve "
    told = done(f"{text} millimeters off its own posterior root. {cut} {goes}")
    assert {"graft-marking", "graft-cut", "graft-delivery"} <= told


@pytest.mark.parametrize(
    "third",
    [
        "A third was loaded, but the tissue would not have accepted it and it was handed back.",
        "A third one, loaded already, would have torn the tissue, so it went back.",
        "A third lay ready and stayed on the table.",
    ],
)
def test_a_third_suture_that_was_not_passed(third: str) -> None:
    text = "Right knee, transosseous repair of the root of the lateral meniscus. Two number two sutures were passed "
    found = facts(
        f"{text} through the root, one striped white and one solid blue, each as a luggage tag. {third}", "sutures"
    )
    assert sorted(s["color"] for s in found) == ["blue", "white"]


@pytest.mark.parametrize("root", ["Root at the back to", "From the root at the back to", "Root behind to"])
@pytest.mark.parametrize("edge", ["the start of the hole", "the first edge of the gap"])
def test_from_the_root_at_the_back(root: str, edge: str) -> None:
    text = (
        f"Right knee, medial segmental meniscus transplant. The defect is seventeen millimeters. {root} {edge}, twelve."
    )
    assert ("defect.root_distance", 12.0) in measured(text)


def test_what_was_cut_away_with_a_tool_was_cut() -> None:
    text = "Right knee, medial meniscus tear. With the shaver and punch the flap was resected and discarded."
    assert "partial-meniscectomy" in done(text)
