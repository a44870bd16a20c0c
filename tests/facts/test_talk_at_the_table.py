"""How surgeons talk at the table: sizes announced ahead, second thoughts, looks put right, headings, run-on speech."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript

from .reading import facts, flags, measured, side_of, steps

TRANSPLANT = "Left knee, segmental lateral meniscus transplant. "
WHOLE = "Left knee, whole medial meniscus transplant with bone plugs. "
REPAIR = "Left knee, medial meniscus repair. "


def values(text: str) -> list[tuple[object, object]]:
    """(what, amount) of what was measured in this case."""
    return [(what, value) for what, value, role in measured(text, "role") if role != "reference"]


def raised(text: str) -> set[str]:
    """The checks that a note raises."""
    return {flag.check for flag in extract(Transcript(text=text), load_grammar()).flags}


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Ruler along the rim. Hold it flat. Nineteen millimeters.", ("defect.ap_length", 19)),
        ("Lay it along the rim. Ten, twelve, no, it curls. Nineteen millimeters.", ("defect.ap_length", 19)),
        ("Now rim to free edge. Turn the probe. Eight millimeters.", ("defect.width", 8)),
        ("From the posterior root to the gap. Steady. Twelve millimeters.", ("defect.root_distance", 12)),
    ],
)
def test_what_is_measured_may_be_announced_sentences_ahead(said: str, expected: tuple[str, int]) -> None:
    assert values(TRANSPLANT + said) == [expected]


def test_a_size_named_behind_a_full_stop_is_corrected_by_none_before_it() -> None:
    said = "Along the rim eighteen millimeters. And the width. Hold on. Nine millimeters."
    assert values(TRANSPLANT + said) == [("defect.ap_length", 18), ("defect.width", 9)]


def test_a_number_said_alone_is_no_second_size_of_what_was_measured_long_before() -> None:
    said = "The tear is ten millimeters long. It was rasped. I looked in the notch. Fourteen millimeters."
    assert values(REPAIR + said) == [("tear.length", 10)]
    assert [f.check for f in flags(REPAIR + said)] == ["unread-number"]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("The tear goes through sixty percent of the width, well, once spread, eighty percent.", 80),
        ("The tear goes through fifty percent of the width, well, seventy percent.", 70),
    ],
)
def test_a_second_thought_holds(said: str, expected: int) -> None:
    assert values(REPAIR + said) == [("tear.depth_percent", expected)]


def test_two_digits_alone_behind_a_number_say_it_again() -> None:
    assert "number-uncertain" in {f.check for f in flags(REPAIR + "Tourniquet time fifty minutes, one five.")}
    assert not flags(REPAIR + "Tourniquet time fifty minutes, five zero.")


def test_letters_of_an_identifier_are_no_words() -> None:
    said = "Graft, tissue number W three eight zero five, thawed, marked at sixteen by eleven millimeters."
    assert values(TRANSPLANT + said) == [("graft.ap_length", 16), ("graft.width", 11)]


def test_cut_the_same_as_the_defect_is_the_size_of_what_is_cut() -> None:
    said = "Graft thawed. No allowance this time, I cut it the same as the defect, seventeen millimeters by ten."
    assert values(TRANSPLANT + said) == [("graft.ap_length", 17), ("graft.width", 10)]


@pytest.mark.parametrize(
    "said",
    [
        "We did her other knee in March and there I used a twenty-two millimeter piece.",
        "She had her right knee done two years ago, the gap there was twenty-two millimeters.",
    ],
)
def test_what_was_there_is_of_the_other_knee(said: str) -> None:
    assert values(TRANSPLANT + said) == []


def test_what_was_found_here_is_of_this_knee() -> None:
    said = "He had it resected two years ago, and there was a gap of twenty millimeters."
    assert values(TRANSPLANT + said) == [("defect.ap_length", 20)]


@pytest.mark.parametrize(
    "said",
    [
        "The right knee gets its MRI before then.",
        "Her right knee has a plastic joint in it, so that one is out of the story.",
        "She had the right ACL done at sixteen, for the record.",
    ],
)
def test_a_side_said_of_the_other_knee_is_no_conflict(said: str) -> None:
    assert side_of(REPAIR + said) == ["left"]


def test_a_side_said_of_today_is_a_conflict() -> None:
    assert side_of(REPAIR + "The right knee was prepped and draped.") == ["left", "right"]


def colors(text: str) -> list[object]:
    return [f.get("color") for f in facts(text, "sutures")]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("One white, one blue, no, black.", ["white", "black"]),
        ("The first white, the second blue, hang on, we have no blue left, so black.", ["white", "black"]),
        ("A white tape through the root, then a blue one, correction, a black one.", ["white", "black"]),
        ("One white and one blue.", ["white", "blue"]),
    ],
)
def test_the_last_look_holds(said: str, expected: list[str]) -> None:
    told = colors("Medial meniscus root tear, left knee. Two cinch stitches in the root. " + said)
    assert [color for color in told if color] == expected


NATIVE = "Posterior superior white. Posterior inferior blue. Anterior superior green. Anterior inferior black. "


@pytest.mark.parametrize("heading", ["Graft sutures. ", "Graft stitches. ", "Sutures in the graft. "])
def test_a_heading_ends_the_list_before_it(heading: str) -> None:
    told = facts(TRANSPLANT + "Native shuttles. " + NATIVE + heading + NATIVE, "sutures")
    assert [f["tissue"] for f in told] == ["native"] * 4 + ["graft"] * 4


def test_the_root_that_a_graft_is_marked_from_is_no_tissue_in_hand() -> None:
    said = "The graft is thawed. I mark it eight millimeters from its root. I cut it. Now its stitches. " + NATIVE
    assert {f["tissue"] for f in facts(TRANSPLANT + said, "sutures")} == {"graft"}


def test_a_suture_of_two_colors_is_one() -> None:
    said = "Native, posterior superior is white, posterior inferior is white and blue striped."
    told = [(f["surface"], f["color"], f.get("pattern")) for f in facts(TRANSPLANT + said, "sutures")]
    assert told == [("superior", "white", None), ("inferior", "white", "striped")]


@pytest.mark.parametrize(
    "said",
    [
        "One suture through each horn of the graft, white in the posterior horn and blue in the anterior horn.",
        "Graft thawed. Number two white through the posterior horn, number two blue through the anterior horn.",
    ],
)
def test_colored_sutures_at_the_horns_of_a_graft(said: str) -> None:
    told = [(f["tissue"], f["region"], f["color"]) for f in facts(WHOLE + said, "sutures")]
    assert told == [("graft", "posterior_horn", "white"), ("graft", "anterior_horn", "blue")]


def test_stitches_of_a_root_are_no_parts_of_those_before() -> None:
    said = "Four all-inside stitches, number zero. Then the root, one white and one black luggage tag through the root."
    told = [(f.get("tissue"), f.get("technique"), f.get("count")) for f in facts(REPAIR + said, "sutures")]
    assert told == [(None, "all_inside", 4), ("root", None, 1), ("root", None, 1)]


def test_sockets_keep_the_place_named_before_them() -> None:
    said = "Then the posterior socket. I drilled it eight millimeters in diameter and ten millimeters deep, and the"
    said += " anterior socket was nine millimeters in diameter."
    told = sorted((f["what"], f["site"], f["value"]) for f in facts(WHOLE + said, "measurements"))
    assert told == [
        ("tunnel.depth", "posterior", 10), ("tunnel.diameter", "anterior", 9), ("tunnel.diameter", "posterior", 8),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("said", "size"),
    [("An eight millimeter cannula, no, make it ten.", 10), ("An eight millimeter cannula, no trouble.", 8)],
)
def test_the_size_of_a_device_put_right(said: str, size: int) -> None:
    assert [f["size"] for f in facts(TRANSPLANT + said, "devices")] == [size]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("The lateral meniscus is intact, body of the medial one is missing.", ("medial-meniscus", "body")),
        ("Lateral meniscus intact, medial posterior horn absent.", ("medial-meniscus", "posterior_horn")),
    ],
)
def test_which_meniscus_a_part_is_of(said: str, expected: tuple[str, str]) -> None:
    told = facts("Left knee, segmental medial meniscus transplant. " + said, "findings")
    assert expected in [(f["structure"], f.get("region")) for f in told if f["finding"] == "deficiency"]


def test_a_tear_only_called_so_is_no_second_one() -> None:
    said = (
        "A bucket handle tear was found, and rasped. The lateral meniscus repair was probed. But this is a long tear."
    )
    assert [f["structure"] for f in facts(REPAIR + said, "findings")] == ["medial-meniscus"]
    assert "compartment-conflict" in raised(REPAIR + said)


def test_what_is_found_in_a_doubtful_place_is_asked_about() -> None:
    assert "term-uncertain" in raised(REPAIR + "There is a tear in the interior part of the lateral meniscus.")


def test_speech_without_punctuation_parts_behind_a_size() -> None:
    said = (
        "left knee segmental medial meniscus transplant lateral meniscus intact the body is gone shaved the rim down to"
        " two millimeters and rasped it measured the defect eighteen millimeters long nine millimeters wide twelve"
        " millimeters from the posterior root graft is thawed marked seventeen by nine millimeters and cut"
    )
    assert values(said) == [
        ("defect.ap_length", 18), ("defect.root_distance", 12), ("defect.width", 9), ("graft.ap_length", 17),
        ("graft.width", 9), ("rim.width", 2),
    ]  # fmt: skip


def test_that_points_at_a_thing_behind_what_is_done() -> None:
    assert steps(TRANSPLANT + "The body is missing. Shaver, tidy that edge up.").get("rim-preparation") == "performed"
    assert steps(TRANSPLANT + "I measured that it was too long.").get("rim-preparation") is None


@pytest.mark.parametrize(
    ("said", "count"),
    [
        ("I planned four stitches and used five, all-inside, vertical mattress.", 5),
        ("As a rule six stitches, today four, all-inside, vertical mattress.", 4),
        ("Six stitches, all-inside, vertical mattress.", 6),
    ],
)
def test_of_numbers_meant_and_used_the_one_used(said: str, count: int) -> None:
    assert [f["count"] for f in facts(REPAIR + said, "sutures")] == [count]


def test_sutures_told_before_those_of_the_graft_are_native() -> None:
    said = "The graft is thawed, marked eighteen by nine, and cut. Ten millimeter cannula. Now the joint. "
    told = facts(TRANSPLANT + said + NATIVE + "The same on the graft.", "sutures")
    assert [f["tissue"] for f in told].count("native") == [f["tissue"] for f in told].count("graft") == 4


def test_a_size_off_a_scan_named_behind_it_yields_to_one_measured() -> None:
    said = "Length of the defect seventeen millimeters. A length of twenty-two millimeters was estimated on the MRI."
    assert values(TRANSPLANT + said) == [("defect.ap_length", 17)]
    assert values("Left knee, medial root repair. Extrusion of three millimeters on the scan.") == [
        ("meniscus.extrusion", 3)
    ]


def test_one_white_one_blue_are_two() -> None:
    said = "Left knee, medial root repair. Two cinch stitches through the root, one white one blue."
    assert colors(said) == ["white", "blue"]


def test_sizes_in_a_series_are_of_one_thing() -> None:
    said = "The defect is nineteen millimeters long. Graft. Length eighteen. Width nine. From its root ten. Cut it."
    assert ("graft.root_distance", 10) in values(TRANSPLANT + said)
