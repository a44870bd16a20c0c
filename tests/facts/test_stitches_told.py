"""Stitches told in many words: totals and their parts, pronouns, afterthoughts, numbers behind their nouns.

A total beside its parts is no fact of its own (record contract, section 8, rule 1). The sentences are the project's
own; that stitches are told so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts, flags

AI, IO, OI = "all_inside", "inside_out", "outside_in"
V, H = "vertical_mattress", "horizontal_mattress"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "The repair of the meniscus took five all-inside implants. Three of these are on the superior "
            "surface, each one a vertical mattress. The other two are on the inferior surface, each one a "
            "horizontal mattress.",
            [
                {"technique": AI, "count": 3, "configuration": V, "surface": "superior"},
                {"technique": AI, "count": 2, "configuration": H, "surface": "inferior"},
            ],
        ),
        (
            "Four all-inside stitches in the meniscus, two vertical and two horizontal mattress.",
            [
                {"technique": AI, "count": 2, "configuration": V},
                {"technique": AI, "count": 2, "configuration": H},
            ],
        ),
        (
            "I used six inside-out sutures of two-oh in the meniscus. Four went on top, the remaining two underneath.",
            [
                {"technique": IO, "count": 4, "surface": "superior", "usp_size": "2-0"},
                {"technique": IO, "count": 2, "surface": "inferior", "usp_size": "2-0"},
            ],
        ),
        (
            "Six stitches in the meniscus: four all-inside at the posterior horn and two outside-in at the "
            "anterior horn.",
            [
                {"technique": AI, "count": 4, "region": "posterior_horn"},
                {"technique": OI, "count": 2, "region": "anterior_horn"},
            ],
        ),
        (
            "I passed two stitches through the root of the meniscus. One is a white tape, luggage tag. The other "
            "is a blue suture, number two, a simple stitch.",
            [
                {"configuration": "luggage_tag", "color": "white", "form": "tape", "tissue": "root"},
                {"configuration": "simple", "usp_size": "2", "color": "blue", "form": "suture", "tissue": "root"},
            ],
        ),
        (
            "Outside-in, four stitches in the meniscus. Number zero absorbable. Horizontal mattress.",
            [
                {"technique": OI, "count": 4, "configuration": H, "usp_size": "0"},
            ],
        ),
        (
            "From inside to outside I gave nine stitches to the meniscus, suture is two-oh braided, six of them "
            "on the upper surface and three on the lower, all as vertical mattress.",
            [
                {"technique": IO, "count": 6, "configuration": V, "surface": "superior", "usp_size": "2-0"},
                {"technique": IO, "count": 3, "configuration": V, "surface": "inferior", "usp_size": "2-0"},
            ],
        ),
        (
            "Five all-inside sutures were used in the medial meniscus, three of them vertical mattress and the "
            "other two horizontal.",
            [
                {"technique": AI, "count": 3, "configuration": V},
                {"technique": AI, "count": 2, "configuration": H},
            ],
        ),
        (
            "The posterior horn of the meniscus took three all-inside stitches and the body four inside-out "
            "stitches, all of them vertical mattress.",
            [
                {"technique": AI, "count": 3, "configuration": V, "region": "posterior_horn"},
                {"technique": IO, "count": 4, "configuration": V, "region": "body"},
            ],
        ),
        (
            "The meniscus tear was closed with eight inside-out sutures, 2-0, half of them above and half below.",
            [
                {"technique": IO, "count": 4, "surface": "superior", "usp_size": "2-0"},
                {"technique": IO, "count": 4, "surface": "inferior", "usp_size": "2-0"},
            ],
        ),
        (
            "We threw three vertical mattress stitches in the meniscus inside out with two-oh braided.",
            [
                {"technique": IO, "count": 3, "configuration": V, "usp_size": "2-0"},
            ],
        ),
        (
            "Meniscus repaired with a single all-inside device, horizontal mattress.",
            [
                {"technique": AI, "count": 1, "configuration": H},
            ],
        ),
        (
            "Two more all-inside implants were added in the body of the meniscus.",
            [
                {"technique": AI, "count": 2, "region": "body"},
            ],
        ),
        (
            "Meniscus repair. All-inside x3, vertical mattress. Inside-out x2, 2-0, horizontal mattress.",
            [
                {"technique": AI, "count": 3, "configuration": V},
                {"technique": IO, "count": 2, "configuration": H, "usp_size": "2-0"},
            ],
        ),
        (
            "Inside-out sutures to the lateral meniscus: 5, two-oh, vertical mattress, superior surface. Another "
            "3 on the inferior surface.",
            [
                {"technique": IO, "count": 5, "configuration": V, "surface": "superior", "usp_size": "2-0"},
                {"technique": IO, "count": 3, "configuration": V, "surface": "inferior", "usp_size": "2-0"},
            ],
        ),
        (
            "I placed four inside-out stitches in the meniscus, alternating superior and inferior, in vertical "
            "mattress fashion.",
            [
                {"technique": IO, "count": 4, "configuration": V},
            ],
        ),
        (
            "The first stitch in the meniscus was all-inside, a horizontal mattress; the second and third were "
            "vertical.",
            [
                {"technique": AI, "count": 1, "configuration": H},
                {"technique": AI, "count": 2, "configuration": V},
            ],
        ),
        (
            "Two loop sutures were passed through the meniscus root, one violet and one yellow, both number two.",
            [
                {"configuration": "loop", "usp_size": "2", "color": "violet", "tissue": "root"},
                {"configuration": "loop", "usp_size": "2", "color": "yellow", "tissue": "root"},
            ],
        ),
        (
            "A blue tape and a white suture were passed through the meniscus root, each as a cinch.",
            [
                {"configuration": "cinch", "color": "blue", "form": "tape", "tissue": "root"},
                {"configuration": "cinch", "color": "white", "form": "suture", "tissue": "root"},
            ],
        ),
        (
            "The meniscus root was grabbed with a simple cinch of number two white.",
            [
                {"configuration": "cinch", "usp_size": "2", "color": "white", "tissue": "root"},
            ],
        ),
        (
            "Posterior horn of the meniscus: 3 all-inside, vert mattress. Body: 4 x 2-0 inside-out, horiz "
            "mattress. Ant horn: 1 outside-in, #0.",
            [
                {"technique": AI, "count": 3, "configuration": V, "region": "posterior_horn"},
                {"technique": IO, "count": 4, "configuration": H, "region": "body", "usp_size": "2-0"},
                {"technique": OI, "count": 1, "region": "anterior_horn", "usp_size": "0"},
            ],
        ),
        (
            "Seven inside-out sutures of size two-oh were placed in the meniscus; four were superior and three "
            "inferior; every one was a vertical mattress.",
            [
                {"technique": IO, "count": 4, "configuration": V, "surface": "superior", "usp_size": "2-0"},
                {"technique": IO, "count": 3, "configuration": V, "surface": "inferior", "usp_size": "2-0"},
            ],
        ),
        (
            "Of the five inside-out sutures in the meniscus three lie on the femoral side and two on the tibial side.",
            [
                {"technique": IO, "count": 3, "surface": "superior"},
                {"technique": IO, "count": 2, "surface": "inferior"},
            ],
        ),
        (
            "There are now three all-inside stitches in the meniscus, a vertical, a horizontal, and a cross.",
            [
                {"technique": AI, "count": 1, "configuration": V},
                {"technique": AI, "count": 1, "configuration": H},
                {"technique": AI, "count": 1, "configuration": "cross"},
            ],
        ),
        (
            "The radial tear of the meniscus got two all-inside stitches, both horizontal mattress, one above, "
            "one below.",
            [
                {"technique": AI, "count": 1, "configuration": H, "surface": "superior"},
                {"technique": AI, "count": 1, "configuration": H, "surface": "inferior"},
            ],
        ),
        (
            "I put in three, no, four all-inside stitches in the meniscus, vertical mattress.",
            [
                {"technique": AI, "count": 4, "configuration": V},
            ],
        ),
        (
            "The anterior horn of the meniscus was brought back by outside-in stitching, two number zero sutures, "
            "simple.",
            [
                {"technique": OI, "count": 2, "configuration": "simple", "region": "anterior_horn", "usp_size": "0"},
            ],
        ),
        (
            "An all-inside stitch was put in the middle of the meniscus graft, vertical mattress.",
            [
                {"technique": AI, "count": 1, "configuration": V, "region": "middle", "tissue": "graft"},
            ],
        ),
        (
            "In the mid part of the meniscus graft I placed two inside-out two-oh stitches, horizontal mattress.",
            [
                {
                    "technique": IO,
                    "count": 2,
                    "configuration": H,
                    "region": "middle",
                    "usp_size": "2-0",
                    "tissue": "graft",
                },
            ],
        ),
        (
            "Two traction sutures of number two were placed in the posterior horn of the meniscus graft.",
            [
                {"count": 2, "region": "posterior_horn", "usp_size": "2", "tissue": "graft", "role": "traction"},
            ],
        ),
        (
            "The meniscus was repaired by two vertical and one horizontal mattress suture, all-inside.",
            [
                {"technique": AI, "count": 2, "configuration": V},
                {"technique": AI, "count": 1, "configuration": H},
            ],
        ),
        (
            "For the meniscus we went inside-out. Five sutures. Two-oh. Vertical mattress all.",
            [
                {"technique": IO, "count": 5, "configuration": V, "usp_size": "2-0"},
            ],
        ),
        (
            "Meniscus: six stitches inside-out, vertical mattress, three on each surface.",
            [
                {"technique": IO, "count": 3, "configuration": V, "surface": "superior"},
                {"technique": IO, "count": 3, "configuration": V, "surface": "inferior"},
            ],
        ),
        (
            "Inside-out technique was used for the meniscus. A total of six 2-0 nonabsorbable sutures were placed "
            "in a vertical mattress configuration.",
            [
                {"technique": IO, "count": 6, "configuration": V, "usp_size": "2-0"},
            ],
        ),
        (
            "Two all-inside implants and three inside-out sutures were used in the meniscus.",
            [
                {"technique": AI, "count": 2},
                {"technique": IO, "count": 3},
            ],
        ),
        (
            "The posterior horn of the meniscus was repaired with two all-inside implants, and the body with "
            "three inside-out two-oh sutures, and the anterior horn with one outside-in suture, number zero, all "
            "in vertical mattress.",
            [
                {"technique": AI, "count": 2, "configuration": V, "region": "posterior_horn"},
                {"technique": IO, "count": 3, "configuration": V, "region": "body", "usp_size": "2-0"},
                {"technique": OI, "count": 1, "configuration": V, "region": "anterior_horn", "usp_size": "0"},
            ],
        ),
    ],
)
def test_stitches_told(text: str, expected: list[dict[str, object]]) -> None:
    def plain(found: list[dict[str, object]]) -> list[str]:
        return sorted(str(sorted(one.items())) for one in found)

    assert plain(facts(text, "sutures")) == plain(expected)


def test_a_number_that_may_be_another_is_asked_about() -> None:
    assert "number-uncertain" in {f.check for f in flags("Meniscus: 820 vertical mattress sutures, inside-out.")}


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("Nine stitches in the meniscus. Three all-inside at the back, horizontal. Four inside-out in the body.", 9),
        ("Ten sutures in the meniscus, inside-out: five in the posterior horn and four in the body.", 10),
    ],
)
def test_a_total_that_the_parts_do_not_make_up_is_a_claim(text: str, count: int) -> None:
    """The checks make a suture-count-mismatch of it (record contract, section 7)."""
    assert [f["count"] for f in facts(text, "claims")] == [count]
    assert count not in [f.get("count") for f in facts(text, "sutures")]


def test_in_out_is_inside_out() -> None:
    (found,) = facts("Left knee, medial meniscus tear. Eight in-out stitches in the body.", "sutures")
    assert (found["technique"], found["count"], found["region"]) == ("inside_out", 8, "body")
