"""A deed that is named, and denied by words that stand apart from it, behind it, or in what comes of it.

The steps and the sayings are the project's own words; that surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts

STEPS = {  # by code: its name, its doing, its having been done
    "all-inside-stitch": ("an all-inside stitch", "add an all-inside stitch", "added an all-inside stitch"),
    "chondroplasty": ("a chondroplasty", "do a chondroplasty", "done a chondroplasty"),
    "microfracture": ("microfracture", "microfracture the condyle", "microfractured the condyle"),
    "fibrin-clot": ("a fibrin clot", "add a fibrin clot", "added a fibrin clot"),
    "trephination": ("trephination", "trephine the rim", "trephined the rim"),
    "synovectomy": ("a synovectomy", "do a synovectomy", "done a synovectomy"),
}
SAYINGS = (
    "And I let {0} be.", "I left {0} for another day.", "{0} is for me nothing.", "{0} was only in my head.",
    "{0}, that is nothing for me, none was made.", "To {1} was there nothing.", "To {1} there was no reason.",
    "For {0} there was no place.", "For {0} was no reason.", "{0} was held to be of no benefit.", "{0}? Nope.",
    "{0} had been prepared for, but the thing settled by itself and none was done.", "{0} remained an idea.",
    "{0} had been prepared for, but the gap closed by itself and none was placed.",
    "I had nothing to do with {0} here.", "My fingers itched to {1}, I sat on them.",
    "I nearly said I had {2}, but no, we never did.",
    "I thought I had {2}, but that was last week's graft, in this one I had not.",
    "I thought I had {2}, but that was the one before.",
)  # fmt: skip
DONE = (
    ("microfracture", "For the microfracture no time was lost and the awl went in four times."),
    ("chondroplasty", "I left the rim alone and did a chondroplasty of the trochlea."),
    ("trephination", "Left knee, trephination of the rim, let it be noted."),
    ("fibrin-clot", "The tear gaped, a fibrin clot was put in and none of it washed out."),
    ("trephination", "I thought the rim was dry, but it was not, so it was trephined."),
)


@pytest.mark.parametrize("said", SAYINGS)
@pytest.mark.parametrize("code", STEPS)
def test_what_is_denied_apart_is_not_told_as_done(code: str, said: str) -> None:
    told = said.format(*STEPS[code])
    text = f"Left knee, lateral meniscus repair. Portals made. {told[0].upper()}{told[1:]} Dressing applied."
    done = {s["code"] for s in facts(text, "steps") if s["status"] == "performed"}
    assert done <= {"portal-placement", "dressing"}


@pytest.mark.parametrize(("code", "said"), DONE)
def test_what_was_done_stays_done(code: str, said: str) -> None:
    text = f"Left knee arthroscopy, lateral meniscus repair. Portals made. {said}"
    assert code in {s["code"] for s in facts(text, "steps") if s["status"] == "performed"}
