"""Wordings that name things in turn, or leave them to be understood: numbers, sutures, ties, findings.

The sentences are the project's own; that surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import drafts, facts, measured, steps

TRANSPLANT = "Left knee, segmental lateral meniscus transplant. Portals made. {} Skin closed."
NATIVE = (
    "Left knee, segmental lateral meniscus transplant. Posterior superior, a blue suture in the native meniscus. "
    "Posterior inferior, a white tape. Anterior superior, a green suture. Anterior inferior, a black suture. {}"
)
REPAIR = "Left knee, lateral meniscus repair. Portals made. {} Skin closed."

ROWS = ("{a} by {b} millimeters", "{a} and {b} millimeters", "the gap is {a} by {b} millimeters")
NAMES = (
    "{row}, along the rim and then rim to free edge.", "{row}, first along the rim, then rim to free edge.",
    "{row}, that is the gap, along the rim by rim to free edge.", "{row} along the rim and from rim to free edge.",
)  # fmt: skip


@pytest.mark.parametrize("names", NAMES)
@pytest.mark.parametrize("row", ROWS)
@pytest.mark.parametrize(("a", "b", "values"), [("twenty-one", "eight", (21, 8)), ("seventeen", "ten", (17, 10))])
def test_numbers_are_named_by_what_follows_in_order(
    names: str, row: str, a: str, b: str, values: tuple[int, int]
) -> None:
    said = names.format(row=row.format(a=a, b=b))
    found = dict(m for m in measured(TRANSPLANT.format(said[0].upper() + said[1:])) if str(m[0]).startswith("defect"))
    assert found == {"defect.ap_length": values[0], "defect.width": values[1]}


@pytest.mark.parametrize(
    ("said", "what", "value"),
    [
        ("Length and width of the gap, twenty-one and eight millimeters.", "defect.ap_length", 21),
        ("Length and width of the gap, twenty-one and eight millimeters.", "defect.width", 8),
        ("The gap is twenty-one by eight millimeters, length by width.", "defect.ap_length", 21),
        ("The gap is twenty-one. Twelve from its back end to the posterior root.", "defect.root_distance", 12),
        ("The gap is twenty-one. Twelve and a half off its near edge to the root.", "defect.root_distance", 12.5),
        ("Forty-nine, minutes of tourniquet.", "tourniquet.time", 49),
        ("The gap is eight wide, that's it, twenty-one long.", "defect.width", 8),
    ],
)
def test_a_size_told_the_other_way_round(said: str, what: str, value: float) -> None:
    assert (what, value) in measured(TRANSPLANT.format(said))


@pytest.mark.parametrize(
    "said",
    [
        "They were pulled out and laid in order.", "They all leave through a seven millimeter cannula.",
        "All four leave by the lateral portal.", "Each one was grabbed and taken out.",
        "I pulled them out in the order they were passed.", "They come out at the front, one by one.",
        "The lot was brought out and parked on clamps.",
    ],
)  # fmt: skip
def test_sutures_are_brought_out(said: str) -> None:
    text = NATIVE.format(said)
    assert steps(text).get("suture-retrieval") == "performed"
    assert len(facts(text, "sutures")) == 4


@pytest.mark.parametrize(
    "said",
    [
        "The trocars were pulled out and laid aside.", "The cannula was pulled out.",
        "One loose body was seen. It was pulled out.",
    ],
)  # fmt: skip
def test_what_else_comes_out_is_no_suture(said: str) -> None:
    assert "suture-retrieval" not in steps(NATIVE.format(said))


SECOND = (
    ", and the anterior couple after that.", ", and the front two after that.", ", the anterior ones following.",
    ", then the anterior pair.", ". Anterior superior joins anterior inferior, knot.",
)  # fmt: skip


@pytest.mark.parametrize("second", SECOND)
def test_a_couple_behind_two_places_is_tied_too(second: str) -> None:
    said = f"The same in the graft. Posterior superior was knotted to posterior inferior{second}"
    pairs = {frozenset(t["between"]) for t in facts(NATIVE.format(said), "ties")}
    assert pairs == {frozenset({f"{r}-superior", f"{r}-inferior"}) for r in ("posterior", "anterior")}


@pytest.mark.parametrize("looked", ["Pull on the {} for me.", "Now the {}.", "Show me the {}.", "Probe the {}."])
@pytest.mark.parametrize("verdict", ["Tight, intact.", "Intact.", "Good, intact."])
@pytest.mark.parametrize(("called", "name"), [("A C L", "acl"), ("P C L", "pcl"), ("trochlea", "trochlea")])
def test_a_verdict_is_of_what_was_looked_at(looked: str, verdict: str, called: str, name: str) -> None:
    found = facts(REPAIR.format(f"{looked.format(called)} {verdict}"), "findings")
    assert {"structure": name, "finding": "intact", "status": "present"} in found


@pytest.mark.parametrize(
    ("said", "sound"),
    [
        ("P C L intact when I saw it later, as were both menisci.", 3),
        ("P C L was intact when I got there, both menisci too.", 3),
        ("We trimmed the medial meniscus. Intact rim.", 0),
    ],
)
def test_what_was_so_likewise(said: str, sound: int) -> None:
    assert len([f for f in facts(REPAIR.format(said), "findings") if f["finding"] == "intact"]) == sound


@pytest.mark.parametrize(
    "said",
    ["Loose bodies I searched for and did not find.", "A loose body we looked for, without finding one."],
)
def test_what_was_looked_for_and_not_found(said: str) -> None:
    assert {f["status"] for f in facts(REPAIR.format(said), "findings") if f["finding"] == "loose-body"} <= {"absent"}


@pytest.mark.parametrize(
    ("said", "counts"),
    [
        ("There are three all-inside implants in his knee. Two of the stitches are vertical mattress on the femoral "
         "surface, one is a horizontal mattress on the tibial surface.", [1, 2]),
        ("Three all-inside stitches. Two of these are vertical on top, the third is a horizontal one below.", [1, 2]),
        ("Two horizontal mattress stitches on the tibial side, all inside. The clot went under them before the last "
         "was tightened.", [2]),
    ],
)  # fmt: skip
def test_parts_of_a_number_of_stitches(said: str, counts: list[int]) -> None:
    assert sorted(s.get("count", 0) for s in facts(REPAIR.format(said), "sutures")) == counts


def test_the_one_and_the_other() -> None:
    text = (
        "Left knee, medial meniscus root repair. I stitch the root two times. The one is a white tape, with cinch. "
        "The other is a blue suture, also cinch."
    )
    assert sorted((s.get("color"), s.get("configuration")) for s in facts(text, "sutures")) == [
        ("blue", "cinch"), ("white", "cinch"),
    ]  # fmt: skip


def test_the_evidence_of_a_name_in_order_is_its_own() -> None:
    text = TRANSPLANT.format("Twenty-one by eight millimeters, along the rim and rim to free edge.")
    spans = {d.fields["what"]: [text[s.start : s.end] for s in d.spans] for d in drafts(text, "measurements")}
    assert "along the rim" in spans["defect.ap_length"] and "rim to free edge" in spans["defect.width"]
