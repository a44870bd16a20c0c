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
        "The posterior knot was tied between the superior and the inferior suture, the anterior knot likewise.",
        "Finally the pairs were tied, first the posterior, then the anterior.",
    ],
)
def test_ties_at_each_end(text: str) -> None:
    text = f"Meniscus. {text}"
    assert {frozenset(f["between"]) for f in facts(text, "ties")} == {
        frozenset((f"{end}-superior", f"{end}-inferior")) for end in ("posterior", "anterior")
    }
    assert not facts(text, "sutures")


NATIVE = (
    "Meniscus. Native: white posterior superior, blue posterior inferior, green anterior superior, purple anterior"
    " inferior."
)


@pytest.mark.parametrize(
    "text",
    [
        "Same on the graft, except that the anterior inferior is orange.",
        "Same colors on the graft, only the anterior inferior there is orange.",
        "The graft was sutured identically but with orange at the anterior inferior corner.",
        "The transplant got its sutures in the same arrangement, except for orange at the anterior inferior.",
    ],
)
def test_the_same_but_for_one(text: str) -> None:
    graft = [f for f in facts(f"{NATIVE} {text}", "sutures") if f["tissue"] == "graft"]
    told = {f["region"][0] + f["surface"][0]: f["color"] for f in graft}
    assert told == {"ps": "white", "pi": "blue", "as": "green", "ai": "orange"}
    assert len(graft) == 4


@pytest.mark.parametrize(
    ("text", "ends"),
    [
        ("Everything was tied top to bottom apart from the front pair.", ("posterior",)),
        ("All pairs were tied except for the anterior one.", ("posterior",)),
        ("The white is tied to its partner. The green is tied to its mate below.", ("posterior", "anterior")),
        ("Tie the white suture to the one below it. Good. And the green one to the one below it.",
         ("posterior", "anterior")),
        ("At the posterior end the upper and lower sutures were tied together, and at the anterior end as well.",
         ("posterior", "anterior")),
        ("Tied white-blue and green-purple.", ("posterior", "anterior")),
        ("The white-blue pair was tied first, then the green-purple one.", ("posterior", "anterior")),
        ("Ties: white-blue, green-purple.", ("posterior", "anterior")),
        ("Tied the white blue pair.", ("posterior",)),
        ("White to its blue, green to its purple.", ("posterior", "anterior")),
    ],
)  # fmt: skip
def test_ties_of_ends(text: str, ends: tuple[str, ...]) -> None:
    found = facts(f"{NATIVE} {text}", "ties")
    assert {frozenset(f["between"]) for f in found} == {frozenset((f"{e}-superior", f"{e}-inferior")) for e in ends}
    assert len(facts(f"{NATIVE} {text}", "sutures")) == 4


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


ROWS |= {
    "One of the three {} stitches is on top, the other two below.": {("superior", None, 1), ("inferior", None, 2)},
    "Three {} sutures above and the same number below.": {("superior", None, 3), ("inferior", None, 3)},
    "Six {} sutures: four femoral, two tibial.": {("superior", None, 4), ("inferior", None, 2)},
    "Five {} stitches three vertical two horizontal.": {(None, V, 3), (None, H, 2)},
    "Seven {} sutures. One broke and one tore through, so there are five left.": {(None, None, 5)},
    "Seven {} sutures, one of them replaced after it broke.": {(None, None, 7)},
    "Four {} implants were opened, three were used.": {(None, None, 3)},
    "Vertical mattress throughout. Two {} on top, three {} below.": {("superior", V, 2), ("inferior", V, 3)},
    "Three {} sutures, one fewer than planned.": {(None, None, 3)},
    "First I did the body, {}, five sutures.": {("body", None, 5)},
    "Number of sutures five, {}, body.": {("body", None, 5)},
}


@pytest.mark.parametrize("text", ROWS)
@pytest.mark.parametrize("technique", TECHNIQUES)
def test_stitches_in_rows(text: str, technique: str) -> None:
    found = facts("Meniscus repair. " + text.replace("{}", technique), "sutures")
    told = {(f.get("region", f.get("surface")), f.get("configuration"), f.get("count")) for f in found}
    assert told == ROWS[text]
    assert {f["technique"] for f in found} == {TECHNIQUES[technique]}


def test_a_size_and_a_number_said_without_a_pause() -> None:
    (found,) = facts("Meniscus repair. Inside out vertical mattress two oh five sutures in the body.", "sutures")
    assert (found["count"], found["usp_size"], found["region"]) == (5, "2-0", "body")
