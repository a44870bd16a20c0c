"""The graft carries the native sutures, color for color: said in many ways, they are the same four sutures.

Common practice, no source: in a segmental transplant each suture of the native meniscus has its partner in the graft.
"""

from __future__ import annotations

import pytest

from .reading import facts

TABLE = "white posterior superior, blue posterior inferior, green anterior superior, black anterior inferior"
HEAD = "Left knee lateral meniscus segmental transplant. "
FOUR = {
    ("posterior", "superior", "white"), ("posterior", "inferior", "blue"),
    ("anterior", "superior", "green"), ("anterior", "inferior", "black"),
}  # fmt: skip


def sutures(text: str, tissue: str) -> set[tuple[object, ...]]:
    return {(f["region"], f["surface"], f.get("color")) for f in facts(text, "sutures") if f["tissue"] == tissue}


@pytest.mark.parametrize(
    "said",
    [
        "Four sutures were passed through the graft to match.", "The graft got corresponding sutures.",
        "An identical set was passed through the graft.", "The same set of four was passed through the graft.",
        "The graft sutures follow the native pattern.", "The native layout was transferred to the graft.",
        "The graft as well.", "The graft sutures as above.", "The graft was sutured accordingly.",
        "In the graft the sutures went in as they did in the native.", "Their counterparts went through the graft.",
        "On the back table I passed the same four through the graft.", "Similarly, sutures were passed in the graft.",
        "Sutures were passed through the graft in their respective positions.", "The graft was sutured similarly.",
        "Color by color, corner by corner, through the graft.", "Correspondingly, four were placed in the graft.",
        "The graft sutures were passed, each the color of its native partner.", "Graft, same.", "Ditto on the graft.",
        "White, blue, green and black were passed through the graft.", "Graft: black, green, blue, white.",
        "All four colors were passed through the graft.", "The graft sutures went in by color.",
    ],
)  # fmt: skip
def test_the_graft_has_the_same(said: str) -> None:
    text = f"{HEAD}Four sutures were passed through the native meniscus: {TABLE}. {said} The graft was delivered."
    assert sutures(text, "native") == sutures(text, "graft") == FOUR


@pytest.mark.parametrize(
    "text",
    [
        f"{TABLE[0].upper()}{TABLE[1:]}, that goes for both native and graft.",
        f"The graft will get the same colors as the native side. Native sutures: {TABLE}. Four sutures were passed"
        " through the graft.",
    ],
)
def test_said_ahead_or_of_both(text: str) -> None:
    assert sutures(HEAD + text, "native") == sutures(HEAD + text, "graft") == FOUR


@pytest.mark.parametrize(
    "said", ["The graft was thawed.", "The graft will get the same colors.", "The graft went through the same portal."]
)
def test_what_is_not_said_of_sutures_in_the_graft_gives_none(said: str) -> None:
    assert not sutures(f"{HEAD}Four sutures were passed through the native meniscus: {TABLE}. {said}", "graft")
