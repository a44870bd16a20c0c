"""What was asked, liked, done at another age, on another knee or another patient: none of it was done on this one.

Sentences are of their own, trade facts common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import drafts, facts, flags, measured, side_of, steps

REPAIR = "Right knee, medial meniscus repair. "
GRAFT = "Right knee, medial meniscus, segmental allograft transplant. "
ABSENT = "Left knee, lateral meniscus transplant. "


def performed(text: str) -> set[str]:
    """Codes of the steps done, kinds of the stitches and devices read, codes of the procedures performed."""
    done = {code for code, status in steps(text).items() if status == "performed"}
    done |= {str(f["technique"]) for f in facts(text, "sutures") if "technique" in f}
    done |= {str(f["kind"]) for f in facts(text, "devices")}
    return done | {str(d.fields["code"]) for d in drafts(text, "procedures") if d.fields["status"] == "performed"}


@pytest.mark.parametrize(
    "told",
    [
        "You asked me once whether I add {} in these cases. Sometimes I do, though not on this occasion.",
        "You wondered whether I add {}. I usually do, but not this time.",
        "You asked if I ever do {} for these. I do, only not in her.",
        "People ask me whether I use {}. Often I do, but not in this one.",
        "You asked about {}. I have used it, but not here.",
        "Sometimes I add {}, though not on this occasion.",
        "The fellow asked if we do {} in these.",
        "Do we need {}? Some people do that. It is tight, so no.",
        "Do we need {}? Let me probe it. It is tight. No.",
    ],
)
@pytest.mark.parametrize(
    ("deed", "codes"),
    [
        ("an all-inside stitch", {"all-inside-stitch", "all_inside"}),
        ("a fibrin clot", {"fibrin-clot"}),
        ("a microfracture", {"microfracture"}),
    ],
)
def test_asked_and_not_this_time(told: str, deed: str, codes: set[str]) -> None:
    assert performed(REPAIR + told.format(deed)).isdisjoint(codes)


@pytest.mark.parametrize(
    "told",
    [
        "All-inside in the middle? Show me the gap first. There isn't one. So don't open the implant, put it back.",
        "All-inside in the middle? Let me see the gap. There is none. Leave the implant in the box.",
        "Do we need a screw beside it? Some people do that. This is press fit, so no.",
    ],
)
def test_an_answer_put_off_is_no_yes(told: str) -> None:
    assert performed(GRAFT + told).isdisjoint({"all-inside-stitch", "screw", "all-inside-implant"})


@pytest.mark.parametrize(
    "told",
    [
        "An all-inside stitch here? Let me probe it. It's loose. Yes, put one in.",
        "Sometimes I don't add an all-inside stitch, but on this occasion I did.",
        "You asked about an all-inside stitch. Yes, I placed one.",
    ],
)
def test_this_time_it_was_done(told: str) -> None:
    assert "all-inside-stitch" in performed(REPAIR + told)


@pytest.mark.parametrize(
    "told",
    [
        "Preoperative diagnosis: Absence of the lateral meniscus, left knee, following total meniscectomy.",
        "Deficiency of the lateral meniscus subsequent to partial lateral meniscectomy.",
        "Diagnosis: lateral meniscal deficiency secondary to partial meniscectomy.",
        "Missing posterior horn after a meniscectomy.",
        "It is now eight years after partial lateral meniscectomy.",
        "The lateral meniscus has no body. It was resected at age sixteen, forty percent of it by the old report.",
        "The body is missing, it was resected when he was sixteen.",
        "The body is missing, forty percent was resected back in the army.",
        "By the old report forty percent of the meniscus was resected.",
        "The body was excised at the age of nineteen, half of the meniscus, says the letter.",
    ],
)
def test_resected_long_ago(told: str) -> None:
    assert "partial-meniscectomy" not in performed(ABSENT + told)
    assert not [f for f in facts(ABSENT + told, "measurements") if f.get("role") != "reference"]


@pytest.mark.parametrize(
    "told",
    [
        "After the meniscectomy the knee was irrigated.",
        "The tear was resected, forty percent of the meniscus by my estimate.",
        "At the age of sixteen he tore it skiing, and today twenty percent was resected.",
        "Postoperative diagnosis: flap tear, after partial lateral meniscectomy stable.",
    ],
)
def test_resected_today(told: str) -> None:
    assert "partial-meniscectomy" in performed("Left knee, lateral meniscus. " + told)


@pytest.mark.parametrize(
    "told",
    [
        "Not to be mixed up with the fellow before her, he was the left knee and he ended up with a meniscectomy.",
        "Don't mix her up with the next one, that is the left knee and a meniscectomy.",
        "She is not the one from this morning, that one was a left knee and received a meniscectomy.",
        "Mind you, the patient with the same name is a left knee and is down for a meniscectomy.",
        "The kid we did first today was a left, he came away with a meniscectomy.",
    ],
)
def test_another_patient(told: str) -> None:
    assert performed(REPAIR + told) == {"meniscus-repair"}
    assert side_of(REPAIR + told) == ["right"]


@pytest.mark.parametrize(
    "told",
    [
        "whereas on her right knee, scanned on the same day for comparison, it was one millimeter.",
        "whereas in the right knee it was one millimeter.",
        "while on the right it is one millimeter.",
    ],
)
def test_the_other_knee_compared(told: str) -> None:
    text = f"Left knee, lateral meniscus root repair. On the scan the extrusion is three millimeters, {told}"
    assert ("meniscus.extrusion", 3, "observed") in measured(text, "role")
    assert ("meniscus.extrusion", 1, "reference") in measured(text, "role")
    assert "value-conflict" not in {f.check for f in flags(text)}


@pytest.mark.parametrize("liked", ["I like", "We aim for", "I'm fond of", "I prefer"])
@pytest.mark.parametrize("but", ["but honestly these were nearer to", "but this time it was", "these came out at"])
def test_liked_and_got_otherwise(liked: str, but: str) -> None:
    told = measured(f"{REPAIR}{liked} four millimeters between stitches, {but} six millimeters between them.", "role")
    assert ("stitch.spacing", 4, "reference") in told and ("stitch.spacing", 6, "made") in told


def test_liked_as_it_is() -> None:
    assert ("rim.width", 2, None) in measured(f"{REPAIR}I like it, a rim of two millimeters.", "role")
