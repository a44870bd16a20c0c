"""A side told as an answer, a structure put right for another, what bystanders ask for in a run-on. Our own words."""

from __future__ import annotations

import pytest

from .reading import facts

ASKED = (
    "Which knee, anybody? Left, yes, it's on the thigh, and we are here to repair the medial meniscus.",
    "Which knee are we doing? Left, agreed. Medial meniscus repair.",
    "Which leg is it today? Left, says the arrow on the thigh. Medial meniscus repair.",
    "Which one is it, left or right? Left, it's marked. Medial meniscus repair.",
)
PUT_RIGHT = (
    "I have softening on the lateral femoral condyle in my head, no, that's wrong, it was the lateral tibial plateau.",
    "I remember softening on the lateral femoral condyle, no, it was the lateral tibial plateau.",
    "Softening of the lateral femoral condyle, sorry, of the lateral tibial plateau.",
)
SUTURES = (
    "left knee medial meniscus segmental transplant native sutures posterior superior yellow posterior inferior blue "
    "anterior superior white anterior inferior green and the same four went through the graft in the same four places "
    "the graft was delivered then yellow tied to blue and after that white tied to green the student asked for an all "
    "inside stitch on top of that and did not get one had it buckled i would have trimmed the graft it did not buckle "
    "probed and it is stable"
)


@pytest.mark.parametrize("text", ASKED)
def test_a_side_is_told_as_an_answer(text: str) -> None:
    assert {f["value"] for f in facts(text, "laterality")} == {"left"}


@pytest.mark.parametrize("said", PUT_RIGHT)
def test_a_structure_said_for_another_is_not_the_one_found_ill(said: str) -> None:
    assert {f["structure"] for f in facts(f"Right knee arthroscopy. {said}", "findings")} == {"lateral-tibial-plateau"}


def test_two_structures_found_ill_both_are() -> None:
    found = facts("Right knee arthroscopy. Trochlea Outerbridge one, no flap, patella Outerbridge two.", "findings")
    assert {f["structure"] for f in found if f["finding"] == "chondral-lesion"} == {"trochlea", "patella"}


def test_a_bucket_handle_is_no_tear_of_a_ligament() -> None:
    text = "Left knee. A C L, pull on it, intact. And on the medial side there's our bucket handle tear."
    torn = {f["structure"] for f in facts(text, "findings") if f["finding"] == "tear"}
    assert torn == {"medial-meniscus"}


def test_what_is_asked_for_in_a_run_on_hides_no_tie() -> None:
    assert len(facts(SUTURES, "ties")) == 2
    assert not [s for s in facts(SUTURES, "sutures") if s.get("technique") == "all_inside"]


def test_a_cannula_told_by_its_size_is_no_portal() -> None:
    text = "Right knee meniscus transplant. Cannula, this is the nine millimeter, medial portal."
    assert not facts(text, "measurements")
    assert [d["size"] for d in facts(text, "devices")] == [9]
