"""A look through the joint in any wording, a tourniquet only worn, a patient told of elsewhere.

The sentences are the project's own; that surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts, measured, side_of, steps

KNEE = "Left knee arthroscopy, meniscus torn. Portals made. {} Skin closed."
LOOKED = (
    "Whole joint viewed: A C L intact.", "After a careful inspection, which showed an intact A C L, I went on.",
    "The joint was gone through in the usual order.", "Before that I had walked the scope through.",
    "The camera was run through the joint.", "I went over the joint systematically.",
    "The entire knee was seen, A C L intact.", "Scope through the usual stations, all fine.",
    "We checked all the compartments with the scope.", "I viewed the joint from end to end.",
    "Pouch, gutters, notch, both compartments looked into.",
)  # fmt: skip
NOT_LOOKED = (
    "The list was gone through in the usual order.", "I passed the needle through the joint line.",
    "A careful inspection of the repair showed no gap.", "The whole joint was washed.",
    "On the scan the whole joint was seen.",
)  # fmt: skip


@pytest.mark.parametrize("said", LOOKED)
def test_a_look_through_the_joint(said: str) -> None:
    assert steps(KNEE.format(said)).get("diagnostic-arthroscopy") == "performed"


@pytest.mark.parametrize("said", NOT_LOOKED)
def test_no_look_through_the_joint(said: str) -> None:
    assert steps(KNEE.format(said)).get("diagnostic-arthroscopy") != "performed"


WORN = ("We had the cuff on and {}", "Cuff on, {}", "Cuff on the thigh, {}", "The tourniquet was on, we {}")
LEFT = {
    "never blew it up.": WORN, "left it flat.": WORN, "did not pump it.": WORN,
    "no air in it.": WORN[1:3], "kept at zero.": WORN[1:3], "flat all the way.": WORN[1:3],
}  # fmt: skip


@pytest.mark.parametrize("said", [w.format(left) for left, worn in LEFT.items() for w in worn])
def test_a_tourniquet_only_worn(said: str) -> None:
    assert steps(KNEE.format(said)).get("tourniquet-inflation") != "performed"


@pytest.mark.parametrize("said", ["Cuff on and up.", "We put the cuff on and blew it up.", "Cuff on, pumped up."])
def test_a_tourniquet_inflated(said: str) -> None:
    assert steps(KNEE.format(said)).get("tourniquet-inflation") == "performed"


@pytest.mark.parametrize("who", ["the lady", "a man", "the girl"])
@pytest.mark.parametrize(
    "said",
    [
        "The first, {} with the right patella, you will get separately. This one is a boy, left knee.",
        "The first, {} with the right knee, I dictate after this. Left knee here.",
        "The first, {} with the right knee, has been dictated already. Now a man, left knee.",
    ],
)
def test_a_patient_told_of_elsewhere(said: str, who: str) -> None:
    assert side_of(f"{said.format(who)} Lateral meniscus repair, portals closed.") == ["left"]


@pytest.mark.parametrize(
    ("said", "what", "value"),
    [
        ("Graft, folded, went through the eight sizer tight and the nine easily, so nine millimeters it is, one "
         "hundred five millimeters long.", "ligament_graft.diameter", 9),
        ("The graft went through the eight tight, so eight it is.", "ligament_graft.diameter", 8),
        ("We sized the graft, nine millimeters it was.", "ligament_graft.diameter", 9),
    ],
)  # fmt: skip
def test_a_size_before_its_it_is(said: str, what: str, value: float) -> None:
    assert (what, value) in measured(f"Left knee ACL reconstruction. {said} Skin closed.")


@pytest.mark.parametrize(
    ("said", "what"),
    [
        ("A cartilage hole, eighteen by thirteen millimeters. Depth two millimeters.", "lesion.depth"),
        ("I made holes with the awl, four millimeters apart and two millimeters deep.", "hole.depth"),
    ],
)
def test_one_hole_is_the_lesion(said: str, what: str) -> None:
    found = measured(f"Left knee, microfracture of the medial femoral condyle. {said}")
    assert [m for m in found if str(m[0]).endswith(".depth")] == [(what, 2)]


@pytest.mark.parametrize("joined", ["and, in the same sitting,", "and", "then"])
def test_a_diagnostic_arthroscopy_beside_open_work(joined: str) -> None:
    text = f"Left knee, a diagnostic arthroscopy {joined} a high tibial osteotomy. Portals made."
    codes = {p["code"] for p in facts(text, "procedures")}
    assert codes == {"diagnostic-arthroscopy", "high-tibial-osteotomy"}
