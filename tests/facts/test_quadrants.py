"""The four-quadrant list: which suture went where, however it is listed, in the native meniscus and in the graft.

Positions and fields are the record contract's (section 4; section 8, rule 8). That sutures are told by color and
quadrant is common practice, no source.
"""

from __future__ import annotations

import pytest

from extractor.facts.draft import FactDraft

from .reading import drafts, facts

FOUR = {
    "posterior-superior": "white",
    "posterior-inferior": "blue",
    "anterior-superior": "green",
    "anterior-inferior": "black",
}


def laid(text: str, tissue: str = "native") -> dict[str, str | None]:
    """Color by position, of one tissue; fails where two facts stand at one position."""
    found = [f for f in facts(text, "sutures") if f["tissue"] == tissue]
    out = {f"{f['region']}-{f['surface']}": f.get("color") for f in found}
    assert len(out) == len(found), found
    return out


@pytest.mark.parametrize(
    "text",
    [
        # position first
        "Native meniscus: posterior superior white, posterior inferior blue, anterior superior green, anterior inferior"
        " black.",
        "In the native meniscus posterior superior got white. Posterior inferior got blue. Anterior superior got green."
        " Anterior inferior got black.",
        # color first
        "Native meniscus: white posterior superior, blue posterior inferior, green anterior superior, black anterior"
        " inferior.",
        "In the native meniscus white tape went posterior superior, blue went posterior inferior, green went anterior"
        " superior, and black went anterior inferior.",
        # in everyday words
        "Native meniscus: white at the back on top, blue at the back underneath, green in front on top, black in front"
        " underneath.",
        # one word a position
        "Native meniscus: posterosuperior white, posteroinferior blue, anterosuperior green, anteroinferior black.",
        # surface first
        "Native meniscus: superior posterior white, inferior posterior blue, superior anterior green, inferior anterior"
        " black.",
        # positions together, then their colors
        "In the native meniscus posterior superior and posterior inferior got white and blue. In the native meniscus"
        " green and black went anterior superior and anterior inferior.",
        # no punctuation at all
        "native meniscus posterior superior white posterior inferior blue anterior superior green anterior inferior"
        " black",
        "native meniscus white posterior superior blue posterior inferior green anterior superior black anterior"
        " inferior",
        # by pair
        "In the native meniscus the posterior pair is white superiorly and blue inferiorly, the anterior pair is green"
        " superiorly and black inferiorly.",
        # a line each
        "Native meniscus\nposterior superior: white\nposterior inferior: blue\nanterior superior: green\nanterior"
        " inferior: black",
    ],
)
def test_every_way_of_listing_gives_the_same(text: str) -> None:
    assert laid(text) == FOUR
    assert not laid(text, "graft")


def test_pattern_and_form_stay_with_their_color() -> None:
    text = "Native meniscus: posterior superior striped blue tape, posterior inferior solid white suture."
    looks = [{k: f.get(k) for k in ("color", "pattern", "form")} for f in facts(text, "sutures")]
    assert looks == [
        {"color": "blue", "pattern": "striped", "form": "tape"},
        {"color": "white", "pattern": "solid", "form": "suture"},
    ]


@pytest.mark.parametrize(
    "text",
    [
        "Native meniscus: posterior superior white, no, green.",
        "Native meniscus: posterior superior white, sorry, green.",
        "Native meniscus: posterior superior white, correction, green tape.",
    ],
)
def test_a_corrected_color_is_the_last(text: str) -> None:
    assert laid(text) == {"posterior-superior": "green"}


@pytest.mark.parametrize(
    "text",
    [
        "The same on the graft.",
        "Same colors on the graft.",
        "The graft got identical sutures in the identical positions.",
    ],
)
def test_the_same_on_the_graft_is_expanded(text: str) -> None:
    """Contract, section 8, rule 8."""
    native = (
        "Native meniscus: white posterior superior, blue posterior inferior, green anterior superior, "
        "black anterior inferior."
    )
    whole = f"{native} {text}"
    assert laid(whole) == FOUR
    assert laid(whole, "graft") == FOUR


def test_the_same_places_with_colors_of_their_own() -> None:
    text = (
        "Native meniscus: posterior superior white, posterior inferior blue. On the graft the same, purple and yellow."
    )
    assert laid(text, "graft") == {"posterior-superior": "purple", "posterior-inferior": "yellow"}


def test_a_color_left_out_stays_out() -> None:
    """The neighbors keep their own: nothing is shifted along the list."""
    text = "native meniscus posterior superior white posterior inferior anterior superior green"
    assert laid(text) == {"posterior-superior": "white", "posterior-inferior": None, "anterior-superior": "green"}


