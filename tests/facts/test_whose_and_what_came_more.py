"""More wordings of whose it is and what came of it; how surgeons talk so is common practice, no source."""

from __future__ import annotations

import pytest

from .test_whose_and_what_came import wrong

LEAD = "Right knee, lateral meniscus, segmental allograft transplant. The rim was rasped."

SET_OFF = [
    (
        "The left knee, operated on by somebody else years ago, has a rim of six millimeters.",
        "!m:rim.width=6 side:right",
    ),
    ("His left knee, the one from the accident, needed two screws and a button.", "!d:screw !d:button"),
    ("My uncle, who kept bees, stitched his nets with knots eight millimeters apart.", "!m:stitch.spacing=8"),
    ("The left, done three years back, lost twenty-five millimeters of meniscus.", "!m:defect.ap_length=25"),
    ("The left one, her first, was a graft of thirty-two millimeters.", "!m:graft.ap_length=32"),
    ("Her sister, a runner too, had a tourniquet time of one hundred ten minutes.", "!m:tourniquet.time=110"),
    ("Her daughter, a nurse, will change the dressing. Follow-up in two weeks.", "l:follow-up=2"),
    (
        "The contralateral side, repaired in two thousand nineteen, had a tear of fifteen millimeters.",
        "!m:tear.length=15",
    ),
    ("The shaver, a new one, took the rim back to three millimeters.", "m:rim.width=3"),
    (
        "His son, the goalkeeper, tore his at sixteen and got a defect of twelve millimeters out of it.",
        "!m:defect.ap_length=12",
    ),
    ("The opposite knee, fine until last winter, flexes to one hundred thirty-five degrees.", "!m:knee.flexion=135"),
]

ASKED = [
    (
        "How big was the gap on Monday, on the dancer? Twenty-nine millimeters. And here? Eighteen millimeters.",
        "!m:defect.ap_length=29",
    ),
    ("What time did we have on the case before lunch? Eighty-eight minutes of tourniquet.", "!m:tourniquet.time=88"),
    (
        "What did we lose yesterday? Three hundred milliliters of blood. Today? Thirty milliliters.",
        "!m:blood_loss.volume=300",
    ),
    (
        "How long did the other one take? One hundred minutes of tourniquet. This one? Sixty-three minutes.",
        "!m:tourniquet.time=100",
    ),
    (
        "How far is it from the posterior root? Thirteen millimeters. And how deep? Nine millimeters.",
        "m:defect.root_distance=13",
    ),
    (
        "How long was the graft for the fireman? Thirty-three millimeters. And for her? Twenty-two millimeters.",
        "!m:graft.ap_length=33 m:graft.ap_length=22",
    ),
    ("Tourniquet time, please? One hundred four minutes.", "m:tourniquet.time=104"),
    (
        "What was it last time, the blood loss? One hundred milliliters. And this time? Fifty milliliters.",
        "!m:blood_loss.volume=100 m:blood_loss.volume=50",
    ),
    ("How many minutes was that? Seventy-one minutes of tourniquet.", "m:tourniquet.time=71"),
]

NOT_USED = [
    ("Two anchors waited on the tray; the root stayed where it was, and neither was opened.", "!d:anchor"),
    ("A post and a washer were asked for, and when the tunnel held, none of it was used.", "!d:screw"),
    ("There was a button in the room; because the knot held over the bone bridge, none was deployed.", "!d:button"),
    ("A bigger cannula lay beside me; the eight millimeter one was enough.", "d:cannula=8"),
    ("A screw was brought, looked at, and put in.", "d:screw"),
    (
        "The rep had laid out three all-inside implants; since the middle was flat, none left its box.",
        "!d:all-inside-implant",
    ),
    ("An interference screw was kept sterile in case the block wobbled, which it did not.", "!d:screw"),
    ("The block wobbled, so a screw that had been kept sterile went in.", "d:screw"),
    (
        "Spare sutures were threaded; as nothing broke, none was called for. The posterior pair was tied.",
        "s:suture-tying",
    ),
    ("One anchor was placed at the root. None of the others was opened.", "d:anchor"),
    ("As a second cannula would have crowded the joint, none was placed. The seven millimeter one did.", "d:cannula=7"),
    ("A nine millimeter reamer stood by; after the six had passed, none was required.", "!d:reamer=9"),
]

PUT_RIGHT = [
    ("Tourniquet fifty, where is the sheet, fifty-three minutes.", "m:tourniquet.time=53"),
    ("Bends to one hundred thirty, give me the goniometer, one hundred twenty-six degrees.", "m:knee.flexion=126"),
    (
        "Brace locked for six weeks, no, only the big ones get six, four weeks non weight bearing.",
        "l:weight-bearing=non",
    ),
    ("Toe-touch weight bearing for eight weeks, sorry, wrong patient, six weeks.", "l:weight-bearing-duration=6"),
    (
        "The graft was marked at nineteen millimeters, the knife wiped, and the graft cut at nineteen millimeters.",
        "m:graft.ap_length=19 s:graft-cut",
    ),
    (
        "Root distance twelve, no, the hook was on the wrong side, fourteen millimeters from the posterior root.",
        "m:defect.root_distance=14",
    ),
    ("Cut the graft at twenty-two millimeters, blotted it off, and took it to the joint.", "m:graft.ap_length=22"),
    ("Rim two, no, where I held the probe it was thick, one and a half millimeters.", "m:rim.width=1.5"),
]

