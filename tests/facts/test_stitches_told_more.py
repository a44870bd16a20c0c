"""More stitches told in many words, as in `test_stitches_told.py`; common practice, no source."""

from __future__ import annotations

import pytest

from .reading import facts

AI, IO, OI = "all_inside", "inside_out", "outside_in"
V, H = "vertical_mattress", "horizontal_mattress"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "Two all-inside horizontal mattress stitches held the posterior horn of the meniscus, one all-inside "
            "vertical mattress held the body.",
            [
                {"technique": AI, "count": 2, "configuration": H, "region": "posterior_horn"},
                {"technique": AI, "count": 1, "configuration": V, "region": "body"},
            ],
        ),
        (
            "Nine stitches were placed in the meniscus. In the posterior horn I used three all-inside implants in "
            "a horizontal mattress configuration. In the body I used four two-oh braided sutures, inside-out, in "
            "a vertical mattress configuration, six millimeters apart.",
            [
                {"technique": AI, "count": 3, "configuration": H, "region": "posterior_horn"},
                {"technique": IO, "count": 4, "configuration": V, "region": "body", "usp_size": "2-0"},
            ],
        ),
        (
            "Meniscus sutures, five altogether. Two all-inside, cross configuration, number two. Two inside-out, "
            "horizontal mattress, two-oh.",
            [
                {"technique": AI, "count": 2, "configuration": "cross", "usp_size": "2"},
                {"technique": IO, "count": 2, "configuration": H, "usp_size": "2-0"},
            ],
        ),
        (
            "The medial meniscus got all-inside sutures, two in the posterior horn and one in the body.",
            [
                {"technique": AI, "count": 2, "region": "posterior_horn"},
                {"technique": AI, "count": 1, "region": "body"},
            ],
        ),
        (
            "The meniscus needed three more inside-out stitches for the body, and these were vertical too.",
            [
                {"technique": IO, "count": 3, "configuration": V, "region": "body"},
            ],
        ),
        (
            "The skin of the knee was closed with two simple sutures of three-oh after the meniscus repair.",
            [],
        ),
        (
            "I thought of two all-inside stitches for the meniscus but did without.",
            [],
        ),
        (
            "The tails of the all-inside sutures in the meniscus were cut two millimeters long.",
            [],
        ),
        (
            "All-inside stitches in the meniscus four millimeters apart.",
            [],
        ),
        (
            "right medial meniscus. tear rasped. 4 all inside implants used. 2 post horn, 2 body. all vert mattress.",
            [
                {"region": "posterior_horn", "count": 2, "technique": AI, "configuration": V},
                {"region": "body", "count": 2, "technique": AI, "configuration": V},
            ],
        ),
        (
            "Lateral meniscus repaired with six sutures, inside-out, size 2-0, vertical mattress; three passed "
            "above the meniscus and three passed below.",
            [
                {"surface": "superior", "count": 3, "technique": IO, "configuration": V, "usp_size": "2-0"},
                {"surface": "inferior", "count": 3, "technique": IO, "configuration": V, "usp_size": "2-0"},
            ],
        ),
        (
            "For the posterior horn of the meniscus I used all-inside devices, three. For the body, inside-out, "
            "four sutures, two oh. For the anterior horn, outside-in, one suture, number one.",
            [
                {"region": "posterior_horn", "technique": AI, "count": 3},
                {"region": "body", "technique": IO, "usp_size": "2-0", "count": 4},
                {"region": "anterior_horn", "technique": OI, "usp_size": "1", "count": 1},
            ],
        ),
        (
            "The meniscal tear was repaired with two inside-out sutures on the femoral side and two on the tibial "
            "side, in vertical mattress configuration.",
            [
                {"surface": "superior", "technique": IO, "count": 2, "configuration": V},
                {"configuration": V, "surface": "inferior", "technique": IO, "count": 2},
            ],
        ),
        (
            "Meniscus. We placed five inside-out sutures. The first three were vertical mattress, the last two "
            "horizontal.",
            [
                {"configuration": V, "count": 3, "technique": IO},
                {"configuration": H, "count": 2, "technique": IO},
            ],
        ),
        (
            "There are four sutures in the meniscus now, two inside-out in the body and two outside-in in the "
            "anterior horn.",
            [
                {"region": "body", "technique": IO, "count": 2},
                {"region": "anterior_horn", "technique": OI, "count": 2},
            ],
        ),
        (
            "The medial meniscus was stabilized with 3 all-inside vertical mattress sutures, 2 superior and 1 "
            "inferior.",
            [
                {"surface": "superior", "technique": AI, "count": 2, "configuration": V},
                {"surface": "inferior", "technique": AI, "count": 1, "configuration": V},
            ],
        ),
        (
            "The posterior meniscus root was secured with two simple cinch stitches using white tape and blue tape.",
            [
                {
                    "configuration": "cinch",
                    "color": "white",
                    "form": "tape",
                    "region": "posterior_root",
                    "tissue": "root",
                },
                {
                    "color": "blue",
                    "form": "tape",
                    "tissue": "root",
                    "configuration": "cinch",
                    "region": "posterior_root",
                },
            ],
        ),
        (
            "Through the meniscus root went one white and one green number two suture, both luggage tagged.",
            [
                {
                    "color": "white",
                    "tissue": "root",
                    "count": 1,
                    "configuration": "luggage_tag",
                    "usp_size": "2",
                    "form": "suture",
                },
                {
                    "configuration": "luggage_tag",
                    "color": "green",
                    "form": "suture",
                    "tissue": "root",
                    "usp_size": "2",
                    "count": 1,
                },
            ],
        ),
        (
            "Meniscus root: white tape, luggage tag. Blue tape, luggage tag, five millimeters from the first.",
            [
                {"configuration": "luggage_tag", "color": "white", "form": "tape", "tissue": "root"},
                {"configuration": "luggage_tag", "color": "blue", "form": "tape", "tissue": "root"},
            ],
        ),
        (
            "so the lateral meniscus got three all inside then two inside out two oh vertical mattress in the "
            "body and that was it",
            [
                {"technique": AI, "count": 3},
                {"configuration": V, "region": "body", "technique": IO, "usp_size": "2-0", "count": 2},
            ],
        ),
        (
            "Hybrid repair of the meniscus: all-inside x2 posterior horn, inside-out x4 body (2-0, vertical "
            "mattress), outside-in x1 anterior horn (#0).",
            [
                {"region": "posterior_horn", "technique": AI, "count": 2},
                {"configuration": V, "region": "body", "technique": IO, "usp_size": "2-0", "count": 4},
                {"region": "anterior_horn", "technique": OI, "usp_size": "0", "count": 1},
            ],
        ),
        (
            "In the meniscus all sutures, seven of them, are inside-out and two-oh and vertical.",
            [
                {"configuration": V, "technique": IO, "usp_size": "2-0", "count": 7},
            ],
        ),
        (
            "Meniscus graft: the posterior horn was fixed by three all-inside implants, the body by five "
            "inside-out two-oh sutures and the anterior horn by two outside-in sutures of number zero.",
            [
                {"region": "posterior_horn", "tissue": "graft", "technique": AI, "count": 3},
                {"region": "body", "technique": IO, "usp_size": "2-0", "count": 5},
                {"region": "anterior_horn", "technique": OI, "usp_size": "0", "count": 2},
            ],
        ),
        (
            "The body of the meniscus took four sutures inside out. Each is a vertical mattress of two-oh.",
            [
                {"region": "body", "technique": IO, "count": 4, "configuration": V, "usp_size": "2-0"},
            ],
        ),
        (
            "A total of six sutures was used in the meniscus, all inside-out vertical mattress two-oh.",
            [
                {"configuration": V, "technique": IO, "usp_size": "2-0", "count": 6},
            ],
        ),
        (
            "Meniscus. Sutures: all-inside 3 (vertical), inside-out 2 (horizontal).",
            [
                {"configuration": V, "technique": AI, "count": 3},
                {"configuration": H, "technique": IO, "count": 2},
            ],
        ),
        (
            "Two horizontal mattress all-inside stitches went into the superior leaf of the meniscus and one "
            "vertical one into the inferior leaf.",
            [
                {"configuration": H, "surface": "superior", "technique": AI, "count": 2},
                {"configuration": V, "surface": "inferior", "technique": AI, "count": 1},
            ],
        ),
        (
            "I placed three all-inside stitches in the meniscus and thought about a fourth but left it.",
            [
                {"technique": AI, "count": 3},
            ],
        ),
        (
            "Four passes with the inside-out needles gave me two vertical mattress sutures in the meniscus.",
            [
                {"configuration": V, "technique": IO, "count": 2},
            ],
        ),
        (
            "Meniscus body inside-out: two-oh, five, vertical, alternating top and bottom.",
            [
                {"configuration": V, "region": "body", "technique": IO, "usp_size": "2-0", "count": 5},
            ],
        ),
        (
            "The inside-out sutures of the meniscus were tied over the capsule one by one.",
            [],
        ),
        (
            "Two portals, then a third one posteromedially, and inside-out technique for the meniscus with four "
            "two-oh sutures.",
            [
                {"technique": IO, "usp_size": "2-0", "count": 4},
            ],
        ),
        (
            "Ripstop of the meniscus: one horizontal mattress all inside and one vertical all inside over it.",
            [
                {"configuration": H, "technique": AI, "count": 1},
                {"configuration": V, "technique": AI, "count": 1},
            ],
        ),
        (
            "All-inside, three, vertical mattress, two of them on the top of the meniscus, one underneath.",
            [
                {"surface": "superior", "technique": AI, "count": 2, "configuration": V},
                {"surface": "inferior", "technique": AI, "count": 1, "configuration": V},
            ],
        ),
        (
            "We used the all-inside technique in the meniscus for two stitches in the red-white zone.",
            [
                {"technique": AI, "count": 2},
            ],
        ),
        (
            "I tied the meniscus inside-out stitches, five of them, over the capsule at twenty degrees of flexion.",
            [
                {"technique": IO, "count": 5},
            ],
        ),
        (
            "The scrub counted eight inside-out sutures in the meniscus and I agree.",
            [
                {"technique": IO, "count": 8},
            ],
        ),
        (
            "Meniscus. Stitches one and two are all-inside and vertical, stitch three is inside-out and horizontal.",
            [
                {"configuration": V, "technique": AI, "count": 2},
                {"configuration": H, "technique": IO, "count": 1},
            ],
        ),
    ],
)
def test_more_stitches_told(text: str, expected: list[dict[str, object]]) -> None:
    def plain(found: list[dict[str, object]]) -> list[str]:
        return sorted(str(sorted(one.items())) for one in found)

    assert plain(facts(text, "sutures")) == plain(expected)