@pytest.mark.parametrize(
    "text", ["Native meniscus. White. Posterior superior.", "Native meniscus. Posterior superior. White."]
)
def test_place_and_color_in_sentences_of_their_own(text: str) -> None:
    assert laid(text) == {"posterior-superior": "white"}


def test_the_role_announced_holds_for_the_list() -> None:
    text = "Shuttle sutures in the native meniscus: posterior superior white, posterior inferior blue."
    assert {f.get("role") for f in facts(text, "sutures")} == {"shuttle"}


def test_the_expanded_rests_on_both_sayings() -> None:
    text = "Native meniscus: white posterior superior. The same on the graft."
    (graft,) = [d for d in drafts(text, "sutures") if d.fields["tissue"] == "graft"]
    said = " ".join(text[s.start : s.end] for s in graft.spans)
    assert "same" in said and "white posterior superior" in said


def test_the_same_is_not_expanded_over_what_is_told_one_by_one() -> None:
    text = (
        "Native meniscus: white posterior superior, blue posterior inferior. The same colors on the graft. "
        "Graft: white posterior superior, green posterior inferior."
    )
    assert laid(text, "graft") == {"posterior-superior": "white", "posterior-inferior": "green"}


def test_the_same_only_thought_of_is_not_expanded() -> None:
    text = "Native meniscus: white posterior superior. The same on the graft was considered."
    assert not laid(text, "graft")


def test_a_color_mismatch_is_kept_as_said() -> None:
    """The checks make a suture-color-conflict of it (contract, section 7); reading changes nothing."""
    text = (
        "Native meniscus: posterior superior white, posterior inferior blue. "
        "Graft: posterior superior white, posterior inferior green."
    )
    assert laid(text)["posterior-inferior"] == "blue"
    assert laid(text, "graft")["posterior-inferior"] == "green"


def test_one_color_twice_is_kept_as_said() -> None:
    text = "Native meniscus: posterior superior white, posterior inferior white."
    assert laid(text) == {"posterior-superior": "white", "posterior-inferior": "white"}


def test_told_twice_is_one_fact_with_more_evidence() -> None:
    text = "Native meniscus: posterior superior white. Again in the native meniscus, posterior superior is white."
    (suture,) = drafts(text, "sutures")
    assert sum("white" in text[s.start : s.end] for s in suture.spans) == 2


def test_a_position_with_no_color_is_kept() -> None:
    text = "In the native meniscus sutures were passed posterior superior and posterior inferior."
    assert laid(text) == {"posterior-superior": None, "posterior-inferior": None}


@pytest.mark.parametrize(
    ("text", "claim"),
    [
        (
            "Four native sutures were passed in the meniscus: posterior superior white, posterior inferior blue.",
            ("native", 4),
        ),
        ("Two sutures in the meniscal graft: posterior superior white, posterior inferior blue.", ("graft", 2)),
    ],
)
def test_an_announced_number_is_a_claim(text: str, claim: tuple[str, int]) -> None:
    assert [(c["tissue"], c["count"]) for c in facts(text, "claims")] == [claim]


def test_places_alone_are_no_sutures() -> None:
    """The same words of place, of bone and of portals."""
    for text in (
        "The posterior cruciate was intact; the superior pole of the patella of the knee was white.",
        "The knee has an anterior superior portal.",
        "A blue drape lay over the anterior knee.",
    ):
        found: list[FactDraft] = [d for d in drafts(text, "sutures") if d.fields.get("color")]
        assert not found, text


@pytest.mark.parametrize(
    "text",
    [
        "White posterior superior, blue posterior inferior in the native meniscus. Green posterior superior, black "
        "posterior inferior through the graft.",
        "White posterior superior, blue posterior inferior, in the native. Then green posterior superior, black "
        "posterior inferior, through the graft.",
        "White posterior superior, blue posterior inferior in the native meniscus, green posterior superior, black "
        "posterior inferior in the graft.",
    ],
)
def test_the_tissue_may_close_its_list(text: str) -> None:
    text = f"Meniscus transplantation. {text}"
    assert laid(text) == {"posterior-superior": "white", "posterior-inferior": "blue"}
    assert laid(text, "graft") == {"posterior-superior": "green", "posterior-inferior": "black"}


def test_a_tissue_spoken_of_next_closes_no_list() -> None:
    text = "Meniscus transplantation. Native: white posterior superior, blue posterior inferior, then the graft."
    assert laid(text) == {"posterior-superior": "white", "posterior-inferior": "blue"} and not laid(text, "graft")
