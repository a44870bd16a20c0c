"""Sutures told in words that no reading takes are asked about; sutures only handled, or no sutures at all, are not.

The sentences are the project's own.
"""

from __future__ import annotations

import pytest

from .reading import facts, flags

NATIVE = (
    "Native meniscus: posterior superior white, posterior inferior blue, anterior superior green, anterior inferior"
    " black. "
)


@pytest.mark.parametrize(
    "text",
    [
        "Native meniscus. At twelve o'clock white, at six o'clock blue.",
        "Native meniscus sutures: white for corner A, blue for corner B, green for corner C, black for corner D.",
        "I placed a white and a blue suture in the native meniscus posteriorly.",
        "A purple tape was passed through the native stump of the meniscus.",
        "The native meniscus was sutured with white deep and blue shallow at the rear.",
        "Meniscus. Posterior leaf white and blue, anterior leaf green and black, native.",
    ],
)
def test_sutures_that_no_reading_takes_are_asked_about(text: str) -> None:
    assert not facts(text, "sutures")
    assert [f.check for f in flags(text)] == ["term-uncertain"]


@pytest.mark.parametrize(
    "text",
    [
        NATIVE + "The white and the blue were retrieved through the cannula and sorted.",
        NATIVE + "The white went up through the posterior tunnel, the blue through the anterior one.",
        NATIVE + "The skin was closed with a purple suture.",
        "Meniscus. White drapes, blue gown, green light on the tower.",
        "The meniscus tear ran through the red white zone, into the white white zone.",
        "The meniscus was left with a white fibrous rim.",
        "Native meniscus: posterior superior white, no, green.",
        "Meniscus. Usually a white tape goes to the back and a blue one to the front, above and below.",
    ],
)
def test_nothing_is_asked_where_none_is_lost(text: str) -> None:
    assert not flags(text)


@pytest.mark.parametrize(
    "said", ["Four stitches.", "Four stitches in the body.", "We put four stitches in the body, freehand."]
)
def test_stitches_of_no_known_technique_are_asked_about(said: str) -> None:
    text = f"Left knee, medial meniscus tear. {said}"
    assert not facts(text, "sutures")
    assert "suture-count-mismatch" in [f.check for f in flags(text)]


@pytest.mark.parametrize("said", ["The skin was closed with four stitches.", "Two stitches in the skin."])
def test_stitches_of_the_skin_are_not(said: str) -> None:
    assert not [f for f in flags(f"Left knee, medial meniscus tear. {said}") if f.check == "suture-count-mismatch"]


def test_a_color_lost_from_a_list_that_was_read() -> None:
    text = "Native meniscus: white posterior superior, blue posterior inferior, purple in between."
    assert [f["color"] for f in facts(text, "sutures")] == ["white", "blue"]
    assert [f.check for f in flags(text)] == ["term-uncertain"]
