"""What several synthetic voices, and by likeness others, make of words that facts hang on; and where the same is meant.

Seen in recognized synthetic dictation or worded by what sounds alike; no published source.
"""

from __future__ import annotations

import pytest

from extractor.grammar.packs import load_grammar
from extractor.language.repair import repair
from extractor.language.tokens import tokenize
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript


def reading(text: str) -> str:
    return " ".join(repair(tokenize(text), load_grammar())[0].words)


@pytest.mark.parametrize(
    ("heard", "said"),
    [
        # Ties: the pair, the ones, the knots.
        ("Left knee. Posterior, per tide, then the anterior pair.", "posterior , pair tied"),
        ("Left knee graft. Tiver two back ones together.", "tie the two back ones"),
        ("Left knee graft. Tie the two bat wounds together, tie the two front wounds.", "the two back ones"),
        ("Left knee graft. Pass it swim through the graft.", "its twin through"),
        ("Left knee. Post sup to post inf, and sup to ant inf.", "anterior sup to"),
        ("Left knee. Nothing caught, nots posterior superior to posterior inferior.", "knot posterior superior"),
        # Bones, tunnels and their sites.
        ("Left knee. The moral tunnel drilled.", "femoral tunnel"),
        ("Left knee. Hemorrhagic tunnel drilled at 8.", "femoral tunnel"),
        ("Left knee. Typedial tunnel drilled 38 millimeters long.", "tibial tunnel"),
        ("Left knee. Tybil socket made.", "tibial socket"),
        ("Left knee ACL, to mirror guide at 50 degrees.", "tibia guide"),
        ("Left knee ACL, typed at 50 degrees.", "tibia guide at"),
        ("Left knee. Spinal with a doctor canal block.", "adductor canal block"),
        # Numbers and their dimensions.
        ("Left knee. Femoral tunnel drilled, diagnote 10, depth 30.", "diameter 10"),
        ("Left knee. Slot 8 wide by 9 feet, graft delivered.", "9 deep"),
        ("Left knee. Through a 4 sentiment medial incision.", "4 centimeter medial"),
        ("Left knee comma no flexion comma passed 90 degrees comma.", "past 90 degrees"),
        ("Left knee. 5 degrees of hopper extension.", "of hyperextension"),
        # How it went on.
        ("Left knee. Tourniquet inflated at 58 minutes.", "tourniquet deflated at 58"),
        ("Left knee. Calcified layer cured it off.", "layer curetted off"),
        ("Left knee graft. Two operated sutures, vertical mattress.", "two oh braided sutures"),
        ("Left knee. Late bearing as tolerated.", "weight bearing as"),
        ("Left knee. Specimens none, brains none.", "drains none"),
        ("Left knee comma sutures comma posterior superior comma time to posterior.", "tied to"),
        # No list has these: what mostly stands beside the neighbor, and sounds somewhat like it.
        ("Left knee. Fixed with an interference skill.", "interference screw"),
        ("Left knee. Full fitness lesion of the trochlea.", "full thickness lesion"),
    ],
)
def test_misheard_words_are_read_as_what_was_said(heard: str, said: str) -> None:
    assert said in reading(heard).lower()


@pytest.mark.parametrize(
    "text",
    [
        "Left knee. Tourniquet inflated to 250 millimeters of mercury.",
        "Left knee. The tourniquet was inflated after the time out.",
        "Left knee. The wounds were closed and the deficiency corrected.",
        "Left knee. We asked the anesthetist for relaxation.",
        "Left knee. The suture was passed when the knee was bent.",
        "Left knee. The rim measured 2 millimeters, up from one last year.",
        "Left knee. The note was typed at the desk at 5 pm.",
        "Left knee. The probe moved along the rim for 12 millimeters along the body.",
        "Left knee. A doctor from the clinic called about the block.",
        "Left knee. We hope she walks without pain and runs in a year.",
        "Left knee. Check the dressing for one night, suture removal at two weeks.",
        "Left knee. We spun the blood in a glass beaker.",
        "Left knee. Never mind the consent form typo, that got fixed in clinic.",
        "Left knee. The bed is soft and fibrous, I C R S grade four.",
        "Left knee. A bone bruise and a tibial stem tray are seen.",
    ],
)
def test_the_same_words_stay_where_they_are_meant(text: str) -> None:
    assert repair(tokenize(text), load_grammar())[1] == ()


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Left knee. Blood loss tank. Partial weight bearing.", "loss ten ."),
        ("Left knee. Defect along the rim tendique to the free edge.", "ten deep"),
        ("Left knee. Bend it not to 90, stable.", "nought to 90"),
    ],
)
def test_a_number_read_by_its_sound_is_asked_about(text: str, said: str) -> None:
    tokens, repairs = repair(tokenize(text), load_grammar())
    assert said in " ".join(tokens.words)
    assert [r.settled for r in repairs] == [False]


def test_what_a_verb_takes_opens_no_sentence() -> None:
    text = "Left medial meniscus repair. Needles out and tied. Them over the capsule at 90 degrees."
    angles = [m for m in extract(Transcript(text=text), load_grammar()).measurements if m.what == "knee.flexion_angle"]
    assert [m.value for m in angles] == [90]
