"""Work of another time told by a month or by who did it, kits sent back, and sizes before 'over a guide pin'.

Each a table of wordings times facts. Trade facts are common practice, no source; the sentences are the project's own.
"""

from __future__ import annotations

import pytest

from .reading import drafts, facts, steps

HEAD = "Left knee, medial meniscus repair, thirty one year old man. "
TAIL = " Time out, prep and drape. Medial meniscus has a longitudinal tear. The tear is twenty millimeters. Rasped."


def performed(text: str) -> set[str]:
    done = {code for code, status in steps(text).items() if status == "performed"}
    return done | {str(d.fields["code"]) for d in drafts(text, "procedures") if d.fields["status"] == "performed"}


def sizes(text: str) -> set[tuple[str, object]]:
    own = [f for f in facts(text, "measurements") if f.get("role") != "reference"]
    return {(f["what"], f.get("value", f.get("low", f.get("high")))) for f in own}


@pytest.mark.parametrize(
    "told",
    [
        "I've been in his right knee as well, four years back, that was {} and it has nothing to do with today.",
        "I was in his right knee four years back, that was {}.",
        "He had this knee scoped at twenty two, the surgeon then recorded {}.",
        "At the scope in May it was {}.",
        "When I scoped her in March there was {}.",
        "During the first stage we saw {}.",
    ],
)
@pytest.mark.parametrize(
    ("size", "value"),
    [("a cartilage lesion of twelve millimeters", 12), ("a thirty percent resection of the meniscus", 30)],
)
def test_sizes_of_then(told: str, size: str, value: int) -> None:
    assert {v for _, v in sizes(HEAD + told.format(size) + TAIL)} == {20}


DEEDS = [
    ("took a loose body out", "loose-body-removal"),
    ("took thirty percent of the meniscus", "partial-meniscectomy"),
    ("did a microfracture", "microfracture"),
    ("did a synovectomy", "synovectomy"),
]


@pytest.mark.parametrize(
    "told",
    [
        "I scoped him in May, and on that day I {} too, so today no scope, we go straight in.",
        "I scoped her in March and I {} at that sitting.",
        "Lateral meniscus intact, they {} that same year.",
        "They {} in the same session as the A C L, ten years ago.",
        "Before my time they {}.",
        "The knee was opened in the spring, that is when I {}.",
        "I {} in June, that healed, today it is the tear.",
    ],
)
@pytest.mark.parametrize(("deed", "code"), DEEDS)
def test_deeds_of_then(told: str, deed: str, code: str) -> None:
    assert code not in performed(HEAD + told.format(deed) + TAIL)


@pytest.mark.parametrize(
    "told",
    [
        "Time out. I {} first.",
        "Time out. They have called this a bad knee since May, I {}.",
        "The fellow and the resident held the leg, we {}.",
        "He may go back to work in May. We {}.",
        "His pain began in May. I {}.",
    ],
)
@pytest.mark.parametrize(("deed", "code"), DEEDS)
def test_deeds_of_today(told: str, deed: str, code: str) -> None:
    assert code in performed(HEAD + told.format(deed) + " Medial meniscus torn.")


def test_a_visit_in_a_month_to_come_is_planned() -> None:
    note = HEAD + "Brace zero to ninety degrees. Non weight bearing for six weeks, I see him in the clinic in May."
    assert {f["item"] for f in facts(note, "plan")} >= {"brace-range", "weight-bearing"}


@pytest.mark.parametrize(
    "told",
    [
        "Too shredded to sew, so the {} set went back closed.",
        "The {} set was sent back sealed.",
        "The {} tray stayed wrapped.",
        "The {} tray goes back as it came.",
        "I sent the {} set away.",
        "The {} set was there in case.",
    ],
)
@pytest.mark.parametrize(
    ("kit", "codes"),
    [
        ("all-inside", {"all-inside-stitch", "meniscus-repair"}),
        ("microfracture", {"microfracture"}),
        ("root repair", {"root-repair", "root-fixation"}),
    ],
)
def test_a_kit_that_came_to_no_use(told: str, kit: str, codes: set[str]) -> None:
    note = f"Right knee, partial lateral meniscectomy. Flap tear of the body. {told.format(kit)} Biter and shaver."
    assert performed(note).isdisjoint(codes)


def test_a_kit_that_was_used() -> None:
    assert "all-inside-stitch" in performed(HEAD + "With the all-inside set two stitches were placed in the body.")


def test_a_brace_set_to_a_range_is_no_kit() -> None:
    assert any(f["item"] == "brace-range" for f in facts(HEAD + "The brace set from zero to seventy degrees.", "plan"))


@pytest.mark.parametrize(
    "told",
    [
        "The tibial tunnel was drilled to ten millimeters {}.",
        "We drilled the tibial tunnel to ten millimeters {}.",
        "The tibial tunnel was made ten millimeters wide {}.",
        "Tibial tunnel ten millimeters {}.",
        "Ten millimeter tibial tunnel {}.",
    ],
)
@pytest.mark.parametrize(
    "how", ["over a guide pin", "over the guide wire", "with a reamer", "with the drill", "along a guide pin"]
)
def test_a_size_before_what_it_was_made_with_is_the_tunnel_s(told: str, how: str) -> None:
    note = "PCL reconstruction of the right knee. " + told.format(how)
    assert ("tunnel.diameter", 10) in sizes(note)
    assert not [f for f in facts(note, "devices") if f.get("size")]


@pytest.mark.parametrize("told", ["A ten millimeter reamer over a guide pin.", "Reamed with a ten millimeter reamer."])
def test_a_reamer_s_own_size_stays(told: str) -> None:
    note = "PCL reconstruction of the right knee, tibial tunnel. " + told
    assert [f["size"] for f in facts(note, "devices") if f["kind"] == "reamer"] == [10]


@pytest.mark.parametrize(
    "told",
    [
        "Biter, then shaver, we clean up the edge until it's stable.",
        "The edge gets cleaned with the shaver.",
        "Remnant cleared to a rim of two millimeters.",
        "Torn tissue away with the biter until the edge is stable.",
        "I nibble the edge back to good tissue.",
    ],
)
def test_edges_that_have_no_name_are_the_rim(told: str) -> None:
    note = "Right knee, lateral meniscus, segmental allograft transplant. Portals. The body is deficient. "
    assert "rim-preparation" in performed(note + told)
