"""Whose it is, what came of it, and what was asked for, in many wordings, each with its counterpart.

How surgeons talk so is common practice, no source.
"""

from __future__ import annotations

import pytest

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript

LEAD = "Left knee, medial meniscus, segmental allograft transplant. The rim was rasped."
BARE = "Left knee, medial meniscus, segmental allograft transplant."

SET_OFF = [
    (
        "Her right knee, operated on in the spring, had a defect of twenty-seven millimeters.",
        "!m:defect.ap_length=27 side:left !f:side-conflict",
    ),
    ("The right knee, which I did two years ago, had a rim of five millimeters.", "!m:rim.width=5 side:left"),
    ("The defect, measured twice along the rim, was nineteen millimeters long.", "m:defect.ap_length=19"),
    ("The graft, thawed and soft by now, was cut twenty-two millimeters long.", "m:graft.ap_length=22 s:graft-cut"),
    (
        "Her other knee, done elsewhere, got a graft of thirty-one millimeters and a screw.",
        "!m:graft.ap_length=31 !d:screw",
    ),
    ("The rim, trimmed with the shaver, had a width of two millimeters.", "m:rim.width=2"),
    ("My brother, a carpenter, sets his screws ten millimeters apart.", "!d:screw"),
    ("Her right side, done in May, had a tourniquet time of ninety minutes.", "!m:tourniquet.time=90"),
    ("My partner, a patient soul, rasped the rim while I held the camera.", "s:rim-abrasion"),
    (
        "The fellow, a quick learner, passed the white suture posterior superior in the native meniscus.",
        "c:native-posterior-superior=white",
    ),
    ("The contralateral knee, braced since June, bends to one hundred forty degrees.", "!m:knee.flexion=140"),
    ("My grandmother, a seamstress, used a cinch and two simple stitches.", "!u:all_inside !d:suture"),
    (
        "The right knee, done in January by my partner, had needed a microfracture and a chondroplasty.",
        "!s:microfracture !s:chondroplasty !p:microfracture",
    ),
    ("The tunnel, drilled from the front, was seven millimeters in diameter.", "m:tunnel.diameter=7"),
    ("Our anesthetist, a sailor, ties better knots than I do. The two posterior sutures were tied.", "s:suture-tying"),
]
"""Whose it is, where what is set off parts a subject from its verb."""

ASKED = [
    (
        "How long was the tourniquet up yesterday, on the lady? Eighty-one minutes. And today? Forty-four minutes.",
        "!m:tourniquet.time=81 m:tourniquet.time=44",
    ),
    (
        "What did the first patient have as a defect? Thirty millimeters. And this one? Nineteen millimeters.",
        "!m:defect.ap_length=30 m:defect.ap_length=19",
    ),
    (
        "What was the tourniquet pressure? Two hundred fifty. And the time? Sixty-one minutes.",
        "m:tourniquet.time=61 m:tourniquet.pressure=250",
    ),
    (
        "And the tourniquet on the case before? Seventy minutes. And on her? Forty-eight.",
        "!m:tourniquet.time=70 m:tourniquet.time=48",
    ),
    (
        "What was the graft length in the last case? Twenty-six millimeters. Ours today is twenty-one millimeters.",
        "!m:graft.ap_length=26 m:graft.ap_length=21",
    ),
    ("Tourniquet time? Sixty-six minutes.", "m:tourniquet.time=66"),
    ("How far did it bend? Zero to one hundred twenty degrees.", "m:knee.flexion=120"),
    ("What did you measure from the posterior root? Eleven millimeters.", "m:defect.root_distance=11"),
    (
        "How long was the tourniquet? Seventy-two minutes today, ninety on the man before.",
        "m:tourniquet.time=72 !m:tourniquet.time=90",
    ),
    ("Blood loss? Thirty milliliters.", "m:blood_loss.volume=30"),
]
"""Whose number was asked for."""

