"""A clean transplant told in many wordings raises nothing, and the same note with one thing planted raises that.

The sentences are the project's own; that surgeons speak so is common practice, no source.
"""

from __future__ import annotations

import pytest

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript

TOLD = {
    "title": "Left knee, medial segmental meniscus allograft transplant.",
    "setup": "Time-out done, prepped and draped, tourniquet up to two eighty millimeters of mercury, two portals made, "
    "quick look around.",
    "find": "Lateral meniscus intact, ACL intact, the body of the medial meniscus is missing.",
    "rim": "Rim trimmed back to two millimeters with the shaver and rasped.",
    "defect": "The defect measures twenty millimeters along the rim, nine millimeters wide, and starts twelve "
    "millimeters from the posterior root.",
    "graft": "Allograft, tissue number A four four one nine, thawed.",
    "mark": "Marked and cut nineteen millimeters long, nine wide, starting twelve millimeters from its own root.",
    "native": "Native sutures, posterior superior white, posterior inferior blue, anterior superior green, anterior "
    "inferior black.",
    "can": "Eight millimeter cannula placed and the sutures retrieved through it.",
    "gs": "Graft sutures, same four colors at the same four places.",
    "deliver": "The graft was delivered through the cannula.",
    "tie": "Posterior superior tied to posterior inferior, anterior superior to anterior inferior.",
    "probe": "Probed and stable.",
    "tq": "Tourniquet time sixty minutes. Blood loss ten milliliters.",
    "close": "Closed and dressed.",
}
CLEAN = [
    ("tie", "I do not tie posterior to anterior, that would twist it. Posterior superior to posterior inferior, "
     "anterior superior to anterior inferior."),
    ("gs", "The partners in the graft match, white, blue, green and black in the same order."),
    ("mark", "Marked at twenty and cut at nineteen by nine millimeters, twelve from the root."),
    ("mark", "I cut this one flush with the defect, no allowance, twenty millimeters by nine, twelve from its root."),
    ("rim", "The rim was six millimeters on the MRI and we trimmed it to two millimeters, then rasped."),
    ("graft", "Donor meniscus number A-4419, size matched, was already thawed."),
    ("can", "A nine millimeter cannula was introduced. The sutures, no bridge between them, were sorted."),
    ("probe", "Range at the end zero to one twenty, it had been zero to one forty before."),
    ("tq", "Tourniquet time sixty minutes. EBL 10."),
    ("setup", "Scope in through the usual two portals after time-out and prep, quick look around."),
    ("setup", "Prep, drape, time-out. Scope in, quick look around, then a posteromedial portal."),
    ("find", "Lateral side is fine. Now medial. The body of the medial meniscus is missing."),
]  # fmt: skip
PLANTED = [
    ("tie-mismatch", "tie", "White was tied to black, green was tied to blue."),
    ("suture-color-conflict", "gs", "Graft sutures: posterior superior green, posterior inferior blue, anterior "
     "superior white, anterior inferior black."),
    ("suture-unpaired", "gs", "Graft sutures: posterior superior white, posterior inferior blue, anterior superior "
     "green."),
    ("graft-length-mismatch", "mark", "Cut fifteen by nine millimeters, starting twelve millimeters from its root."),
    ("graft-identifier-missing", "graft", "Fresh frozen allograft, thawed in saline."),
    ("tourniquet-long", "tq", "The tourniquet was up for two and a half hours. Blood loss ten milliliters."),
    ("compartment-conflict", "close", "Closed and dressed. That was the lateral meniscus transplant."),
    ("side-conflict", "close", "Closed. A dressing was put on the right knee."),
]  # fmt: skip


def loud(slot: str, text: str) -> set[str]:
    note = " ".join((TOLD | {slot: text}).values())
    return {f.check for f in extract(Transcript(text=note), load_grammar()).flags if f.severity != "note"}


@pytest.mark.parametrize(("slot", "text"), CLEAN)
def test_a_clean_note_raises_nothing(slot: str, text: str) -> None:
    assert not loud(slot, text)


@pytest.mark.parametrize(("check", "slot", "text"), PLANTED)
def test_what_is_planted_is_raised(check: str, slot: str, text: str) -> None:
    assert check in loud(slot, text)


@pytest.mark.parametrize(
    ("said", "conflict"),
    [
        ("The graft had a diameter of eight millimeters. In sum, the graft had a diameter of nine millimeters.", True),
        ("The graft measured eight millimeters at the femoral end and nine at the tibial end.", False),
    ],
)
def test_the_diameter_of_a_tendon_graft_said_two_ways(said: str, conflict: bool) -> None:
    record = extract(Transcript(text=f"Left knee ACL reconstruction with hamstring graft. {said}"), load_grammar())
    assert ("value-conflict" in {f.check for f in record.flags}) is conflict
