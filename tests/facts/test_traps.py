"""What a note says that is not of its case, and what is although such words stand near: facts x wordings.

That surgeons talk so is common practice, no source; the sentences are the project's own.
"""

from __future__ import annotations

import pytest

from .reading import facts

SETTING = "Right knee arthroscopy, medial meniscus. Two portals were made. "
FACTS = {
    "rim": {
        "CL": "the rim was six millimeters wide",
        "NP": "a rim of six millimeters",
        "VP": "measured the rim at six millimeters",
    },
    "stitches": {
        "CL": "four all-inside stitches were placed",
        "NP": "four all-inside stitches",
        "VP": "placed four all-inside stitches",
    },
    "suture": {
        "CL": "the posterior superior suture of the native meniscus was green",
        "NP": "a green suture at the posterior superior corner of the native meniscus",
        "VP": "passed a green suture through the posterior superior edge of the native meniscus",
    },
    "step": {"CL": "the rim was trephined", "NP": "trephination of the rim", "VP": "trephined the rim"},
    "device": {
        "CL": "a ten millimeter cannula was used",
        "NP": "a ten millimeter cannula",
        "VP": "used a ten millimeter cannula",
    },
}
TRAPS = [
    "When they scoped him in the spring, {CL}.",
    "He has had three operations. At the second one {CL}.",
    "{CL}, but that was at the first operation.",
    "{CL}, says the old report.",
    "I operated on him myself in 2020 and {VP}.",
    "When I did his other knee, {CL}.",
    "The contralateral knee had {NP}.",
    "In the other knee, by contrast, {CL}.",
    "We had one in August where {CL}.",
    "The next one on the list has {NP}.",
    "In my first fifty cases {CL}.",
    "When I was a fellow we {VP}.",
    "Nine out of ten have {NP}.",
    "On the course they show you {NP}.",
    "I had set my mind on {NP}, in vain.",
    "The set includes {NP}.",
    "I first took this for {NP}. It is not.",
    "The fellow said {CL}. I looked again, and no.",
    "For {NP} you need patience.",
    "In someone with {NP} you have to think twice.",
    "Whenever there is {NP}, I stop and think.",
    "It is a myth that {CL}.",
]
TRUE = [
    "As I teach the residents, {CL}.",
    "By the book, {CL}.",
    "Like in the last patient, {CL}.",
    "In contrast to the last case, {CL}.",
    "Years after the first operation, now {CL}.",
    "Because of the surgery in 2018, {CL}.",
    "In my usual manner I {VP}.",
    "Other surgeons would not, but I {VP}.",
    "Despite what the referral says, {CL}.",
    "As the referring surgeon had suspected, {CL}.",
    "Once more, as in so many knees, {CL}.",
    "The fellow {VP} under my supervision.",
]


def told(text: str) -> set[str]:
    """Which of the facts of this table a note tells as found or done."""
    note = SETTING + text[:1].upper() + text[1:] + " The joint was irrigated."
    found = set()
    sutures = facts(note, "sutures")
    if any(m["what"] == "rim.width" and m.get("role") != "reference" for m in facts(note, "measurements")):
        found.add("rim")
    if any(s.get("technique") == "all_inside" for s in sutures):
        found.add("stitches")
    if any(s.get("color") == "green" for s in sutures):
        found.add("suture")
    if any(s["code"] == "trephination" and s["status"] == "performed" for s in facts(note, "steps")):
        found.add("step")
    if any(d.get("size") == 10 for d in facts(note, "devices")):
        found.add("device")
    return found


@pytest.mark.parametrize("wording", TRAPS)
def test_what_is_not_of_this_case_is_not_read(wording: str) -> None:
    assert {name: told(wording.format(**said)) for name, said in FACTS.items()} == {name: set() for name in FACTS}


@pytest.mark.parametrize("wording", TRUE)
def test_what_is_of_this_case_is_read_beside_such_words(wording: str) -> None:
    assert {name: told(wording.format(**said)) for name, said in FACTS.items()} == {name: {name} for name in FACTS}


@pytest.mark.parametrize(
    ("text", "theirs"),
    [
        ("The student estimated six millimeters for the rim. The rim was three millimeters wide.", 6),
        ("The nurse said six millimeters for the rim, just to tease me. The rim was three millimeters wide.", 6),
        ("The fellow said six millimeters for the rim, but it is three millimeters.", 6),
        ("The template had six millimeters for the rim, and we ended at three millimeters.", 6),
        ("The rim was three millimeters, more than the six millimeters I usually see.", 6),
        ("The rim was three millimeters and not, as the fellow said, six millimeters.", 6),
        ("The rim was three millimeters, which is less than the six millimeters in the book.", 6),
        ("The rim was three millimeters, although the bank had said six millimeters.", 6),
    ],
)
def test_a_size_told_by_others_is_no_size_of_the_case(text: str, theirs: int) -> None:
    rims = [
        m for m in facts(SETTING + text, "measurements") if m["what"] == "rim.width" and m.get("role") != "reference"
    ]
    assert [m["value"] for m in rims] == [3]
    assert theirs not in [m["value"] for m in rims]