NOT_USED = [
    ("A screw was kept in readiness for the bone block; as the fit was tight, none was used.", "!d:screw"),
    ("An anchor lay ready for the root; since it held by itself, none was put in.", "!d:anchor"),
    ("A screw was inserted into the bone block; no second one was needed.", "d:screw"),
    ("Two screws were held ready for the block; one of them was inserted.", "d:screw"),
    ("An interference screw had been set aside, but because the block was wedged it was not called for.", "!d:screw"),
    ("A staple and a screw were held in readiness. Neither was inserted.", "!d:screw"),
    ("A screw was placed through the block; as it was secure, no washer was inserted.", "d:screw"),
    ("A suture anchor was kept on the table in case the root let go; it did not, and none was placed.", "!d:anchor"),
    ("A seven millimeter screw was held back for the tunnel; as the button held, it was returned.", "!d:screw"),
    ("A drain was held in readiness but none was left. The cannula was inserted medially.", "d:cannula"),
    ("An eight millimeter screw was prepared for the block; once it was seated, none was required.", "!d:screw"),
    ("The button was flipped; as it was secure, no screw was inserted.", "d:button !d:screw"),
    ("Inside-out stitches had been laid out; as the all-inside ones held, none were placed.", "!u:inside_out"),
]
"""What was held ready, and whether it was used."""

PUT_RIGHT = [
    (
        "I marked the graft at twenty-four, wiped that off, and marked it at twenty-two millimeters.",
        "!m:graft.ap_length=24 m:graft.ap_length=22",
    ),
    (
        "The graft was marked at twenty, that line was erased, and it was marked again at nineteen millimeters.",
        "!m:graft.ap_length=20 m:graft.ap_length=19",
    ),
    ("Tourniquet sixty, let me see, sixty-four minutes.", "m:tourniquet.time=64 !m:tourniquet.time=60"),
    (
        "Non weight bearing for four weeks, no, she had a big piece, six weeks.",
        "l:weight-bearing-duration=6 !l:weight-bearing-duration=4",
    ),
    ("The graft was marked at twenty-one millimeters and cut at twenty-one millimeters.", "m:graft.ap_length=21"),
    ("The graft was marked at twenty-one millimeters, wiped dry, and cut along the line.", "m:graft.ap_length=21"),
    (
        "Marked at eighteen millimeters, washed off, marked at seventeen millimeters on the graft.",
        "m:graft.ap_length=17 !m:graft.ap_length=18",
    ),
    (
        "Flexion to one hundred thirty, wait, let me see, one hundred twenty-five degrees.",
        "m:knee.flexion=125 !m:knee.flexion=130",
    ),
    (
        "Partial weight bearing for eight weeks, no, that is for the root repairs, six weeks.",
        "l:weight-bearing-duration=6 !l:weight-bearing-duration=8",
    ),
    ("Brace for two weeks, no weight bearing for six weeks.", "l:weight-bearing-duration=6"),
    (
        "I drew the graft at twenty-five, scrubbed that off again, and drew it at twenty-three millimeters.",
        "!m:graft.ap_length=25 m:graft.ap_length=23",
    ),
    (
        "Defect length sixteen, let me see the other mark, seventeen millimeters.",
        "m:defect.ap_length=17 !m:defect.ap_length=16",
    ),
    ("Follow-up in two weeks, no driving for six weeks.", "l:follow-up=2"),
]
"""What was wiped away, looked at again or put right behind its reason."""