WISHED = [
    (
        "I was keen on two outside-in stitches in front, but the edge lay so well that I lost interest.",
        "!u:outside_in !s:outside-in-stitch",
    ),
    ("I had set my heart on a fibrin clot; the rim bled so freely that I gave up the idea.", "!s:fibrin-clot"),
    ("I wanted a wider tunnel, seven millimeters, and drilled it.", "m:tunnel.diameter=7"),
    (
        "I had hoped, or half hoped, for an all-inside stitch at the back, but it would not reach.",
        "!s:all-inside-stitch",
    ),
    ("My wish was for a chondroplasty, the condyle's was not.", "!s:chondroplasty"),
    ("A trephination crossed my mind and left it again.", "!s:trephination"),
    ("I longed for a bigger cannula, but stayed with the seven millimeter one.", "d:cannula=7"),
    ("I wanted the posterior pair tied first, and so it was.", "s:suture-tying"),
    ("I would happily have trimmed the graft, had it stood proud, which it did not.", "!s:graft-trimming"),
    ("I did want to needle the rim, I confess, and then I did not want to any more.", "!s:trephination"),
]

ON_PAPER = [
    ("The theatre list has her down for a loose body removal.", "!s:loose-body-removal !p:loose-body-removal"),
    ("According to the booking there was to be a synovectomy.", "!s:synovectomy !p:synovectomy"),
    ("The template prints chondroplasty in every note, please take it out.", "!s:chondroplasty !p:chondroplasty"),
    ("The consent form listed microfracture as possible.", "!s:microfracture !p:microfracture"),
    (
        "The order sheet names a ten millimeter cannula; I used an eight millimeter cannula.",
        "d:cannula=8 !d:cannula=10",
    ),
    ("The insurance wants it called a chondroplasty.", "!s:chondroplasty !p:chondroplasty"),
    ("The form asks for microfracture yes or no: no.", "!s:microfracture !p:microfracture"),
    ("The loose body was removed through the medial portal.", "s:loose-body-removal"),
    ("On the whiteboard somebody had written manipulation.", "!s:manipulation"),
    ("The file still carries a plug harvest from the first plan.", "!s:plug-harvest !p:osteochondral-autograft"),
]

TAGGED = [
    ("We leave three millimeters of rim, you see the step at both ends?", "m:rim.width=3"),
    ("The rim is two millimeters, you see it?", "m:rim.width=2"),
    ("The defect is eighteen millimeters along the rim, right? Right.", "m:defect.ap_length=18"),
    ("The cannula goes in laterally, okay?", "s:cannula-placement"),
    ("We tie posterior superior to posterior inferior, yes?", "s:suture-tying"),
    ("The graft is thawed, you notice how soft it is?", "s:graft-thaw"),
    ("Shall we trim the graft, you think?", "!s:graft-trimming"),
    ("Is that three millimeters of rim, you think?", "!m:rim.width=3"),
    ("Do we need an all-inside stitch, yes or no? No.", "!s:all-inside-stitch"),
    ("Probe it, it is stable, you see?", "s:stability-probing"),
]

WHY_WRONG = [
    (
        "Defect length twenty, no, the ruler was bent, twenty-two millimeters.",
        "m:defect.ap_length=22 !m:defect.ap_length=20",
    ),
    ("The rim is four, well, that was before the biter, two millimeters.", "m:rim.width=2 !m:rim.width=4"),
    ("The cannula is a seven, no, it says eight on the hub, eight millimeters.", "d:cannula=8 !d:cannula=7"),
    ("Tourniquet sixty-one, scratch that, sixteen more, seventy-seven minutes.", "m:tourniquet.time=77"),
    (
        "The defect is eighteen along the rim, eighteen was the other film, seventeen millimeters along the rim.",
        "m:defect.ap_length=17",
    ),
    ("Blood loss fifty, no no, that is the irrigation, thirty milliliters.", "m:blood_loss.volume=30"),
    ("Two all-inside stitches, then a third one, so three all-inside stitches in the middle.", "u:all_inside=3"),
    ("Follow-up in six weeks, I mean six days for the wound and six weeks for the knee.", "l:follow-up=6"),
    ("Non weight bearing, or toe-touch if he must, for six weeks.", "l:weight-bearing=non"),
]

