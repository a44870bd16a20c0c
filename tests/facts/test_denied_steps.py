"""Every kind of step, denied in every way: what was not done is never told as done.

The steps and the denials are the project's own words; that surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts

STEPS = {  # by code: the name of the step, and its doing
    "microfracture": ("microfracture", "microfracturing it"),
    "chondroplasty": ("chondroplasty", "shaving the cartilage"),
    "notch-preparation": ("notchplasty", "opening the notch"),
    "trephination": ("trephination", "trephining the rim"),
    "rim-abrasion": ("rasping of the rim", "rasping the rim"),
    "fibrin-clot": ("fibrin clot", "adding a clot"),
    "graft-trimming": ("trimming of the graft", "trimming the graft"),
    "synovectomy": ("synovectomy", "taking out synovium"),
    "partial-meniscectomy": ("partial meniscectomy", "resecting the flap"),
    "lysis-of-adhesions": ("lysis of adhesions", "dividing adhesions"),
    "loose-body-removal": ("loose body removal", "removing a loose body"),
    "tourniquet-inflation": ("tourniquet inflation", "inflating the tourniquet"),
    "outside-in-stitch": ("outside-in stitch", "placing an outside-in stitch"),
    "all-inside-stitch": ("all-inside stitch", "placing an all-inside stitch"),
    "inside-out-stitch": ("inside-out stitch", "placing an inside-out stitch"),
    "bridge-check": ("bridge check", "checking for a bridge"),
    "arthrotomy": ("arthrotomy", "opening the joint"),
    "brace-application": ("brace", "putting a brace on"),
    "range-of-motion-check": ("range of motion check", "cycling the knee"),
    "stability-probing": ("probing", "probing the repair"),
}
NAMED = (
    "{} was not needed.", "{} was not performed.", "{}: not done.", "{} was deferred.", "{} we skipped.",
    "{} was not an option.", "{} was out of the question.", "{} was discussed and not done.", "I did not do a {}.",
    "I considered a {} and decided against it.", "Rather than a {} I left it alone.", "The {} can wait.",
    "The patient did not want a {}.", "If it fails she will need a {}.", "A {} was avoided.",
)  # fmt: skip
DOING = (
    "I thought about {}, and left it.", "I saw no point in {}.", "I decided against {}.", "There was no need for {}.",
    "I had planned on {} but did not.", "I refrained from {}.", "I toyed with the idea of {}.",
)  # fmt: skip
SAID = [said.format(name) for name, _ in STEPS.values() for said in NAMED]
SAID += [said.format(deed) for _, deed in STEPS.values() for said in DOING]


@pytest.mark.parametrize("said", SAID)
def test_what_was_not_done_is_not_told_as_done(said: str) -> None:
    text = f"Left knee arthroscopy, lateral meniscus. Portals made. {said[0].upper()}{said[1:]} Wounds closed."
    done = {s["code"] for s in facts(text, "steps") if s["status"] == "performed"}
    assert done <= {"portal-placement", "closure"}


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("stability-probing", "Nothing moved on probing the repair."),
        ("stability-probing", "Probing did not show a gap."),
        ("bridge-check", "No bridge of soft tissue was found between the sutures."),
        ("range-of-motion-check", "The knee was taken through a range of motion and the meniscus did not move."),
    ],
)
def test_a_test_that_found_nothing_was_made(code: str, said: str) -> None:
    text = f"Left knee meniscus transplant. {said}"
    assert code in {s["code"] for s in facts(text, "steps") if s["status"] == "performed"}