WISHED = [
    (
        "I wanted two all-inside stitches in the middle, but after probing I no longer did.",
        "n:all-inside-stitch !u:all_inside !s:all-inside-stitch",
    ),
    ("I thought I wanted a trephination, but when I saw it bleed I did not.", "!s:trephination"),
    ("I wanted a couple of inside-out stitches in the middle and put them in.", "s:inside-out-stitch u:inside_out"),
    (
        "I wanted three inside-out stitches in the body, and I got them in without trouble.",
        "s:inside-out-stitch u:inside_out=3",
    ),
    ("We hoped for a microfracture of the condyle, then no longer saw the need.", "!s:microfracture"),
    ("I wanted a second look at the rim and rasped it again.", "s:rim-abrasion"),
    ("Four inside-out stitches were placed, but I no longer count them.", "s:inside-out-stitch u:inside_out=4"),
    (
        "I wanted, or I was told I wanted, a chondroplasty of the condyle, but once I had felt it I no longer did.",
        "!s:chondroplasty !p:chondroplasty",
    ),
    (
        "The fellow wanted two inside-out stitches, and so did I at first, and then neither of us did.",
        "!s:inside-out-stitch !u:inside_out",
    ),
    (
        "I fancied an extra inside-out stitch at the back, but with the probe on it I fancied it no more.",
        "!s:inside-out-stitch !u:inside_out",
    ),
    ("I wanted vertical mattress stitches, inside-out, five of them, and that is what she has.", "u:inside_out=5"),
]
"""What one wanted, and what came of it."""

ON_PAPER = [
    ("The form in the chart still says chondroplasty.", "!s:chondroplasty !p:chondroplasty"),
    (
        "The booking sheet reads microfracture of the condyle, but the condyle was sound.",
        "!s:microfracture !p:microfracture",
    ),
    (
        "The consent mentions a loose body removal, and there was no loose body.",
        "!s:loose-body-removal !p:loose-body-removal",
    ),
    ("The list on the wall has synovectomy on it.", "!s:synovectomy !p:synovectomy"),
    ("A plug was harvested from the trochlea and put into the condyle.", "s:plug-harvest"),
    ("As the consent says, a chondroplasty of the medial femoral condyle was done.", "s:chondroplasty"),
    ("The label says tissue number B four four one. The graft was thawed.", "s:graft-thaw"),
    ("The sheet in the chart says medial meniscus, and that is what we did: the graft was cut.", "s:graft-cut"),
    ("The whiteboard reads microfracture, and microfracture of the condyle was done.", "s:microfracture"),
    (
        "We told the family that we might drill a root tunnel, and on the day none was drilled.",
        "!s:root-tunnel-drilling",
    ),
    ("The form says manipulation, and nobody manipulated anything.", "!s:manipulation"),
    ("The consent still says all-inside stitch. None went in.", "!s:all-inside-stitch !u:all_inside"),
]
"""What only stands on a form."""

SIZES_ASKED = [
    ("The cannula, how big is it? Seven millimeter. In it goes.", "d:cannula=7"),
    ("Cannula, which one is that? Ten millimeters. Good, put it in.", "d:cannula=10 s:cannula-placement"),
    ("The drill, what diameter is this? Six millimeters. We drill the root tunnel with it.", "d:drill=6"),
    ("Screw, what size is it? Seven by twenty-five. In it goes.", "d:screw=7"),
    ("How thick is the rim? Two millimeters.", "m:rim.width=2"),
    ("And the defect begins where? Fourteen millimeters from the posterior root.", "m:defect.root_distance=14"),
    ("The graft, how long do we cut it? Twenty-one millimeters.", "m:graft.ap_length=21"),
    ("Should we open a screw? Seven millimeters is too big, leave it.", "!d:screw=7 !d:screw"),
    ("Is the cannula big enough? It is.", "!m:defect.width"),
    ("Which cannula would you take? I would take an eight, he says, but we need none.", "!d:cannula=8"),
    ("What size is the shaver? Four point five.", "!m:rim.width=4.5 !d:cannula=4.5"),
    ("The tourniquet, what does it say? Forty-one minutes.", "m:tourniquet.time=41"),
    ("Rim, how much did we leave? Two millimeters.", "m:rim.width=2"),
]
"""What was asked, and its answer."""

