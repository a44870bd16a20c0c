"""Sizes that one asks for as a rule or that stand on a graft's papers, the graft told by its number, wishes let go.

Each a table of wordings times facts. Trade facts are common practice, no source; the sentences are the project's own.
"""

from __future__ import annotations

import pytest

from .reading import drafts, facts, steps

OWN = [
    ("Right knee, ACL reconstruction with hamstring autograft. ", "graft", "nine", 9, "The graft came out at eight."),
    ("Right knee, medial meniscus, segmental transplant. ", "rim", "five", 5, "A rim of two millimeters was left."),
    (
        "Right knee, medial meniscus root repair. ",
        "tunnel",
        "nine",
        9,
        "The tunnel was drilled to six millimeters.",
    ),
]


def sizes(text: str) -> set[tuple[str, object]]:
    """What was measured, made or meant in this case, each with its value or bound."""
    own = [f for f in facts(text, "measurements") if f.get("role") != "reference"]
    return {(f["what"], f.get("value", f.get("low", f.get("high")))) for f in own}


@pytest.mark.parametrize(
    "told",
    [
        "I do not accept a {thing} of less than {n} millimeters in a man of his weight.",
        "I would not accept a {thing} under {n} millimeters.",
        "We do not use a {thing} below {n} millimeters in heavy men.",
        "I refuse a {thing} of less than {n} millimeters.",
        "I distrust any {thing} under {n} millimeters.",
        "A {thing} below {n} millimeters I send back.",
        "A {thing} less than {n} millimeters has no business in a knee.",
        "My minimum for a {thing} is {n} millimeters.",
        "In a man of his weight I insist on a {thing} of {n} millimeters.",
        "A {thing} of {n} millimeters is what I ask for.",
        "For me a {thing} has to have {n} millimeters.",
    ],
)
@pytest.mark.parametrize(("head", "thing", "said", "value", "own"), OWN)
def test_what_one_accepts_is_no_size_of_the_case(
    told: str, head: str, thing: str, said: str, value: int, own: str
) -> None:
    assert value not in {v for _, v in sizes(f"{head}{told.format(thing=thing, n=said)} {own}")}


@pytest.mark.parametrize("told", ["I left a {thing} of {n} millimeters.", "The {thing} had to be {n} millimeters."])
@pytest.mark.parametrize(("head", "thing", "said", "value", "own"), OWN)
def test_what_was_made_is_one(told: str, head: str, thing: str, said: str, value: int, own: str) -> None:
    assert value in {v for _, v in sizes(head + told.format(thing=thing, n=said))}


TRANSPLANT = (
    "Right knee, lateral meniscus, segmental allograft transplant. The defect was twenty four millimeters along "
)
TRANSPLANT += "the rim, ten millimeters wide, thirteen millimeters from the posterior root. "


@pytest.mark.parametrize(
    "told",
    [
        "The donor card gave thirty three millimeters for the entire lateral meniscus.",
        "According to the tissue bank the graft is thirty three millimeters.",
        "The sheet with the graft says thirty three millimeters.",
        "The vendor quotes thirty three millimeters for the graft.",
        "The certificate has the graft at thirty three millimeters.",
        "The graft is thirty three millimeters on paper.",
        "Uncut, the graft was thirty three millimeters.",
        "The specimen as delivered, thirty three millimeters.",
    ],
)
def test_what_its_papers_say_is_no_size_of_the_graft_as_cut(told: str) -> None:
    found = sizes(f"{TRANSPLANT}{told} The graft was thawed, marked and cut to twenty three by ten millimeters.")
    assert {v for what, v in found if what == "graft.ap_length"} == {23}


