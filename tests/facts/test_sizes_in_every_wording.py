"""Sizes of every kind of thing in the ways people tell them: the thing last, before, as a heading, put right.

Facts times wordings; the sentences are the project's own, and that surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts, flags, measured

TRANSPLANT = "Left knee, segmental lateral meniscus transplant. "
BRIDGE = "Left knee, lateral meniscus allograft transplant with a bone bridge in a slot. "
REPAIR = "Right knee arthroscopy, medial meniscus repair. "
ACL = "Left knee ACL reconstruction with hamstring autograft. "
BTB = "Left knee ACL reconstruction with a bone patellar tendon bone autograft. "
LOOSE = "Left knee arthroscopy for loose bodies. "
AWL = "Right knee arthroscopy, microfracture of the medial femoral condyle. "
FROM_ROOT = "distance from the posterior root"
SIZES = (  # the note, what is measured, the thing, behind the number, before it
    (TRANSPLANT, "defect.root_distance", "the defect", "from the posterior root", FROM_ROOT, 12),
    (TRANSPLANT, "graft.root_distance", "the graft", "from its posterior root", "distance from its posterior root", 12),
    (TRANSPLANT, "plateau.ml_width", "the lateral plateau", "side to side", "ML width", 33),
    (BRIDGE, "slot.width", "the slot", "wide", "width", 9),
    (BRIDGE, "bone_block.depth", "the bone bridge", "deep", "depth", 10),
    (REPAIR, "tear.rim_distance", "the tear", "from the capsule", "distance from the capsule", 3),
    (REPAIR, "portal.length", "the portal", "long", "length", 8),
    (ACL, "tunnel.diameter", "the femoral tunnel", "in diameter", "diameter", 9),
    (ACL, "incision.length", "the incision", "long", "length", 30),
    (BTB, "bone_block.length", "the tibial bone block", "long", "length", 25),
    (LOOSE, "loose_body.length", "the loose body", "long", "length", 14),
    (AWL, "hole.spacing", "the holes", "apart", "spacing", 4),
)
WORDS = {3: "three", 4: "four", 8: "eight", 9: "nine", 10: "ten", 12: "twelve", 14: "fourteen", 25: "twenty-five"}
WORDS |= {30: "thirty", 33: "thirty-three"}
WORDINGS = (
    "{n} millimeters {behind}, {thing}.",
    "{thing} now. Can you read that? {n}? Okay, {n} millimeters {behind}.",
    "{thing} was {n} millimeters, I repeat, {n} millimeters, {behind}.",
    "{thing}. {before}: {n} millimeters.",
    "{thing} with a {before} of {n} millimeters.",
    "The {before} of {thing} was precisely {n}.",
    "{thing}. The {before} was measured. {n} millimeters.",
)
PUT_RIGHT = (
    "{thing} was {more} millimeters {behind}. Correction, {n} millimeters.",
    "{thing} was {more} millimeters {behind}. Make that {n}.",
    "{thing} was {more} millimeters {behind}, I mean {n}.",
    "{thing} was {more} millimeters {behind}. Actually it was {n} millimeters.",
    "{thing} was {more} {behind}, strike that, {n} millimeters.",
)


def _said(wording: str, thing: str, behind: str, before: str, value: int) -> str:
    told = wording.format(thing=thing, behind=behind, before=before, n=WORDS[value], more=value + 2)
    return ". ".join(s[:1].upper() + s[1:] for s in told.split(". "))


@pytest.mark.parametrize("wording", WORDINGS)
@pytest.mark.parametrize(("note", "what", "thing", "behind", "before", "value"), SIZES, ids=[s[1] for s in SIZES])
def test_a_size_is_read(
    note: str, what: str, thing: str, behind: str, before: str, value: int, wording: str
) -> None:
    said = _said(wording, thing, behind, before, value)
    assert measured(f"{note}{said} The wounds were closed.") == [(what, value)], said


@pytest.mark.parametrize("wording", PUT_RIGHT)
@pytest.mark.parametrize(("note", "what", "thing", "behind", "before", "value"), SIZES, ids=[s[1] for s in SIZES])
def test_a_size_put_right_in_a_few_words_is_one(
    note: str, what: str, thing: str, behind: str, before: str, value: int, wording: str
) -> None:
    said = _said(wording, thing, behind, before, value)
    (fact,) = facts(f"{note}{said} The wounds were closed.", "measurements")
    assert (fact["what"], fact["value"], fact["earlier_values"]) == (what, value, [value + 2]), said


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        (LOOSE + "Size of the loose body, twelve.", ("loose_body.size", 12)),
        (LOOSE + "Twelve, that is the size of the loose body.", ("loose_body.size", 12)),
        (REPAIR + "Extrusion of the meniscus, four.", ("meniscus.extrusion", 4)),
        (REPAIR + "The tear was 1,5 cm long.", ("tear.length", 15)),
        ("Right knee, medial meniscus root repair. The diameter of the root tunnel was six.", ("tunnel.diameter", 6)),
        (TRANSPLANT + "The lateral plateau was at least forty millimeters AP.", ("plateau.ap_length", (40, None))),
    ],
)
def test_a_bare_number_and_a_bound_are_read(said: str, expected: tuple[object, ...]) -> None:
    assert measured(said) == [expected]


GUIDES = [("guide.angle", 55), ("guide.angle", 60)]
PAIRS = (  # the note, the thing, and two of its sizes
    (TRANSPLANT, "the graft", ("graft.ap_length", "long", "length", 14), ("graft.width", "wide", "width", 9)),
    (BRIDGE, "the slot", ("slot.width", "wide", "width", 9), ("slot.depth", "deep", "depth", 10)),
    (REPAIR, "the tear", ("tear.length", "long", "length", 14), ("tear.rim_distance", "from the capsule", "RIM", 3)),
    (BTB, "the tibial block", ("bone_block.length", "long", "length", 25), ("bone_block.width", "wide", "width", 9)),
)
TWO = (
    "{N} millimeters {behind} and {m} {also}, {thing}.",
    "As for {thing}, I had {n} {behind} and then {m} {also}.",
    "{Thing} was {n} millimeters {behind}. I checked with the probe. It was {m} {also}.",
)


@pytest.mark.parametrize("wording", [*TWO, "{Before} of {thing} {n}, {other} {m} millimeters."])
@pytest.mark.parametrize(("note", "thing", "first", "second"), PAIRS, ids=[p[1] for p in PAIRS])
def test_two_sizes_of_one_thing_are_read(
    note: str, thing: str, first: tuple[str, str, str, int], second: tuple[str, str, str, int], wording: str
) -> None:
    n, m = WORDS[first[3]], WORDS[second[3]]
    other = "rim distance" if second[2] == "RIM" else second[2]
    said = wording.format(
        thing=thing, Thing=thing.capitalize(), behind=first[1], Before=first[2].capitalize(), n=n, N=n.capitalize(),
        also=second[1], other=other, m=m,
    )  # fmt: skip
    assert measured(f"{note}{said} The wounds were closed.") == sorted([(first[0], first[3]), (second[0], second[3])])


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        (REPAIR + "The tear is two probe lengths of five, so ten millimeters.", [("tear.length", 10)]),
        (TRANSPLANT + "The graft is nineteen less one, eighteen millimeters.", [("graft.ap_length", 18)]),
        (TRANSPLANT + "The rim was taken down from four to two millimeters.", [("rim.width", 2)]),
        (TRANSPLANT + "The defect is twenty, give or take one millimeter, long.", [("defect.ap_length", 20)]),
        (
            TRANSPLANT + "From the posterior root thirteen to the start of the gap, nineteen more to where it ends.",
            [("defect.ap_length", 19), ("defect.root_distance", 13)],
        ),
        (LOOSE + "The biggest loose body was twelve by nine.", [("loose_body.length", 12), ("loose_body.width", 9)]),
        (ACL + "Graft nine, a hundred and ten long.", [("ligament_graft.diameter", 9), ("ligament_graft.length", 110)]),
        (ACL + "Guide at sixty degrees for the first and fifty-five for the second tunnel.", GUIDES),
    ],
)  # fmt: skip
def test_how_a_size_comes_about_is_no_size_of_its_own(said: str, expected: list[tuple[object, ...]]) -> None:
    assert measured(said) == expected


def test_two_numbers_share_the_noun_behind_the_last() -> None:
    for said in (
        "A nine millimeter femoral and a ten millimeter tibial tunnel were drilled.",
        "I drilled a 9 mm femoral and 10 mm tibial tunnel.",
    ):
        assert measured(ACL + said, "site") == [("tunnel.diameter", 10, "tibial"), ("tunnel.diameter", 9, "femoral")]


def test_two_bare_numbers_by_each_other_are_asked_about_where_nothing_reads_them() -> None:
    said = flags(BRIDGE + "The slot is nine by eleven. Four by four gauze over the portals.")
    assert [f.check for f in said] == ["unread-number", "unread-number"]
