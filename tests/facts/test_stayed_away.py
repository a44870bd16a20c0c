"""What was brought and stayed away, what belongs to other cases of the day, rules told beside a size.

The sentences are the project's own; that surgeons talk so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts, measured, side_of

BROUGHT = (
    "A {0} had been held ready.",
    "We had a {0} on the table in case it wobbled.",
    "The plan had allowed for a {0}.",
)
AWAY = (
    "It was firm and the {0} stayed in its package.", "The bone held, so the {0} went back to the shelf.",
    "The fit was tight and the {0} remained in its pouch.", "It did not move and the {0} was never unwrapped.",
    "Nothing gaped, so the {0} kept its wrapper on.",
)  # fmt: skip
DEVICES = {"screw": "interference screw", "anchor": "suture anchor", "button": "button"}


@pytest.mark.parametrize("away", AWAY)
@pytest.mark.parametrize("brought", BROUGHT)
@pytest.mark.parametrize("kind", DEVICES)
def test_a_device_that_stayed_away_was_not_used(brought: str, away: str, kind: str) -> None:
    text = f"Left knee, lateral meniscus transplant. {brought.format(DEVICES[kind])} {away.format(kind)}"
    assert kind not in {d["kind"] for d in facts(text, "devices")}


@pytest.mark.parametrize(
    "text",
    [
        "Left knee. The block was fixed with an interference screw, and the second screw stayed in its package.",
        "Left knee. A screw was placed. The other screw went back to the shelf.",
    ],
)
def test_one_of_two_devices_was_used(text: str) -> None:
    assert [d["kind"] for d in facts(text, "devices")] == ["screw"]


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("microfracture", "She is not thirty, so the awl stayed wrapped."),
        ("microfracture", "The bed is sound and the awl never left the tray."),
        ("microfracture", "At her age the awl can stay where it is."),
        ("rim-abrasion", "The meniscus bled by itself, so the rasp stayed in the tray."),
        ("rim-abrasion", "The meniscus tear was fresh and the rasp never came off the table."),
        (
            "fibrin-clot",
            "Blood was drawn for a fibrin clot and it was still liquid at the end, so that went in the bin.",
        ),
        ("fibrin-clot", "A fibrin clot was being stirred; it fell apart, so it was dumped."),
        ("fibrin-clot", "The clot we had stirred was too soft to carry, and that ended in the bucket."),
    ],
)
def test_a_tool_that_stayed_away_did_nothing(code: str, said: str) -> None:
    text = f"Right knee arthroscopy, cartilage lesion of the medial femoral condyle. {said}"
    assert code not in {s["code"] for s in facts(text, "steps") if s["status"] == "performed"}


def test_a_clot_beside_blood_thrown_away_is_placed() -> None:
    text = "Left knee meniscus repair. Blood was drawn for a fibrin clot, and it went in under the top leaf."
    assert "fibrin-clot" in {s["code"] for s in facts(text, "steps") if s["status"] == "performed"}


@pytest.mark.parametrize("away", ["put away", "given back", "returned", "discarded", "put back"])
def test_a_device_that_was_given_back(away: str) -> None:
    text = f"left knee, lateral meniscus. an anchor was fetched for the rim but the rim held and the anchor was {away}"
    assert not facts(text, "devices")


@pytest.mark.parametrize("said", ["green instead of orange", "green, not orange", "not the orange one, the green"])
def test_a_color_set_against_another(said: str) -> None:
    text = f"Right knee, meniscus transplant. Native sutures. Posterior superior white. Anterior superior, {said}."
    assert [s["color"] for s in facts(text, "sutures")] == ["white", "green"]


OTHERS = ("the two before him", "the first two", "the other cases of this morning", "the patient after her")
APART = ("have their own dictations", "are dictated separately", "have separate reports", "are written up already")


@pytest.mark.parametrize("apart", APART)
@pytest.mark.parametrize("others", OTHERS)
def test_cases_dictated_apart_are_none_of_this_one(others: str, apart: str) -> None:
    text = (
        f"Left knee, and {others}, the right A C L and the root with the six millimeter tunnel, {apart}. Meniscus tear."
    )
    assert side_of(text) == ["left"]
    assert ("tunnel.diameter", 6.0, "made") not in measured(text, "role")
    assert not facts(text, "steps")


@pytest.mark.parametrize(
    "rule",
    [
        "anything inside four millimeters I sew",
        "what lies within four millimeters heals",
        "whatever is over four millimeters gets a stitch",
    ],
)
def test_a_rule_beside_a_size_is_no_size(rule: str) -> None:
    text = f"Left knee, medial meniscus tear. It is thirty one millimeters long, and {rule}."
    told = measured(text, "role")
    assert ("tear.length", 31.0, "observed") in told
    assert all(role == "reference" for what, value, role in told if what.startswith("tear") and value != 31.0)


@pytest.mark.parametrize(
    "waved",
    [
        "forget it, I'm not doing a chondroplasty for that",
        "ignore it, I don't shave that",
        "forget about it, it is not the problem",
    ],
)
def test_a_finding_waved_off_stays_found(waved: str) -> None:
    found = facts(f"Right knee arthroscopy. Patella Outerbridge two, {waved}.", "findings")
    assert [f["structure"] for f in found] == ["patella"]


@pytest.mark.parametrize("waved", ["forget it, I was looking at the wrong picture", "delete that, wrong screen"])
def test_a_finding_taken_back_is_none(waved: str) -> None:
    assert not facts(f"Right knee arthroscopy. Patella Outerbridge two, {waved}.", "findings")


@pytest.mark.parametrize("talk", ["pull the slack out", "hold the end down", "you're bowing it", "push the ruler down"])
@pytest.mark.parametrize("last", ["seventeen millimeters", "seventeen. Seventeen millimeters, one seven"])
def test_a_length_read_anew_after_some_talk(talk: str, last: str) -> None:
    text = f"Right knee, medial meniscus. The defect along the rim, five, ten, fifteen, so sixteen, no, {talk}, {last}."
    assert measured(text) == [("defect.ap_length", 17.0)]