@pytest.mark.parametrize(
    "told",
    [
        "{} was thawed and marked sixteen millimeters from its posterior root and cut to twenty three by ten"
        " millimeters.",
        "{} thawed, marked sixteen millimeters from its root, cut to twenty three by ten millimeters.",
        "{}, thawed. My fellow would have cut twenty four, I go a millimeter below, so it was marked sixteen"
        " millimeters off its posterior root and cut to twenty three by ten.",
        "{} was thawed. Here we match the defect and take nothing off, so it was marked and cut at twenty three by"
        " ten millimeters beginning sixteen millimeters from the posterior root of the specimen.",
        "{} was thawed. I marked it sixteen millimeters from its posterior root. I cut it twenty three by ten"
        " millimeters.",
    ],
)
@pytest.mark.parametrize(
    "graft", ["Tissue number G zero six six one", "Tissue identifier W four zero nine seven", "The allograft"]
)
def test_the_graft_told_by_its_number(told: str, graft: str) -> None:
    note = f"{TRANSPLANT}{told.format(graft)} An eight millimeter cannula was placed."
    _has_its_graft(note)
    if "My fellow" not in told:  # whose number it is, only the pause tells
        _has_its_graft(note.replace(".", "").replace(",", "").lower())


def _has_its_graft(note: str) -> None:
    found = sizes(note)
    assert {("graft.ap_length", 23), ("graft.width", 10), ("graft.root_distance", 16)} <= found
    assert {v for what, v in found if what.startswith("defect")} == {24, 10, 13}
    assert {"graft-marking", "graft-cut"} <= {code for code, status in steps(note).items() if status == "performed"}


def test_what_is_done_to_the_slot_or_a_box_is_not_done_to_the_graft() -> None:
    note = TRANSPLANT + "The graft was thawed. The number was marked on the box. The skin was cut for four centimeters."
    assert "graft-marking" not in steps(note)
    assert ("graft.ap_length", 40) not in sizes(note)


DEEDS = [
    ("an all-inside stitch", "all-inside-stitch"),
    ("a microfracture", "microfracture"),
    ("a fibrin clot", "fibrin-clot"),
    ("trephination of the rim", "trephination"),
]


def performed(text: str) -> set[str]:
    done = {code for code, status in steps(text).items() if status == "performed"}
    return done | {str(d.fields["code"]) for d in drafts(text, "procedures") if d.fields["status"] == "performed"}


@pytest.mark.parametrize(
    "told",
    [
        "The suggestion to do {} there was not followed.",
        "The proposal to add {} found no takers.",
        "Wanted {} in the middle but the angle was poor, so that was dropped.",
        "I had wanted {}, the angle was poor, so that was dropped.",
        "We hoped to add {} but the joint was too tight for it.",
        "I wanted {} in the middle but the angle was poor and I dropped it.",
        "{} was the idea, but the angle was poor, so no.",
        "{} I make in the red zone only in old tears, here no.",
        "{} I only do in smokers, she isn't one.",
        "{} only for old tears, this one is fresh, so no.",
        "{} got a mention in the huddle and that is where it ended.",
        "There was a place for {} but I left it as it was.",
        "{} was suggested and not followed up.",
    ],
)
@pytest.mark.parametrize(("deed", "code"), DEEDS)
def test_wanted_and_let_go_or_done_only_in_others(told: str, deed: str, code: str) -> None:
    said = told.format(deed)
    assert code not in performed(f"{TRANSPLANT}{said[0].upper()}{said[1:]} Probed, stable.")


@pytest.mark.parametrize(
    "told",
    [
        "The suggestion to do {} there was followed.",
        "I wanted {} in the middle, the angle was poor, but I got it done.",
        "I added {} but the angle was poor, so the cannula was dropped.",
        "The probe was dropped. I then did {}.",
        "I had not planned {} but did it.",
    ],
)
@pytest.mark.parametrize(("deed", "code"), DEEDS)
def test_done_for_all_that(told: str, deed: str, code: str) -> None:
    assert code in performed(f"{TRANSPLANT}{told.format(deed)} Probed, stable.")


def test_where_alone_it_was_done_is_no_rule() -> None:
    assert "trephination" in performed(TRANSPLANT + "I trephined only in the red zone of the rim.")
