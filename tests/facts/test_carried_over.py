"""Sutures through the graft of which nothing more is told are the native ones: common practice, no source."""

from __future__ import annotations

import pytest

from .reading import drafts, facts

HEAD = "Left knee lateral meniscus segmental transplant. Four sutures were passed through the native meniscus: "
NATIVE = {
    ("posterior", "superior", "white", "tape"), ("posterior", "inferior", "blue", None),
    ("anterior", "superior", "green", "tape"), ("anterior", "inferior", "black", None),
}  # fmt: skip
TABLE = "white tape posterior superior, blue posterior inferior, green tape anterior superior, black anterior inferior."


def of_graft(said: str) -> set[tuple[object, ...]]:
    told = [f for f in facts(f"{HEAD}{TABLE} {said} The graft was delivered.", "sutures") if f["tissue"] == "graft"]
    return {(f["region"], f.get("surface"), f.get("color"), f.get("form")) for f in told}


@pytest.mark.parametrize(
    "said",
    [
        "Sutures were passed through the graft.", "The graft was thawed and four sutures were passed through it.",
        "Two sutures were passed through each end of the graft.", "The graft sutures were placed on the back table.",
        "Two sutures were passed in front and two behind through the graft.", "Four sutures through the allograft.",
        "I passed the shuttles through the graft.", "The assistant passed the graft sutures.",
        "Each was carried through the graft.", "All four were passed through the graft.",
        "Those four then went into the graft.", "The graft, held by the assistant, received all four sutures.",
        "One by one the sutures were taken through the graft.", "The graft was armed with its four sutures.",
    ],
)  # fmt: skip
def test_sutures_through_the_graft_are_the_native_ones(said: str) -> None:
    assert of_graft(said) == NATIVE


@pytest.mark.parametrize(
    "said",
    [
        "No sutures were passed through the graft yet.", "Two sutures were passed through the graft.",
        "The posterior sutures were passed through the graft.", "Only the tapes were passed through the graft.",
        "The sutures will be passed through the graft.", "Other colors were passed through the graft.",
        "The graft sutures were passed, in a different order.", "Red and orange sutures were passed through the graft.",
        "Six sutures were passed through the graft.", "The graft was passed through the cannula.",
    ],
)  # fmt: skip
def test_what_is_told_otherwise_is_left_alone(said: str) -> None:
    assert not of_graft(said) & NATIVE


@pytest.mark.parametrize(
    "more",
    ["A fifth, purple, held the root of the graft.", "A traction suture, purple, went into the body of the graft."],
)
def test_one_more_in_the_graft_takes_none_away(more: str) -> None:
    assert of_graft(f"All four were passed through the graft. {more}") >= NATIVE


def test_one_of_the_graft_s_own_at_a_native_place_says_that_they_were_told() -> None:
    told = of_graft("Sutures were passed through the graft. In the graft, purple posterior superior.")
    assert ("posterior", "superior", "white", "tape") not in told


def test_what_is_only_done_so_is_less_sure_than_what_is_said() -> None:
    def certainty(said: str) -> set[float]:
        return {d.certainty for d in drafts(f"{HEAD}{TABLE} {said}", "sutures") if d.fields["tissue"] == "graft"}

    (done,), (same,) = certainty("Sutures were passed through the graft."), certainty("The same in the graft.")
    assert done < same


def test_the_evidence_is_what_tells_of_the_passage() -> None:
    text = f"{HEAD}{TABLE} Sutures were passed through the graft."
    told = [d.spans[0] for d in drafts(text, "sutures") if d.fields["tissue"] == "graft"]
    assert {text[s.start : s.end] for s in told} == {"Sutures were passed through the graft."}
