"""Sutures and ties told in many words: sticky places, other ends, tables, numbers, corrections.

That sutures are told so is common practice, no source; the sentences are the project's own. Positions are written
short: `ps` is posterior superior, `mi` middle inferior.
"""

from __future__ import annotations

import pytest

from .reading import facts, flags

FOUR = {"ps": "white", "pi": "blue", "as": "green", "ai": "black"}
SIX = FOUR | {"ms": "red", "mi": "yellow"}
BACK, FRONT = ("pi", "ps"), ("ai", "as")


def short(region: str, surface: str) -> str:
    return region[0] + surface[0]


def told(text: str, tissue: str) -> dict[str, str | None]:
    found = [f for f in facts(text, "sutures") if f.get("tissue") == tissue]
    out = {short(f["region"], f["surface"]): f.get("color") for f in found}
    assert len(out) == len(found), found
    return out


def tied(text: str) -> list[tuple[str, ...]]:
    pairs = [f["between"] for f in facts(text, "ties")]
    return sorted(tuple(sorted(short(*end.split("-")) for end in pair)) for pair in pairs)


@pytest.mark.parametrize(
    ("text", "native", "graft", "ties"),
    [
        (
            "Rear stump of the meniscus, top side, white tape. Same stump, underside, plain blue. Front stump, "
            "top side, that's the green. Front stump, underside, black.",
            FOUR,
            {},
            [],
        ),
        (
            "In the native meniscus at the back of the gap, upper surface, a white one. Beneath it, lower "
            "surface, blue. At the front of the gap, upper surface, green. Beneath that, black.",
            FOUR,
            {},
            [],
        ),
        (
            "Native meniscus. White: posterior, passed from below up so that it lies on the superior surface. "
            "Blue: posterior, inferior surface. Red: midway along, superior surface. Yellow: midway along, "
            "inferior surface. Green: anterior, superior surface. Black: anterior, inferior surface.",
            SIX,
            {},
            [],
        ),
        (
            "Native meniscus sutures. Posterior end: white above, blue below. Anterior end: green above, black below.",
            FOUR,
            {},
            [],
        ),
        (
            "Native meniscus. At the back end a white suture on the superior surface and a blue one on the "
            "inferior. At the other end a green one on the superior surface and a black one on the inferior.",
            FOUR,
            {},
            [],
        ),
        (
            "Through the native meniscus went white, blue, green and black: white is at the back on the upper "
            "surface, blue at the back on the lower surface, green in front on the upper surface, black in front "
            "on the lower surface. Through the graft, likewise, white, blue, green, black.",
            FOUR,
            FOUR,
            [],
        ),
        (
            "Suture table of the meniscus. Columns are position, native, graft. Posterior superior: white tape, "
            "white tape. Posterior inferior: blue, blue. Anterior superior: green, green. Anterior inferior: "
            "black, black.",
            FOUR,
            FOUR,
            [],
        ),
        (
            "Meniscus sutures, native first, then graft. Posterior superior white and white. Posterior inferior "
            "blue and blue. Anterior superior green and green. Anterior inferior black and black.",
            FOUR,
            FOUR,
            [],
        ),
        (
            "Native meniscus. Number one is white and it's at the back of the gap, upper surface. Number two is "
            "blue, right beneath it, lower surface. Number three is at the front of the gap, upper surface, "
            "green. Number four, beneath that, lower surface, black. In the graft, number one white, number two "
            "blue, number three green, number four black. Now, one ties to two, and three ties to four.",
            FOUR,
            FOUR,
            [FRONT, BACK],
        ),
        (
            "Native meniscus: white posterior superior. Posterior inferior is the green one. Actually, scratch "
            "that, posterior inferior is blue. Then green, anterior superior, and anterior inferior, white, um, "
            "no, black.",
            FOUR,
            {},
            [],
        ),
        (
            "Native meniscus: posterior superior white, inferior blue. Anterior superior green, inferior black. "
            "The graft has the same.",
            FOUR,
            FOUR,
            [],
        ),
        ("Meniscus. Tie the two at the back to each other. Tie the two at the front.", {}, {}, [FRONT, BACK]),
        (
            "Native meniscus: white posterior superior, blue posterior inferior, green anterior superior, black "
            "anterior inferior. The back pair was tied together and so was the front pair.",
            FOUR,
            {},
            [FRONT, BACK],
        ),
        (
            "Native meniscus: white posterior superior, blue posterior inferior, green anterior superior, black "
            "anterior inferior. Tying sequence. First, white to blue. Second, green to black.",
            FOUR,
            {},
            [FRONT, BACK],
        ),
        (
            "Native meniscus: white tape posterior superior, white suture posterior inferior, green anterior "
            "superior, black anterior inferior. White was tied to white, green to black.",
            {"ps": "white", "pi": "white", "as": "green", "ai": "black"},
            {},
            [FRONT, BACK],
        ),
        (
            "Native meniscus: white posterior superior, blue posterior inferior, green anterior superior, black "
            "anterior inferior. I tied white with blue, that's the back, then green with black, that's the front.",
            FOUR,
            {},
            [FRONT, BACK],
        ),
        (
            "Native meniscus: white posterior superior, blue posterior inferior, green anterior superior, black "
            "anterior inferior. Each superior suture was tied to its inferior partner.",
            FOUR,
            {},
            [FRONT, BACK],
        ),
        (
            "Native meniscus: white posterior superior, blue posterior inferior, green anterior superior, black "
            "anterior inferior. The sutures were tied top to bottom, back first, then front.",
            FOUR,
            {},
            [FRONT, BACK],
        ),
        (
            "Native meniscus: white posterior superior, blue posterior inferior, red middle superior, yellow "
            "middle inferior, green anterior superior, black anterior inferior. Middle superior was tied to "
            "middle inferior.",
            SIX,
            {},
            [("mi", "ms")],
        ),
        (
            "In the native meniscus the back got white on top and blue underneath; the front got green on top and "
            "black underneath. The graft mirrors this.",
            FOUR,
            FOUR,
            [],
        ),
        (
            "Native meniscus: superior surface, posterior white, anterior green. Inferior surface, posterior "
            "blue, anterior black.",
            FOUR,
            {},
            [],
        ),
        (
            "Native meniscus: on top, white at the back and green in front; underneath, blue at the back and "
            "black in front.",
            FOUR,
            {},
            [],
        ),
        (
            "Four sutures through the native meniscus: two posterior, white superior and blue inferior, and two "
            "anterior, green superior and black inferior. Matching ones in the graft.",
            FOUR,
            FOUR,
            [],
        ),
        (
            "A white tape was passed through the superior surface of the posterior stump of the native meniscus "
            "and a blue suture through its inferior surface. A green suture was passed through the superior "
            "surface of the anterior stump and a black one through its inferior surface.",
            FOUR,
            {},
            [],
        ),
        (
            "The graft was sutured to match: white tape at its posterior end superiorly, blue inferiorly, green "
            "anteriorly on top and black anteriorly below, meniscus.",
            {},
            FOUR,
            [],
        ),
        (
            "Native meniscus, posterior limb: superior white, inferior blue. Anterior limb: superior green, "
            "inferior black. Graft, posterior limb: superior white, inferior blue. Anterior limb: superior green, "
            "inferior black.",
            FOUR,
            FOUR,
            [],
        ),
        ("Native meniscus post sup white, post inf blue, ant sup green, ant inf black. Graft idem.", FOUR, FOUR, []),
        (
            "The first native meniscus suture, white, is posterior superior; the second, blue, posterior "
            "inferior; the third, green, anterior superior; the fourth, black, anterior inferior.",
            FOUR,
            {},
            [],
        ),
        (
            "Native meniscus: the white goes posterior and superior, the blue posterior and inferior, the green "
            "anterior and superior, the black anterior and inferior.",
            FOUR,
            {},
            [],
        ),
        (
            "Meniscus sutures: superior posterior native white, superior posterior graft white, inferior "
            "posterior native blue, inferior posterior graft blue.",
            {"ps": "white", "pi": "blue"},
            {"ps": "white", "pi": "blue"},
            [],
        ),
        (
            "Native meniscus: posterior superior white; graft posterior superior white; native posterior inferior "
            "blue; graft posterior inferior blue.",
            {"ps": "white", "pi": "blue"},
            {"ps": "white", "pi": "blue"},
            [],
        ),
        (
            "Native meniscus: white for posterior superior, blue for posterior inferior, green for anterior "
            "superior and black for anterior inferior. Same order on the graft: white, blue, green, black.",
            FOUR,
            FOUR,
            [],
        ),
        (
            "We tied posterior first, superior to inferior, then anterior, superior to inferior, meniscus.",
            {},
            {},
            [FRONT, BACK],
        ),
        (
            "Meniscus: the posterior sutures were tied to one another, followed by the anterior sutures.",
            {},
            {},
            [FRONT, BACK],
        ),
        (
            "Meniscus. Knot one, posterior superior to posterior inferior. Knot two, anterior superior to "
            "anterior inferior.",
            {},
            {},
            [FRONT, BACK],
        ),
        (
            "Native meniscus: white posterior superior, blue posterior inferior, green anterior superior, black "
            "anterior inferior. White and blue were tied, then green and black.",
            FOUR,
            {},
            [FRONT, BACK],
        ),
        (
            "Native meniscus: white posterior superior, blue posterior inferior, green anterior superior, black "
            "anterior inferior. Blue to white, black to green, all knots sliding with three half hitches.",
            FOUR,
            {},
            [FRONT, BACK],
        ),
        ("Meniscus. The posterior portal was superior and a blue towel lay below the knee.", {}, {}, []),
        ("In the meniscus the tear was anterior on the superior surface and the cannula was blue.", {}, {}, []),
        (
            "Native meniscus: white suture posterior superior. The trocar was blue. The inferior leaf of the "
            "anterior horn was frayed.",
            {"ps": "white"},
            {},
            [],
        ),
        ("Posterior superior was not tied to anterior superior, meniscus.", {}, {}, []),
    ],
)
def test_told(
    text: str, native: dict[str, str | None], graft: dict[str, str | None], ties: list[tuple[str, str]]
) -> None:
    assert (told(text, "native"), told(text, "graft"), tied(text)) == (native, graft, ties)


