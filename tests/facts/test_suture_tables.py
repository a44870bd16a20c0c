"""Sutures told as a table in many manners, ties in groups, and stitches in rows: facts times wordings.

That sutures are told so is common practice, no source; the sentences are the project's own.
"""

from __future__ import annotations

import pytest

from .reading import facts

COLORS = [("white", "blue", "green", "purple"), ("black", "violet", "white", "yellow")]
PLACES = ("ps", "pi", "as", "ai")
TABLES = (
    "Native meniscus. Posterior end. Superior: {}. Inferior: {}. Anterior end. Superior: {}. Inferior: {}.",
    "Native sutures. I started in the back. {} on top and {} below. Then I moved to the front, {} on top and {} below.",
    "In the native meniscus, starting from the back, {} for the top and {} for the bottom. Coming forward, {} for the"
    " top and {} for the bottom.",
    "At the posterior margin of the native meniscus the superior suture is {} while the inferior suture is {}. At the"
    " anterior margin the superior suture is {} while the inferior suture is {}.",
)
BY_SURFACE = (
    "Native meniscus. Superior surface. Posterior {0}, anterior {2}. Inferior surface. Posterior {1}, anterior {3}.",
    "Native meniscus, superior surface: posterior {0}. Anterior {2}. Inferior surface: posterior {1}. Anterior {3}.",
    "In the native meniscus, from back to front along the top, {0} and {2}, and from back to front along the bottom,"
    " {1} and {3}.",
)


@pytest.mark.parametrize("table", [*TABLES, *BY_SURFACE])
@pytest.mark.parametrize("colors", COLORS)
def test_a_table_of_sutures(table: str, colors: tuple[str, ...]) -> None:
    found = facts("Meniscus transplant. " + table.format(*colors), "sutures")
    told = {f["region"][0] + f["surface"][0]: f["color"] for f in found if f["tissue"] == "native"}
    assert told == dict(zip(PLACES, colors, strict=True))
    assert len(found) == 4


def test_a_row_from_end_to_end_has_a_middle() -> None:
    text = "Meniscus. Native, superior surface from back to front white, red, green."
    assert [(f["region"], f["color"]) for f in facts(text, "sutures")] == [
        ("posterior", "white"),
        ("middle", "red"),
        ("anterior", "green"),
    ]


@pytest.mark.parametrize(
    "text",
    [
        "Posterior superior was tied to posterior inferior. Other end likewise.",
        "The superior suture at each end was tied to the inferior suture at that end.",
        "The sutures were tied vertically, superior to inferior, first posteriorly and then anteriorly.",
    ],
)
def test_ties_at_each_end(text: str) -> None:
    text = f"Meniscus. {text}"
    assert {frozenset(f["between"]) for f in facts(text, "ties")} == {
        frozenset((f"{end}-superior", f"{end}-inferior")) for end in ("posterior", "anterior")
    }
    assert not facts(text, "sutures")


TECHNIQUES = {"inside-out": "inside_out", "all-inside": "all_inside"}
V, H = "vertical_mattress", "horizontal_mattress"
ROWS = {  # (place, configuration, count) of each
    "Top: 3 vertical. Bottom: 2 horizontal. All {}, 2-0.": {("superior", V, 3), ("inferior", H, 2)},
    "Three stitches on top, two below. They were {}.": {("superior", None, 3), ("inferior", None, 2)},
    "Body: 4. Posterior horn: 3. All {}, vertical mattress.": {("body", V, 4), ("posterior_horn", V, 3)},
    "Five stitches, three on top and two below. All were {}.": {("superior", None, 3), ("inferior", None, 2)},
    "Six {} sutures, alternating above and below, three each.": {("superior", None, 3), ("inferior", None, 3)},
    "Two {} stitches each in the posterior horn and the body.": {("posterior_horn", None, 2), ("body", None, 2)},
    "Three {} sutures on each surface.": {("superior", None, 3), ("inferior", None, 3)},
    "Eight {} sutures, vertical except for the last two, which were horizontal.": {(None, V, 6), (None, H, 2)},
    "Eight {} sutures, all but two vertical, the two horizontal.": {(None, V, 6), (None, H, 2)},
    "Six {} stitches, all vertical but one, a horizontal.": {(None, V, 5), (None, H, 1)},
    "Three {} implants, the first two as vertical mattresses and the last as a horizontal.": {
        (None, V, 2),
        (None, H, 1),
    },
    "One {} stitch in the body, then a second one, then a third.": {("body", None, 3)},
    "Three {} in the body. Then I added one more there, so four in all.": {("body", None, 4)},
    "Four {} stitches in the body, then one more. That's five.": {("body", None, 5)},
    "I threw four {} stitches and cut one out because it gathered the tissue.": {(None, None, 3)},
    "Four {} stitches, one of which I had to take out again.": {(None, None, 3)},
    "Five {} stitches. Two had to be removed and were placed again.": {(None, None, 5)},
    "Five {} stitches went in and four held.": {(None, None, 4)},
    "The number of {} sutures was five.": {(None, None, 5)},
    "Vertical mattress on top times three, {}.": {("superior", V, 3)},
    "Three {} stitches. Location: body. Configuration: vertical mattress.": {("body", V, 3)},
    "I needed one more than usual, five {} instead of four.": {(None, None, 5)},
}


@pytest.mark.parametrize("text", ROWS)
@pytest.mark.parametrize("technique", TECHNIQUES)
def test_stitches_in_rows(text: str, technique: str) -> None:
    found = facts("Meniscus repair. " + text.format(technique), "sutures")
    told = {(f.get("region", f.get("surface")), f.get("configuration"), f.get("count")) for f in found}
    assert told == ROWS[text]
    assert {f["technique"] for f in found} == {TECHNIQUES[technique]}


def test_a_size_and_a_number_said_without_a_pause() -> None:
    (found,) = facts("Meniscus repair. Inside out vertical mattress two oh five sutures in the body.", "sutures")
    assert (found["count"], found["usp_size"], found["region"]) == (5, "2-0", "body")
