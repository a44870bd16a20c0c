"""What is said once and holds for more: the same again, all of one color, what was done behind what was not."""

from __future__ import annotations

import pytest

from .reading import facts, steps

LAID = "posterior superior purple, posterior inferior white, anterior superior blue, anterior inferior green."


def _native(text: str) -> set[object]:
    return {f.get("color") for f in facts(text, "sutures") if f["tissue"] == "native"}


@pytest.mark.parametrize("again", ["In the native the same.", "Identical to native.", "Same colors in the native rim."])
def test_the_sutures_of_the_graft_are_repeated_in_the_native_tissue(again: str) -> None:
    assert _native(f"Meniscus transplant. Graft {LAID} {again}") == {"purple", "white", "blue", "green"}


@pytest.mark.parametrize("other", ["The native rim was rasped in the same way.", "The native side is fine."])
def test_other_work_on_the_native_tissue_repeats_none(other: str) -> None:
    assert not _native(f"Meniscus transplant. Graft {LAID} {other}")


@pytest.mark.parametrize(
    ("said", "field", "value"), [("Both white.", "color", "white"), ("Both number 2.", "usp_size", "2")]
)
def test_what_is_said_of_all_stitches_holds_for_those_announced(said: str, field: str, value: str) -> None:
    (found,) = facts(f"Lateral meniscus root repair. I passed two sutures into the root. {said}", "sutures")
    assert (found["count"], found[field]) == (2, value)


@pytest.mark.parametrize(
    "text",
    [
        "Left knee. I did not do a microfracture just a chondroplasty.",
        "Left knee. No microfracture only chondroplasty of the trochlea.",
    ],
)
def test_behind_a_denial_just_opens_what_was_done(text: str) -> None:
    assert steps(text) == {"microfracture": "declined", "chondroplasty": "performed"}


def test_not_just_denies_nothing() -> None:
    done = steps("Left knee. We did not just do a chondroplasty, we also did a microfracture.")
    assert done == {"microfracture": "performed", "chondroplasty": "performed"}


def test_a_habit_that_was_not_kept_today_is_not_done() -> None:
    assert steps("Medial meniscus repair. I normally add a fibrin clot but today I did not.") == {
        "fibrin-clot": "declined"
    }
    assert not steps("Medial meniscus repair. Others normally add a fibrin clot but I do not.")


def test_the_other_pair_behind_a_pair_tied_top_to_bottom() -> None:
    text = (
        "Meniscus transplant. Native blue posterior superior, white posterior inferior, green anterior superior, black "
        "anterior inferior. Tied the posterior pair first, blue top to white bottom, then the anterior pair, green to "
        "black."
    )
    assert len(facts(text, "ties")) == 2