@pytest.mark.parametrize(
    "text",
    [
        "We usually put white at posterior superior of the meniscus.",
        "If the meniscus had been longer, white would have gone posterior superior.",
        "No suture was put at posterior superior of the native meniscus, white or other.",
    ],
)
def test_what_was_not_laid_is_no_suture(text: str) -> None:
    assert not told(text, "native") and not told(text, "graft")


def test_ends_named_by_landmarks_are_asked_about() -> None:
    text = (
        "Native meniscus. At the root end of the gap, superior surface, a red one, and the inferior surface there takes"
        " a yellow. At the hiatus end, superior is blue, inferior is white."
    )
    assert told(text, "native") == {"ps": "red", "pi": "yellow", "as": "blue", "ai": "white"}
    assert [f.check for f in flags(text)] == ["term-uncertain"]


def test_one_landmark_alone_tells_no_end() -> None:
    assert not told("Native meniscus. At the hiatus end, superior is blue, inferior is white.", "native")


@pytest.mark.parametrize(
    ("text", "above", "below"),
    [
        ("Striped tape posterior superior, black posterior inferior.", None, "black"),
        ("Striped tape in the posterior corner on top, plain black underneath.", None, "black"),
        ("Tiger tape at the back on top, white below.", None, "white"),
        ("The dotted tape sits at the back above, green below it.", None, "green"),
        ("White tape in the posterior corner on top, plain black underneath.", "white", "black"),
    ],
)
def test_a_suture_told_by_its_pattern_alone_takes_no_other_color(text: str, above: str | None, below: str) -> None:
    assert told("Native meniscus. " + text, "native") == {"ps": above, "pi": below}