THEIRS = [
    (
        "Numbers that are not this knee's: defect thirty-one, graft thirty, both from the right one in March.",
        "!m:defect.ap_length=31 !m:graft.ap_length=30",
    ),
    ("For the file of the other knee, not this one: rim four millimeters.", "!m:rim.width=4"),
    (
        "The whiteboard still shows the case before, twenty-six by twelve.",
        "!m:defect.ap_length=26 !m:graft.ap_length=26",
    ),
    ("Don't copy the forty-four on the screen, that is the plateau of the man before.", "!m:plateau.ap_length=44"),
    ("Whoever did the first operation left a rim of one millimeter.", "!m:rim.width=1"),
    ("A colleague in the north drills eight millimeter tunnels.", "!m:tunnel.diameter=8"),
    ("When I was a fellow the tourniquet stayed up for two hours.", "!m:tourniquet.time=120"),
    ("The defect belongs to a tall man: twenty-eight millimeters along the rim.", "m:defect.ap_length=28"),
    (
        "The sheet for the other knee, which is not today's, has a graft of twenty-seven millimeters.",
        "!m:graft.ap_length=27",
    ),
    ("What I said about nine millimeters was for the lady tomorrow.", "!m:defect.width=9"),
    ("Below one millimeter a rim is no rim. Ours is two millimeters.", "!m:rim.width=1 m:rim.width=2"),
]

ANSWERED = [
    ("Rim first. How much do we keep? Two millimeters. Good.", "m:rim.width=2"),
    ("Rasp, please, until it bleeds. It bleeds.", "s:rim-abrasion"),
    ("Give me the probe with the marks. Length along the rim? Nineteen millimeters.", "m:defect.ap_length=19"),
    ("Is the graft in? It is in.", "s:graft-delivery"),
    ("Is the graft in? No, it is stuck.", "!s:graft-delivery"),
    ("Did you check for a bridge? Yes, none.", "s:bridge-check"),
    ("Are the pairs tied? Posterior superior to posterior inferior, yes.", "s:suture-tying"),
    ("How many all-inside stitches is that? Three. All in the middle.", "u:all_inside=3"),
    ("Is it stable? Probe says yes.", "s:stability-probing"),
    ("Can we let the tourniquet down? Yes, let it down.", "s:tourniquet-deflation"),
    ("Do you want a drain? No drain. Close, please. The skin is closed.", "s:closure"),
    ("When do we see him? In two weeks. Follow-up in two weeks.", "l:follow-up=2"),
    ("Whose graft is it? The number is K four four one. Thawed? Thawed.", "s:graft-thaw"),
]

THEIRS_TOO = [
    (
        "There is a second column, thirty-one and twelve. That is the lady after this one, leave it out.",
        "!m:defect.ap_length=31 !m:defect.width=12",
    ),
    ("The twenty-six on the back of the card belongs to another knee.", "!m:defect.ap_length=26 !m:graft.ap_length=26"),
    ("My professor maintained that a rim of five millimeters saves the joint.", "!m:rim.width=5"),
    ("The old rule says one millimeter of rim a year.", "!m:rim.width=1"),
    ("His tall brother would have needed a graft of thirty-six millimeters.", "!m:graft.ap_length=36"),
    (
        "The scan promised a defect of fifteen millimeters, the probe gives nineteen millimeters.",
        "!m:defect.ap_length=15 m:defect.ap_length=19",
    ),
    (
        "The other figures on the board, twenty-four and twenty-three, are from the morning.",
        "!m:defect.ap_length=24 !m:graft.ap_length=23",
    ),
    ("In the referral they speak of a tear of twelve millimeters.", "!m:tear.length=12"),
    ("Blood loss, they tell me, forty milliliters.", "m:blood_loss.volume=40"),
    ("I once left a rim of six millimeters, and it came back torn. Here two millimeters are left.", "!m:rim.width=6"),
    ("The trial component said seven millimeters, which was for the slot of the last case.", "!m:slot.width=7"),
    ("A longer graft, twenty-eight millimeters, lay in the same box for somebody else.", "!m:graft.ap_length=28"),
    ("The nurse counted fifty-nine minutes of tourniquet, and she counts well.", "m:tourniquet.time=59"),
    (
        "The resident guessed twenty-two millimeters, the probe said eighteen millimeters along the rim.",
        "!m:defect.ap_length=22 m:defect.ap_length=18",
    ),
    ("As in every knee I leave two millimeters of rim, and I left two millimeters here.", "m:rim.width=2"),
    (
        "Please strike the four millimeters of rim from the draft, it is two millimeters.",
        "!m:rim.width=4 m:rim.width=2",
    ),
]


@pytest.mark.parametrize(
    "table", [SET_OFF, ASKED, NOT_USED, PUT_RIGHT, WISHED, ON_PAPER, TAGGED, WHY_WRONG, THEIRS, ANSWERED, THEIRS_TOO]
)
def test_whose_it_is_and_what_came_of_it(table: list[tuple[str, str]]) -> None:
    assert [(text, bad) for text, wanted in table if (bad := wrong(f"{LEAD} {text}", wanted))] == []
