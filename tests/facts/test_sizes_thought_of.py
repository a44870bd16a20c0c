"""Sizes that somebody only thinks of, wishes for or has from elsewhere; common practice, no source.

Beside every trap stand frames of the same words in which the size is this knee's: it must be read.
"""

from __future__ import annotations

import pytest

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript

SETTINGS = {
    "acl": "Right knee, ACL reconstruction with a hamstring autograft. {} The graft was passed and fixed.",
    "meniscus": "Right knee arthroscopy, medial meniscus repair. {} The repair was probed and stable.",
}
SIZES = {
    "a tunnel of nine millimeters": ("acl", "tunnel.diameter", 9),
    "ten degrees of hyperextension": ("acl", "knee.hyperextension", 10),
    "a tear of twenty millimeters": ("meniscus", "tear.length", 20),
    "a resection of thirty percent": ("meniscus", "resection.percent", 30),
}
NOT_HERE = (
    "I would not have accepted {}.", "The booking form has {} on it.", "Only with {} do I add anything.",
    "{} is the most I ever had.", "Do not exceed {}.", "The guideline allows {}.", "{} came up in the discussion.",
    "He had wanted {}.", "I am not a friend of {}.", "{} is what the rep sells.", "The textbook picture is {}.",
    "{} I would leave alone.", "Anything like {} I would revise.", "Nothing like {}.", "No need for {}.",
    "Instead of {} we settled for less.", "I can live with {} in a runner.", "{} makes me nervous.",
    "{} used to make me nervous.", "Beyond {} I get nervous.", "{} is normal.", "{} is too much for most people.",
)  # fmt: skip
HERE = (
    "It is {} now, and I never go past that.", "I measured {} twice.",
    "I had feared worse, there was {}.", "With {} I was content.", "{} is what we have.", "{}, which is where I stop.",
    "I noted {}.", "Nobody expected it but there was {}.", "There is {} today.", "We saw {}, the rep was right.",
)  # fmt: skip


def sizes(text: str) -> set[tuple[str, float | None]]:
    record = extract(Transcript(text=text), load_grammar())
    return {(m.what, m.value if m.value is not None else m.low) for m in record.measurements if m.role != "reference"}


def told(frame: str, name: str) -> set[tuple[str, float | None]]:
    said = frame.format(name)
    return sizes(SETTINGS[SIZES[name][0]].format(said[0].upper() + said[1:]))


@pytest.mark.parametrize("frame", NOT_HERE)
def test_a_size_only_thought_of(frame: str) -> None:
    assert {name: told(frame, name) for name in SIZES} == {name: set() for name in SIZES}


@pytest.mark.parametrize("frame", HERE)
def test_a_size_of_this_knee(frame: str) -> None:
    assert {name: told(frame, name) for name in SIZES} == {name: {SIZES[name][1:]} for name in SIZES}


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Above ten degrees of hyperextension I add a tenodesis.", set()),
        ("Hyperextension over ten would have made me think of an osteotomy.", set()),
        ("The brace is locked against hyperextension at ten degrees.", set()),
        ("The hinge stops at ten so no hyperextension.", set()),
        ("In rehab we allow hyperextension to five degrees from week six.", set()),
        ("Goal is symmetric hyperextension of five degrees at six weeks.", set()),
        ("The mechanism was a hyperextension of the knee, some thirty degrees on the video.", set()),
        ("Hyperextension injury. On the table there are seven degrees of hyperextension.", {7}),
        ("Five degrees of hyperextension, which is normal for her.", {5}),
        ("In the office I wrote down ten of hyperextension, under anesthesia it is eight.", {8}),
        ("With the graft in, hyperextension is five degrees.", {5}),
        ("Eight degrees of hyperextension on the good side, three on this one.", {3}),
        ("Ten degrees of hyperextension in both elbows, in this knee six degrees of hyperextension.", {6}),
        ("Don't fix a graft past five of hyperextension in these loose girls.", set()),
        ("For a dancer ten degrees of hyperextension is nothing.", set()),
        ("Do not exceed five degrees of hyperextension.", set()),
        ("Most people have a bit of hyperextension, three to five degrees.", set()),
    ],
)
def test_whose_hyperextension(said: str, expected: set[int]) -> None:
    found = sizes(SETTINGS["acl"].format(said))
    assert {value for what, value in found if what == "knee.hyperextension"} == expected


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Beyond ten millimeters a tunnel weakens the plateau.", set()),
        ("Nine millimeters would have been enough for the tunnel.", set()),
        ("In a big man you can make a tunnel of eleven.", set()),
        ("Femoral tunnel ten millimeters instead of the nine on the card.", {10}),
        ("At the primary they had drilled a tunnel of ten millimeters.", set()),
        ("The index tibial tunnel was ten millimeters. I drilled the new tunnel at nine millimeters.", {9}),
        ("I never go over ten millimeters with a tunnel, this one is nine millimeters.", {9}),
        ("The tunnel is nine millimeters wide, the back wall is intact.", {9}),
        ("A nine tunnel would do but I went with ten.", {10}),
        ("Nine millimeters would have been enough for the tunnel. It was made ten.", {10}),
        ("Her surgeon back then had made an eight millimeter tunnel.", set()),
        ("A tunnel of six or seven is for kids.", set()),
    ],
)
def test_whose_tunnel(said: str, expected: set[int]) -> None:
    found = sizes(SETTINGS["acl"].format(said))
    assert {value for what, value in found if what == "tunnel.diameter"} == expected


@pytest.mark.parametrize(
    ("said", "done"),
    [
        ("Instead of an outside-in I did one more inside-out stitch.", {"inside-out-stitch"}),
        ("I do these outside-in when they are in front.", set()),
        ("The anterior third I always do outside-in and I did here too, two stitches.", {"outside-in-stitch"}),
        ("On the lateral side she has outside-in stitches from before.", set()),
        ("Five all-inside and we were spared the outside-in.", {"all-inside-stitch"}),
        ("The consent says inside-out and outside-in, only inside-out was done.", {"inside-out-stitch"}),
        ("We did an outside-in stitch, though I usually do not.", {"outside-in-stitch"}),
        ("In such knees I do an outside-in stitch.", set()),
        ("The consent includes an outside-in stitch.", set()),
        ("Needles for outside-in were laid out.", set()),
        ("Every resident should see an outside-in.", set()),
        ("We saved ourselves the outside-in.", set()),
        ("We stayed with inside-out because outside-in risks the nerve.", {"inside-out-stitch"}),
        ("Needles for outside-in were laid out and two outside-in stitches placed in front.", {"outside-in-stitch"}),
        ("We began outside-in but the needle would not come through, I changed to inside-out.", {"inside-out-stitch"}),
        ("We went back and forth between outside-in and inside-out and took inside-out.", {"inside-out-stitch"}),
    ],
)
def test_stitches_told_beside_the_case(said: str, done: set[str]) -> None:
    record = extract(Transcript(text=SETTINGS["meniscus"].format(said)), load_grammar())
    assert {s.code for s in record.steps if s.code.endswith("-stitch") and s.status == "performed"} == done
