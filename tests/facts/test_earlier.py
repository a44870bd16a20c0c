"""What was only meant, taken back, allowed or done at another time. Sentences are worded for these tests."""

from __future__ import annotations

import pytest

from .reading import facts, flags, measured, side_of, steps


def test_an_account_of_the_other_knee_ends_with_today() -> None:
    text = (
        "The left knee was operated on last year. A hamstring graft of eight millimeters was used, and she was non "
        "weight bearing for six weeks. Today it is the right knee, an ACL reconstruction."
    )
    assert side_of(text) == ["right"]
    assert not facts(text, "plan")
    assert all(f["role"] == "reference" for f in facts(text, "measurements"))


def test_an_earlier_operation_that_explains_a_finding_is_no_account() -> None:
    text = (
        "Right knee meniscal allograft. The lateral meniscus is deficient, another surgeon took it out in 2019. "
        "The rim is rasped, it is two millimeters wide. Now the gap is measured."
    )
    assert steps(text).get("rim-abrasion") == "performed"
    assert "reference" not in [f.get("role") for f in facts(text, "measurements")]


def test_detail_of_an_earlier_time_is_a_reference() -> None:
    text = "Right knee ACL reconstruction. Last year a hamstring graft was used, eight millimeters in diameter."
    assert [f.get("role") for f in facts(text, "measurements")] == ["reference"]


def test_a_side_under_the_history_is_not_the_operated_one() -> None:
    assert side_of("History: the right knee was replaced. Left knee arthroscopy.") == ["left"]
    assert side_of("History: the right knee locks. Arthroscopy was done.") == ["right"]


@pytest.mark.parametrize("verb", ["confirm", "agree on"])
def test_the_side_confirmed_in_the_time_out(verb: str) -> None:
    assert side_of(f"Meniscus repair. Time out, we {verb} the left side.") == ["left"]


def test_consent_for_a_list_is_no_work_done() -> None:
    told = steps(
        "Left knee. I'd consented her for a chondroplasty and a possible partial meniscectomy. Portals closed."
    )
    assert "performed" not in {told.get("chondroplasty"), told.get("partial-meniscectomy")}
    told = steps("Left knee. We had consent for a synovectomy and microfracture, but neither was needed.")
    assert "performed" not in {told.get("synovectomy"), told.get("microfracture")}


def test_what_is_taken_back_was_not_found() -> None:
    found = facts("Knee. I told them the medial meniscus was torn and I was wrong.", "findings")
    assert [f["status"] for f in found] == ["absent"]


def test_a_plan_may_begin_but_an_if_is_none() -> None:
    text = "Meniscus repaired. Your physiotherapist may start therapy in week two."
    assert [(f["item"], f["value"]) for f in facts(text, "plan")] == [("therapy-start", 2)]
    assert not facts("Meniscus repaired. Therapy starts in week two if it is not swollen.", "plan")


def test_a_subject_of_its_own_keeps_its_number() -> None:
    text = "Left knee. Medial femoral condyle Outerbridge two. A pouch beside the PCL measured 22 by 15 millimeters."
    assert not measured(text)
    assert {f.check for f in flags(text)} == {"unread-number"}
    text = "Left knee. There is a lesion of the medial femoral condyle. It measured 22 by 15 millimeters."
    assert measured(text) == [("lesion.length", 22), ("lesion.width", 15)]


def test_of_two_tunnels_each_keeps_its_sizes() -> None:
    text = "Knee ACL reconstruction. Femoral socket 9 mm, 25 mm deep, tibial tunnel 9 mm."
    assert measured(text, "site") == [
        ("tunnel.depth", 25, "femoral"),
        ("tunnel.diameter", 9, "femoral"),
        ("tunnel.diameter", 9, "tibial"),
    ]


@pytest.mark.parametrize(
    "told",
    [
        "She had a reconstruction in 2015 and the tourniquet was on for ninety minutes.",
        "Her first repair was two years ago in another hospital, and the cuff was up ninety minutes.",
        "At her first operation the tourniquet was up for ninety minutes.",
    ],
)
def test_the_tourniquet_of_an_earlier_operation_is_a_reference(told: str) -> None:
    text = f"Left knee, meniscus repair. {told} Tourniquet time forty minutes."
    assert measured(text, "role") == [("tourniquet.time", 40, None), ("tourniquet.time", 90, "reference")]


def test_an_injury_long_past_makes_no_reference_of_the_tourniquet() -> None:
    text = "Left knee, meniscus repair. He fell two years ago and the tourniquet was up for forty minutes."
    assert measured(text, "role") == [("tourniquet.time", 40, None)]


