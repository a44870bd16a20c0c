"""What is announced, asked for, of another time or of a part, and stitches told by their number.

That surgeons talk so is common practice, no source; the sentences are the project's own.
"""

from __future__ import annotations

import pytest

from .reading import facts, flags, measured, steps


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("Left knee scope. The loose body is stuck, we'll do an arthrotomy then.", "arthrotomy"),
        ("Right knee meniscus scope. It is stiff, so I'll manipulate the knee.", "manipulation"),
        ("Left knee. Bare bone on the condyle of the knee, I'm going to microfracture that.", "microfracture"),
    ],
)
def test_what_is_announced_as_it_is_decided_is_planned(text: str, code: str) -> None:
    assert steps(text)[code] == "planned"


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("Left knee scope. We'll do an arthrotomy then. Arthrotomy done, loose body out.", "arthrotomy"),
        ("Right knee scope, meniscus flap. We'll trim the flap. There, a stable rim.", "partial-meniscectomy"),
        ("Right knee scope. Now we're going to microfracture the condyle.", "microfracture"),
    ],
)
def test_what_is_told_as_it_is_done_is_performed(text: str, code: str) -> None:
    assert steps(text)[code] == "performed"


def test_work_at_the_time_of_an_earlier_operation_is_none_of_today() -> None:
    earlier = "Left knee meniscus. ACL reconstruction elsewhere in 2018. The meniscus was trimmed in the same session."
    today = "Left knee. We reconstructed the ACL. The medial meniscus was trimmed in the same session."
    assert "performed" not in steps(earlier).values()
    assert steps(today)["partial-meniscectomy"] == "performed"


@pytest.mark.parametrize(
    "text",
    [
        "Left meniscus transplant. I asked for a graft of 22 by 9. The graft was cut at 20 by 8 millimeters.",
        "Left meniscus transplant. Second choice graft 22 by 9, still frozen. Graft cut at 20 by 8 millimeters.",
        "Left meniscus transplant. The reserve graft, 22 by 9, was not thawed. Graft cut at 20 by 8 millimeters.",
    ],
)
def test_a_graft_asked_for_or_left_frozen_is_only_a_reference(text: str) -> None:
    sizes = {(what, value) for what, value, role in measured(text, "role") if role != "reference"}
    assert sizes == {("graft.ap_length", 20), ("graft.width", 8)}


def test_a_size_of_a_plug_is_none_of_the_graft() -> None:
    found = measured(
        "Whole meniscus transplant. Now the plugs of the graft. The posterior one is eight millimeters wide."
    )
    assert "graft.width" not in {what for what, _ in found}


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("Left medial meniscus repair inside-out. Five stitches, one pulled out, so four.", 4),
        ("Left medial meniscus repair inside-out. Six stitches. Two of them tore out.", 4),
        ("Left medial meniscus repair inside-out. Five stitches, one broke and was replaced.", 5),
        ("Left medial meniscus, inside-out repair. Tear reduced, bed rasped. The capsule exposed. Five stitches.", 5),
    ],
)
def test_stitches_by_their_number_have_the_technique_in_force(text: str, count: int) -> None:
    told = [(f["technique"], f["count"]) for f in facts(text, "sutures")]
    assert told == [("inside_out", count)]


def test_stitches_of_no_technique_are_asked_about() -> None:
    assert "suture-count-mismatch" in {flag.check for flag in flags("Left medial meniscus. Four stitches.")}


def test_motion_told_bare_is_a_plan_among_plans_and_else_asked_about() -> None:
    (plan,) = (f for f in facts("Meniscus done. Partial weight. Zero to ninety.", "plan") if "low" in f)
    assert (plan["item"], plan["low"], plan["high"]) == ("brace-range", 0, 90)
    text = "Right knee meniscus. I looked at everything. Zero to one twenty. Good."
    assert "unread-number" in {flag.check for flag in flags(text)} or measured(text)
