"""Looks said once for several sutures, or put right later; places of both ends, of none, and moved.

That sutures are told so is common practice, no source; the sentences are the project's own.
"""

from __future__ import annotations

import pytest

from .reading import facts

Told = dict[str, tuple[str | None, str | None, str | None]]


def told(text: str) -> Told:
    """(color, pattern, form) at each place of the graft."""
    found = [f for f in facts(f"Meniscus. {text}", "sutures") if f["tissue"] == "graft"]
    out = {f["region"][0] + f["surface"][0]: (f.get("color"), f.get("pattern"), f.get("form")) for f in found}
    assert len(out) == len(found), found
    return out


TAPES: Told = {"ps": ("white", None, "tape"), "pi": ("blue", None, "tape")}
PLAIN: Told = {"ps": ("white", None, None), "pi": ("blue", None, None)}


@pytest.mark.parametrize(
    "text",
    [
        "On the graft both posterior sutures are tapes, white superiorly and blue inferiorly.",
        "On the graft posterior superior white and posterior inferior blue, both tapes.",
        "Graft: posterior superior white, posterior inferior blue. These are tapes.",
        "All on the graft are tapes. Posterior superior white, posterior inferior blue.",
        "Tapes at the back of the graft, white superior, blue inferior.",
        "At the back of the graft the tape on top is white and the tape underneath is blue.",
    ],
)
def test_a_form_said_of_several(text: str) -> None:
    assert told(text) == TAPES


def test_tapes_beside_sutures() -> None:
    text = (
        "Graft, the two upper tapes: white in front, black behind. The two lower sutures: blue in front, green behind."
    )
    assert told(text) == {
        "as": ("white", None, "tape"),
        "ps": ("black", None, "tape"),
        "ai": ("blue", None, "suture"),
        "pi": ("green", None, "suture"),
    }


@pytest.mark.parametrize(
    "text",
    [
        "Graft sutures: posterior superior white, posterior inferior blue.",
        "A tape was considered. The graft sutures: posterior superior white, posterior inferior blue.",
    ],
)
def test_what_all_are_called_is_no_form(text: str) -> None:
    assert told(text) == PLAIN


@pytest.mark.parametrize(
    "text",
    [
        "At the back of the graft blue above, make that striped blue, and white below.",
        "At the back of the graft blue above and white below. The blue one is striped, actually.",
        "At the back of the graft white below; above, blue... well, call it striped.",
    ],
)
def test_a_pattern_put_right_later(text: str) -> None:
    assert told(text) == {"ps": ("blue", "striped", None), "pi": ("white", None, None)}


@pytest.mark.parametrize(
    "text",
    [
        "At both ends of the graft, white above and blue below.",
        "All top sutures of the graft are white and all bottom ones are blue.",
    ],
)
def test_both_ends(text: str) -> None:
    white, blue = ("white", None, None), ("blue", None, None)
    assert told(text) == {"as": white, "ps": white, "ai": blue, "pi": blue}


@pytest.mark.parametrize(
    "text",
    [
        "Nothing on the underside of the graft at the back; only white on the upper side there.",
        "At the back of the graft I left the bottom alone and put white in the top.",
        "Graft, posterior inferior white. Correction, that one is posterior superior.",
        "We would use white for the top of the graft's back end, and white it was.",
    ],
)
def test_only_where_one_lies(text: str) -> None:
    assert told(text) == {"ps": ("white", None, None)}


def test_the_end_named_before_holds_for_the_sentence_after() -> None:
    text = "The graft behind the gap. A white suture went through its femoral side, a blue one through its tibial side."
    assert {k: v[0] for k, v in told(text).items()} == {"ps": "white", "pi": "blue"}
