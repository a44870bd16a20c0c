"""Places of sutures in the trade's short ways: letters, 'up' and 'down', an order, 'the same in front'.

That places are told so is common practice, no source; the sentences are the project's own.
"""

from __future__ import annotations

import pytest

from .reading import facts, flags

FOUR = {"ps": "white", "pi": "blue", "as": "green", "ai": "black"}
NATIVE = (
    "Native meniscus: posterior superior white, posterior inferior blue, anterior superior green, anterior inferior"
    " black. "
)
BACK, FRONT = ("pi", "ps"), ("ai", "as")


def short(region: str, surface: str) -> str:
    return region[0] + surface[0]


def told(text: str, tissue: str) -> dict[str, str | None]:
    found = [f for f in facts(text, "sutures") if f["tissue"] == tissue]
    out = {short(f["region"], f["surface"]): f.get("color") for f in found}
    assert len(out) == len(found), found
    return out


def tied(text: str) -> list[tuple[str, ...]]:
    return sorted(tuple(sorted(short(*e.split("-")) for e in f["between"])) for f in facts(text, "ties"))


@pytest.mark.parametrize(
    "text",
    [
        # in letters
        "Native meniscus sutures. PS white, PI blue, AS green, AI black.",
        "Native meniscus: P-S white, P-I blue, A-S green, A-I black.",
        "Native meniscus: white in PS, blue in PI, green in AS, black in AI.",
        "native meniscus ps white pi blue as green ai black",
        # up and down, over and under
        "Native meniscus sutures. Posterior: white up, blue down. Anterior: green up, black down.",
        "Native meniscus side: back white up blue down, front green up black down.",
        "Native meniscus, behind, white up, blue down; in front, green up, black down.",
        "Native meniscus, at the back I put white over and blue under, and at the front green over and black under.",
        "At the posterior stump of the meniscus two sutures, one up, one down, white and blue. At the"
        " anterior stump two"
        " more, one up, one down, green and black.",
        "Native meniscus. White over blue at the back. Green over black in front.",
        # one word heads several
        "In the native meniscus on the femoral side white at the back and green at the front, on the"
        " tibial side blue at"
        " the back and black at the front.",
        "Native meniscus sutures. Femoral face: posterior white, anterior green. Tibial face: posterior blue, anterior"
        " black.",
        # an order
        "Native meniscus. Top row from back to front, white, green. Bottom row from back to front, blue, black.",
        # the other end alike
        "Two sutures in the posterior stump of the meniscus, white through the top and blue through the"
        " bottom. Repeated"
        " in front with green and black.",
        "Native meniscus. The posterior ones, white superior and blue inferior. The anterior ones in the same fashion,"
        " green and black.",
        # other words of place
        "Native meniscus. Dorsal end: white above, blue below. Ventral end: green above, black below.",
        "Native meniscus. White, cranial posterior. Blue, caudal posterior. Green, cranial anterior. Black, caudal"
        " anterior.",
        "At the posterior margin of the native meniscus white on the femoral aspect and blue on the"
        " tibial aspect; at the"
        " anterior margin green on the femoral aspect and black on the tibial aspect.",
        "Native meniscus. White equals posterior superior, blue equals posterior inferior, green equals anterior"
        " superior, black equals anterior inferior.",
        "Through the native meniscus I passed a white suture posterosuperiorly, a blue suture"
        " posteroinferiorly, a green"
        " suture anterosuperiorly and a black suture anteroinferiorly.",
    ],
)
def test_every_way_of_placing_gives_the_same(text: str) -> None:
    assert told(text, "native") == FOUR
    assert not told(text, "graft")


@pytest.mark.parametrize(
    "text",
    [
        "Meniscus. The shaver was brought up and the fluid was let down, white tape, blue tape.",
        "Meniscus. Loop up, white and blue come down through the tunnel.",
        "Native meniscus, posterior stump, white and blue as planned.",
        "The meniscus was white up to the red zone in front and pink down at the back.",
        "Meniscus. PS 120 on the ventilator, a white suture at the back.",
    ],
)
def test_plain_words_are_no_places(text: str) -> None:
    assert not facts(text, "sutures")


