"""Stitches told by what was said before them: the same again, two more below, 'all vertical' at the end of a list.

That stitches are told so is common practice, no source; the sentences are the project's own.
"""

from __future__ import annotations

import pytest

from .reading import facts

AI, IO, OI = "all_inside", "inside_out", "outside_in"
V, H = "vertical_mattress", "horizontal_mattress"
S, I = "superior", "inferior"  # noqa: E741
WHITE = {"tissue": "root", "color": "white", "form": "tape", "configuration": "cinch"}
BLUE = WHITE | {"color": "blue"}


def told(text: str) -> list[dict[str, object]]:
    return facts(text, "sutures")


def stitch(technique: str, count: int | None, **more: str) -> dict[str, object]:
    return {"technique": technique, **({"count": count} if count else {}), **more}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "Meniscus. Posterior horn first, inside-out, four, two-oh, upper surface. Then the lower"
            " surface of the same"
            " horn: two more. Body: three, upper surface, none below. Everything vertical, some six millimeters apart.",
            [
                stitch(IO, 4, configuration=V, usp_size="2-0", region="posterior_horn", surface=S),
                stitch(IO, 2, configuration=V, usp_size="2-0", region="posterior_horn", surface=I),
                stitch(IO, 3, configuration=V, usp_size="2-0", region="body", surface=S),
            ],
        ),
        (
            "Meniscus. I put in eight sutures inside-out: posterior horn three above and two below, body two above and"
            " one below, all 2-0 vertical mattress.",
            [
                stitch(IO, 3, configuration=V, usp_size="2-0", region="posterior_horn", surface=S),
                stitch(IO, 2, configuration=V, usp_size="2-0", region="posterior_horn", surface=I),
                stitch(IO, 2, configuration=V, usp_size="2-0", region="body", surface=S),
                stitch(IO, 1, configuration=V, usp_size="2-0", region="body", surface=I),
            ],
        ),
        (
            "Body of the meniscus: eight, number eight, inside-out sutures, two-oh, five over the top, three on the"
            " undersurface.",
            [
                stitch(IO, 5, usp_size="2-0", region="body", surface=S),
                stitch(IO, 3, usp_size="2-0", region="body", surface=I),
            ],
        ),
        (
            "Meniscus. Inside-out sutures, 2-0, six of them, vertical mattress, three on top and three on the bottom.",
            [
                stitch(IO, 3, configuration=V, usp_size="2-0", surface=S),
                stitch(IO, 3, configuration=V, usp_size="2-0", surface=I),
            ],
        ),
        (
            "Meniscus. Six 2-0 sutures were placed inside-out, three to each side, above and below, vertical.",
            [
                stitch(IO, 3, configuration=V, usp_size="2-0", surface=S),
                stitch(IO, 3, configuration=V, usp_size="2-0", surface=I),
            ],
        ),
        (
            "Meniscus. I ran five inside-out sutures, 2-0, vertical mattress, first one at the back of"
            " the body and then"
            " on going forward.",
            [stitch(IO, 5, configuration=V, usp_size="2-0")],
        ),
        (
            "Meniscus. A pair of all-inside implants went in the posterior horn and a trio of inside-out 2-0 sutures in"
            " the body.",
            [
                stitch(AI, 2, region="posterior_horn"),
                stitch(IO, 3, region="body", usp_size="2-0"),
            ],
        ),
        (
            "Meniscus. Inside-out stitches went in as vertical mattress, five in number, 2-0, body.",
            [stitch(IO, 5, configuration=V, usp_size="2-0", region="body")],
        ),
        (
            "Meniscus. Suture material: 2-0 nonabsorbable. Technique: inside-out. Number: six. Configuration: vertical"
            " mattress.",
            [stitch(IO, 6, configuration=V, usp_size="2-0")],
        ),
        (
            "Meniscus. In the posterior horn there are two all-inside stitches, one vertical and one horizontal, and in"
            " the body one vertical inside-out stitch.",
            [
                stitch(AI, 1, configuration=V, region="posterior_horn"),
                stitch(AI, 1, configuration=H, region="posterior_horn"),
                stitch(IO, 1, configuration=V, region="body"),
            ],
        ),
        (
            "Meniscus. Now all-inside. Three vertical mattress stitches in the posterior horn, then two in the body, so"
            " that makes five implants.",
            [
                stitch(AI, 3, configuration=V, region="posterior_horn"),
                stitch(AI, 2, configuration=V, region="body"),
            ],
        ),
        (
            "Meniscus. Three inside-outs up top, two inside-outs underneath, 2-0, verticals, all of them.",
            [
                stitch(IO, 3, configuration=V, usp_size="2-0", surface=S),
                stitch(IO, 2, configuration=V, usp_size="2-0", surface=I),
            ],
        ),
        (
            "Meniscus stitches: body 3 inside-out vertical 2-0, anterior horn 1 outside-in horizontal 0.",
            [
                stitch(IO, 3, configuration=V, usp_size="2-0", region="body"),
                stitch(OI, 1, configuration=H, usp_size="0", region="anterior_horn"),
            ],
        ),
        (
            "Meniscus. Then size zero suture was shuttled. Like this, three outside-in stitches were"
            " taken in the anterior"
            " horn.",
            [stitch(OI, 3, usp_size="0", region="anterior_horn")],
        ),
        (
            "Meniscus. Posterior horn, three all-inside implants. Body, four inside-out stitches. All in all that makes"
            " seven stitches.",
            [stitch(AI, 3, region="posterior_horn"), stitch(IO, 4, region="body")],
        ),
        (
            "Meniscus graft: a traction suture was put in its posterior horn.",
            [{"role": "traction", "region": "posterior_horn", "tissue": "graft"}],
        ),
    ],
)
def test_told(text: str, expected: list[dict[str, object]]) -> None:
    assert told(text) == expected


@pytest.mark.parametrize(
    "text",
    [
        "Meniscus root torn off. Load the white tape. First bite through it, a cinch. Second bite, the"
        " blue tape, also a"
        " cinch.",
        "Meniscus. White tape goes through the root and gets cinched. Same again with the blue tape.",
        "Meniscus. The root was stitched with a white tape in cinch fashion. A second cinch with blue tape was placed.",
        "Meniscus root: two tapes, white and blue, each a cinch.",
    ],
)
def test_bites_of_a_root(text: str) -> None:
    found = [{k: v for k, v in f.items() if k != "count"} for f in told(text)]
    assert found == [WHITE, BLUE]


@pytest.mark.parametrize(
    "text",
    [
        "Meniscus. The white tape was cinched in the root. The blue cannula was used too.",
        "Meniscus. The white tape was cinched in the root. We might have done the same with a blue tape.",
        "Meniscus. The white tape was cinched in the root. A blue tape was not needed as well.",
    ],
)
def test_another_is_no_more_of_the_same(text: str) -> None:
    assert [f["color"] for f in told(text)] == ["white"]


def test_a_sum_that_differs_is_announced() -> None:
    text = "Meniscus. Posterior horn, three all-inside. Body, four inside-out stitches. That makes eight stitches."
    assert [f["count"] for f in told(text)] == [3, 4]
    assert [f["count"] for f in facts(text, "claims")] == [8]
