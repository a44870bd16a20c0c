"""Stitches of a repair: technique, way, number, size and place around one word of technique (contract, section 4)."""

from __future__ import annotations

import pytest

from .reading import facts


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "Three all-inside vertical mattress stitches were placed in the posterior horn of the medial meniscus.",
            [{"technique": "all_inside", "configuration": "vertical_mattress", "region": "posterior_horn", "count": 3}],
        ),
        (
            "Two 2-0 inside-out sutures, vertical mattress, were placed in the body of the lateral meniscus.",
            [
                {
                    "technique": "inside_out", "configuration": "vertical_mattress", "region": "body", "count": 2,
                    "usp_size": "2-0",
                }
            ],
        ),
        (
            "Two two-oh outside-in sutures were placed in the anterior horn of the meniscus.",
            [{"technique": "outside_in", "region": "anterior_horn", "count": 2, "usp_size": "2-0"}],
        ),
        # split by surface: a total beside its parts is no fact of its own (section 8, rule 1)
        (
            "Seven inside-out stitches were placed in the meniscus, four above and three below.",
            [
                {"technique": "inside_out", "surface": "superior", "count": 4},
                {"technique": "inside_out", "surface": "inferior", "count": 3},
            ],
        ),
        # split by way of stitching
        (
            "One cross stitch and one horizontal mattress, all-inside, in the meniscus.",
            [
                {"technique": "all_inside", "configuration": "cross", "count": 1},
                {"technique": "all_inside", "configuration": "horizontal_mattress", "count": 1},
            ],
        ),
        # two techniques share one sentence out
        (
            "Three all-inside stitches went in the posterior horn of the meniscus, and two outside-in stitches in the"
            " anterior horn.",
            [
                {"technique": "all_inside", "region": "posterior_horn", "count": 3},
                {"technique": "outside_in", "region": "anterior_horn", "count": 2},
            ],
        ),
        # implants of the repair are stitches (and devices, section 8, rule 10)
        ("Four all-inside implants were used in the meniscus.", [{"technique": "all_inside", "count": 4}]),
    ],
)  # fmt: skip
def test_stitches(text: str, expected: list[dict[str, object]]) -> None:
    assert facts(text, "sutures") == expected


def test_told_twice_is_one_fact() -> None:
    text = (
        "Three all-inside stitches were placed in the body of the medial meniscus. "
        "To sum up, three all-inside stitches in the body of the medial meniscus."
    )
    assert len(facts(text, "sutures")) == 1


@pytest.mark.parametrize(
    "text",
    [
        "All-inside stitches were not needed in the meniscus.",
        "Two all-inside stitches were considered for the meniscus.",
        "If the meniscus gapes two all-inside stitches could be added.",
        "I usually put three all-inside stitches in a meniscus.",
        "In two thousand ten he had three all-inside stitches in the meniscus.",
    ],
)
def test_stitches_that_were_not_placed(text: str) -> None:
    assert not facts(text, "sutures")


@pytest.mark.parametrize(
    "text",
    [
        "After the meniscus repair the skin was closed with three 3-0 nylon simple sutures.",
        "The knee portals were closed with two simple stitches.",
    ],
)
def test_skin_sutures_are_none(text: str) -> None:
    """Contract, section 8, rule 10."""
    assert not facts(text, "sutures")


def test_a_technique_alone_is_no_stitch() -> None:
    assert not facts("The medial meniscus was repaired by an all-inside technique.", "sutures")


def test_sizes_and_spacing_are_no_counts() -> None:
    text = "Inside-out stitches were placed in the meniscus five millimeters apart with number two suture."
    assert [f.get("count") for f in facts(text, "sutures")] in ([], [None])
