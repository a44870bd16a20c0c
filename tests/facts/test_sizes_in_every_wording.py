"""Sizes of every kind of thing in the ways people tell them: the thing last, before, as a heading, put right.

Facts times wordings; the sentences are the project's own, and that surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts, measured

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
def test_a_size_is_read(note: str, what: str, thing: str, behind: str, before: str, value: int, wording: str) -> None:
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