@pytest.mark.parametrize(
    "text",
    [
        "The graft was loaded color for color.",
        "On the graft, exactly as on the native side.",
        "I did the graft just like that.",
        "Graft shuttles: posterior superior white; posterior inferior blue; anterior superior green; anterior inferior"
        " black.",
        "On the back table PS white, PI blue, AS green, AI black.",
        "On the graft it is the same, in front green up, black down, behind white up, blue down.",
        "Likewise on the graft, green, black, white and blue.",
    ],
)
def test_on_the_graft(text: str) -> None:
    assert (told(NATIVE + text, "native"), told(NATIVE + text, "graft")) == (FOUR, FOUR)


@pytest.mark.parametrize(
    "text",
    [
        "The same cannula was used for the graft.",
        "The graft was the same size.",
        "The graft was then passed through the same portal.",
        "The graft was thawed in the same way as ever.",
    ],
)
def test_the_same_of_another_thing_repeats_no_sutures(text: str) -> None:
    assert (told(NATIVE + text, "native"), told(NATIVE + text, "graft")) == (FOUR, {})


def test_what_the_operation_is_called_is_no_tissue_in_hand() -> None:
    text = "Meniscal allograft transplantation. Posterior superior white, posterior inferior blue."
    assert told(text, "native") == {"ps": "white", "pi": "blue"}


@pytest.mark.parametrize(
    "text",
    [
        "PS was tied to PI and AS to AI.",
        "Tied top to bottom at the back and then the same at the front.",
        "Upper and lower tied in back, upper and lower tied in front.",
        "At the posterior end the superior limb was tied to the inferior limb, and at the anterior end likewise.",
        "We tied the posterior sutures together and repeated this anteriorly.",
        "Tied in pairs, superior to inferior, first behind then in front.",
        "The back two were tied together. The same in front.",
        "First the posterior sutures were tied, superior onto inferior, then the anterior ones likewise.",
        "Knots. Back: top to bottom. Front: top to bottom.",
        "Posterior: superior tied to inferior. Anterior: superior tied to inferior.",
        "Tied the tops to the bottoms, at the back and at the front.",
        "Tied top to bottom at the back and top to bottom at the front.",
        "Then we always tie the upper with the lower one, first at the back, then in front.",
    ],
)
def test_ties(text: str) -> None:
    assert tied(NATIVE + text) == [FRONT, BACK]
    assert told(NATIVE + text, "native") == FOUR


def test_without_punctuation_a_place_heads_the_surfaces_after_it() -> None:
    text = (
        "lateral meniscus transplant we put the cannula in laterally and had a good look at everything from there "
        "then native sutures at the back end the top one is white and the bottom one is blue at the front end the top "
        "one is green and the bottom one is black"
    )
    assert told(text, "native") == FOUR


def test_a_size_ahead_of_a_color_is_that_sutures() -> None:
    text = "Native meniscus. Posterior superior, two-oh green suture. Posterior inferior, white."
    sizes = {f["color"]: f.get("usp_size") for f in facts(text, "sutures")}
    assert sizes == {"green": "2-0", "white": None}


def test_an_order_that_only_the_other_end_tells_is_asked_about() -> None:
    text = "Native meniscus. At the back white on top, blue underneath. In front green and black."
    assert told(text, "native") == FOUR
    assert [(f.check, len(f.fact_keys)) for f in flags(text)] == [("term-uncertain", 2)]
    assert not flags(text.replace("In front", "In front the same with"))


def test_a_pair_left_is_not_tied() -> None:
    assert tied(NATIVE + "Only the posterior pair was tied, the anterior pair was left for later.") == [BACK]