@pytest.mark.parametrize(
    "told",
    [
        "The posterior tunnel was forty millimeters long, the anterior tunnel thirty nine.",
        "The posterior tunnel was forty millimeters long and the anterior one thirty nine.",
        "The posterior tunnel was forty millimeters long. Anterior tunnel 39.",
        "Tunnel lengths: posterior forty, anterior thirty nine millimeters.",
    ],
)
def test_the_second_tunnel_is_read_like_the_first(told: str) -> None:
    text = f"Left knee, whole lateral meniscus transplant. {told}"
    assert measured(text, "site") == [("tunnel.length", 39, "anterior"), ("tunnel.length", 40, "posterior")]


def test_a_blood_loss_needs_no_unit() -> None:
    """Nobody tells it in anything but milliliters where no unit is said: common practice, no source."""
    assert ("blood_loss.volume", 20) in measured("Left knee, meniscus repaired. Blood loss 20.")
    assert not flags("Left knee, meniscus repaired. Blood loss 20.")


@pytest.mark.parametrize(
    "told",
    [
        "Trephination and a clot were considered.",
        "Trephination, clot: neither.",
        "I had wondered about trephination, and about a clot.",
        "Trephination and a clot were not needed.",
    ],
)
def test_two_things_only_thought_of(told: str) -> None:
    assert "performed" not in steps(f"Left knee, medial meniscus repair. {told}").values()


def test_a_denied_second_thing_leaves_the_first() -> None:
    told = steps("Left knee, meniscus repair. Time out and the rim was not rasped.")
    assert told == {"time-out": "performed", "rim-abrasion": "declined"}


@pytest.mark.parametrize(
    ("told", "plan"),
    [
        ("No bending past ninety for six weeks.", ("flexion-limit", 90)),
        ("He may bend to ninety, no more.", ("flexion-limit", 90)),
        ("Don't let it bend more than ninety degrees.", ("flexion-limit", 90)),
        ("Flexion to ninety for four weeks.", ("flexion-limit", 90)),
        ("Rooms at two weeks.", ("follow-up", 2)),
        ("Back with me in four.", ("follow-up", 4)),
        ("Therapy should start after the first week.", ("therapy-start", 1)),
        ("Splint 0 to 90 degrees.", ("brace-range", (0, 90))),
    ],
)
def test_plans_in_other_words(told: str, plan: tuple[str, object]) -> None:
    text = f"Left knee, meniscus repair. {told}"
    found = [(f["item"], f["value"] if "value" in f else (f["low"], f["high"])) for f in facts(text, "plan")]
    assert found == [plan]
    assert not measured(text)


def test_a_request_is_a_plan() -> None:
    text = "Left knee, meniscus repair. May I ask you to keep flexion no greater than seventy degrees?"
    assert [(f["item"], f["value"]) for f in facts(text, "plan")] == [("flexion-limit", 70)]


LEFT_BEHIND = (
    "She lost that meniscus to a subtotal meniscectomy abroad.",
    "The remnant of that meniscectomy of hers is a thin rim.",
    "The body of the meniscus is gone since a meniscectomy at school.",
    "He had an ACL reconstruction along with the meniscectomy.",
    "There is an old ACL graft, well vascularized.",
    "Scars from an open meniscectomy on the lateral side.",
    "We found the tunnels of an ACL reconstruction that failed.",
    "The medial side had its partial meniscectomy in March, smooth now.",
    "Loose bodies were removed at the first scope, none today.",
    "Her osteotomy from two thousand twenty is healed.",
    "The last case was an ACL reconstruction, this one is quicker.",
    "Old meniscectomy, the rim is thin.",
)


@pytest.mark.parametrize("text", LEFT_BEHIND)
def test_what_an_earlier_operation_left_is_no_work_of_today(text: str) -> None:
    note = f"Right knee, lateral meniscus transplant. {text} Slot eight millimeters wide. Graft pulled in."
    done = [p["code"] for p in facts(note, "procedures") if p.get("status") == "performed"]
    assert done == ["meniscus-transplant"]
    assert not {"partial-meniscectomy", "loose-body-removal"} & {
        code for code, status in steps(note).items() if status == "performed"
    }


def test_what_is_found_of_an_old_graft_is_found_today() -> None:
    text = "Right knee lateral meniscus repair. The old ACL graft is intact. The old graft sits in a nine mm tunnel."
    assert [(f["structure"], f["finding"]) for f in facts(text, "findings")] == [("acl", "intact")]
    assert [f.get("role") for f in facts(text, "measurements")] == ["reference"]
