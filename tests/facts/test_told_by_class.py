"""Numbers and looks told a sentence before what they are of, for several at once, or put in another's place.

That surgeons talk so is common practice, no source; the sentences are the project's own.
"""

from __future__ import annotations

import pytest

from extractor.facts.account import account

from .reading import facts, reading


def sizes(text: str) -> set[tuple[str, float | None]]:
    """(what, value) of the measurements."""
    return {(f["what"], f.get("value")) for f in facts(text, "measurements")}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # one of several named, and no range from one
        ("Knee mosaicplasty. The sockets, the first one to nine millimeters deep.", {("tunnel.depth", 9)}),
        # a number counted up to along a ruler
        (
            "Segmental meniscus transplant. The ruler lies in the gap. Five, ten, fifteen, and it lands on seventeen.",
            {("defect.ap_length", 17)},
        ),
        # a sentence that only names a thing heads the next
        (
            "Whole meniscus transplant. Now the trough. I made it nine millimeters wide and eleven deep.",
            {("slot.width", 9), ("slot.depth", 11)},
        ),
        # up to an edge
        (
            "Segmental meniscus transplant. Posterior root to the near edge thirteen, all in millimeters.",
            {("defect.root_distance", 13)},
        ),
    ],
)
def test_sizes(text: str, expected: set[tuple[str, float | None]]) -> None:
    assert sizes(text) == expected


def test_a_count_that_no_rule_reads_is_asked_about() -> None:
    found = list(account(reading("Knee. Something in the corner, five, ten, fifteen, and it ends at eighteen.")))
    assert [e.went for e in found] == ["flagged"]


@pytest.mark.parametrize(
    "text",
    [
        "Native sutures of size two zero are laid thus: posterior superior blue, posterior inferior white.",
        "Native sutures, size two zero. Posterior superior blue. Posterior inferior white.",
        "In the native meniscus two-oh threads throughout: posterior superior blue, posterior inferior white.",
    ],
)
def test_a_size_at_the_head_of_a_list_is_of_all(text: str) -> None:
    found = facts(f"Meniscus. {text}", "sutures")
    assert [(f["color"], f.get("usp_size")) for f in found] == [("blue", "2-0"), ("white", "2-0")]


def test_a_size_of_one_suture_is_of_no_other() -> None:
    found = facts("Meniscus. Native sutures: a two-oh blue posterior superior, white posterior inferior.", "sutures")
    assert [(f["color"], f.get("usp_size")) for f in found] == [("blue", "2-0"), ("white", None)]


@pytest.mark.parametrize(
    "told",
    [
        "green at first, but that one snapped, so it ended up purple",
        "green, which was swapped for purple",
        "green, and when it tore I put a purple one there instead",
    ],
)
def test_a_suture_put_in_anothers_place(told: str) -> None:
    text = f"Meniscus. Native sutures. Posterior superior was white, posterior inferior was {told}."
    assert [f["color"] for f in facts(text, "sutures")] == ["white", "purple"]


def test_parts_of_a_number_of_stitches() -> None:
    text = "Meniscus repair. Seven inside-out stitches, of which five on the superior and two on the inferior surface."
    assert [(f["surface"], f["count"]) for f in facts(text, "sutures")] == [("superior", 5), ("inferior", 2)]


def test_stitches_told_ahead_of_what_was_not_used() -> None:
    text = "Medial meniscus root. Two tapes through the root, a white and a blue, as a cinch, no all-inside stitches"
    assert [(f["color"], f["configuration"]) for f in facts(text, "sutures")] == [("white", "cinch"), ("blue", "cinch")]


@pytest.mark.parametrize(
    ("text", "region"),
    [
        ("The medial meniscus was torn in its posterior horn, no, wait, in its body.", "body"),
        ("The medial meniscus was torn in its body, I mean the posterior horn.", "posterior_horn"),
        ("The medial meniscus was torn in its posterior horn, no gap.", "posterior_horn"),
    ],
)
def test_a_part_of_a_meniscus_put_right(text: str, region: str) -> None:
    assert [f.get("region") for f in facts(text, "findings")] == [region]


def test_a_pattern_told_behind_its_tear() -> None:
    text = "ACL intact, and the lateral meniscus is torn in the body, radial kind of tear."
    found = {(f["structure"], f["finding"], f.get("pattern")) for f in facts(text, "findings")}
    assert found == {("acl", "intact", None), ("lateral-meniscus", "tear", "radial")}