BRIEFLY = [
    ("A seven millimeter cannula through the medial portal. Native sutures next.", "s:cannula-placement d:cannula=7"),
    ("Eight millimeter cannula in laterally.", "s:cannula-placement"),
    ("Cannula in the medial portal, and the sutures came out through it.", "s:cannula-placement"),
    ("Graft is going in.", "s:graft-delivery"),
    ("The graft cut, marked, soaked. Then up the cannula with it.", "s:graft-delivery"),
    ("Graft goes up and in.", "s:graft-delivery"),
    (
        "The rim was trimmed to a width of two millimeters and was abraded with a rasp.",
        "s:rim-preparation s:rim-abrasion",
    ),
    ("The rim was shaved to a width of one to two millimeters.", "s:rim-preparation m:rim.width=1-2"),
    ("Time-out done, everybody awake.", "s:time-out"),
    ("Time-out: name, side, allergies.", "s:time-out"),
    ("A cannula would have been in the way, so none.", "!s:cannula-placement"),
    ("The rim had a width of four millimeters.", "!s:rim-preparation"),
    ("Through the cannula, eight millimeters wide, the graft was pulled in.", "s:graft-delivery"),
    ("The rim was brought down to a breadth of three millimeters with the shaver.", "s:rim-preparation"),
]
"""Steps told in few words."""

CLIPPED = [
    ("Rim left standing, two.", "m:rim.width=2"),
    ("Rim kept, three.", "m:rim.width=3"),
    ("Defect along the rim, twenty-two. Depth, ten.", "m:defect.ap_length=22 m:defect.width=10"),
    ("Rim spared, two. Defect width, eleven.", "m:rim.width=2 m:defect.width=11"),
    ("Sutures left in the rim, four.", "!m:rim.width=4"),
    ("Graft as cut, nineteen long, nine wide.", "m:graft.ap_length=19 m:graft.width=9"),
    ("Rim stitches, two.", "!m:rim.width=2"),
    ("Rim still standing at the end, two.", "m:rim.width=2"),
]
"""A thing and its number, with how it was left between."""


def told(text: str) -> set[str]:
    """What a record says, in short: 'm:rim.width=2', 's:closure' performed, 'd:screw=7'."""
    record = extract(Transcript(text=text), load_grammar())
    found: set[str] = set()
    for m in record.measurements:
        if m.role != "reference":
            amount = (
                f"{m.low:g}-{m.high:g}" if m.value is None and m.low is not None and m.high is not None else m.value
            )
            found |= {f"m:{m.what}", f"m:{m.what}={amount if isinstance(amount, str) else format(amount or 0, 'g')}"}
    found |= {("s:" if s.status == "performed" else "n:") + s.code for s in record.steps}
    for d in record.devices:
        found |= {f"d:{d.kind}", f"d:{d.kind}={d.size or 0:g}"}
    for u in record.sutures:
        found |= {f"u:{u.technique}", f"u:{u.technique}={u.count}", f"c:{u.tissue}-{u.region}-{u.surface}={u.color}"}
    found |= {f"p:{p.code}" for p in record.procedures if p.status == "performed"}
    for item in record.plan:
        value = item.value if isinstance(item.value, str) else format(item.value or 0, "g")
        found |= {f"l:{item.item}", f"l:{item.item}={value}"}
    found |= {f"f:{flag.check}" for flag in record.flags}
    return found | ({f"side:{record.laterality.value}"} if record.laterality else set())


def wrong(text: str, wanted: str) -> list[str]:
    """Of what is wanted what is not told, and of what is not ('!') what is."""
    found = told(text)
    return [w for w in wanted.split() if (w[1:] in found if w.startswith("!") else w not in found)]


@pytest.mark.parametrize("table", [SET_OFF, ASKED, NOT_USED, PUT_RIGHT, WISHED, ON_PAPER])
def test_whose_it_is_and_what_came_of_it(table: list[tuple[str, str]]) -> None:
    assert [(text, bad) for text, wanted in table if (bad := wrong(f"{LEAD} {text}", wanted))] == []


@pytest.mark.parametrize("table", [SIZES_ASKED, BRIEFLY, CLIPPED])
def test_what_is_asked_or_told_in_few_words(table: list[tuple[str, str]]) -> None:
    lead = f"{BARE} Numbers first, all of them in millimeters." if table is CLIPPED else BARE
    assert [(text, bad) for text, wanted in table if (bad := wrong(f"{lead} {text}", wanted))] == []
