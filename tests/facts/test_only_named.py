"""A way of stitching, or a tool, that a sentence only names: what lay ready or was spoken of is never told as done.

The wordings are the project's own; that surgeons speak so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts

WAYS = {"outside-in-stitch": "outside-in", "inside-out-stitch": "inside-out", "all-inside-stitch": "all-inside"}
ONLY_NAMED = (
    "We were set up for an {} with two needles and a loop.", "The table was laid for an {}; nothing in front moved.",
    "Nothing in the anterior horn that needed an {}.", "An {} is a nuisance in a heavy leg.",
    "This looked like an {} job on the scan.", "The front looked after itself, so the {} was let go.",
    "With the {} ready on the stand I looked once more, and it was stable.", "My chief swears by an {} here.",
    "That part was earmarked for an {} and got nothing.", "So it is a trim, rather than the {} we had booked.",
    "I have in my hand an {}, that I am not going to use.",
    "{}: prepared, not required.", "We let the {} go.", "There was nothing there for an {}.",
    "I expected to end up with an {}, and the horn was solid.",
)  # fmt: skip
DONE = (
    "In front there was no way round an {}.", "I had hoped to avoid an {}, but the front gaped, so one went in.",
    "So an {} it was.", "It took an {} to close the front.", "An {} saved the day at the anterior horn.",
    "The anterior gap called for an {}, which I placed through a nick.", "An {} at the front after all.",
    "The {} set was on the field for the horn and was used for two stitches.", "The last one was an {}.",
    "Where nothing else would reach I put one {}.", "We had not planned on it but ended up with an {} as well.",
    "I had to do an {} in front.",
)  # fmt: skip


def _done(said: str) -> set[object]:
    text = f"Left knee. The meniscus was torn at the back. {said[0].upper()}{said[1:]} The patient was woken."
    return {s["code"] for s in facts(text, "steps") if s["status"] == "performed"}


@pytest.mark.parametrize("said", ONLY_NAMED)
@pytest.mark.parametrize("code", WAYS)
def test_a_way_of_stitching_that_is_only_named_is_not_done(code: str, said: str) -> None:
    assert code not in _done(said.format(WAYS[code]))


@pytest.mark.parametrize("said", DONE)
@pytest.mark.parametrize("code", WAYS)
def test_a_way_of_stitching_that_is_done_is_told_so(code: str, said: str) -> None:
    assert code in _done(said.format(WAYS[code]))


@pytest.mark.parametrize("tool", ["rasp", "awl"])
@pytest.mark.parametrize("said", ["The {} was on the field.", "The {} was only on the back table."])
def test_a_tool_that_lay_in_the_room_did_nothing(tool: str, said: str) -> None:
    assert _done(said.format(tool)) == set()


def test_a_purpose_denies_nothing() -> None:
    assert _done("I put a cannula in so that no fat would get between the sutures.") == {"cannula-placement"}
