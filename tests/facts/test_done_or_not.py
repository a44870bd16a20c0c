"""Steps told as done and as not done: by exceptions, answers, two denials, and by what they are called.

Every step below is put into every wording; the steps and wordings are the project's own. Common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts, steps

TRANSPLANT, REPAIR, LIGAMENT = "Left knee, lateral meniscus transplant. ", "Left knee meniscus repair. ", "Knee ACL. "
STEPS = {  # by code: the note it stands in, its name, its infinitive, its gerund
    "rim-abrasion": (TRANSPLANT, "rim abrasion", "rasp the rim", "rasping the rim"),
    "trephination": (REPAIR, "trephination", "trephine the rim", "trephining the rim"),
    "graft-trimming": (TRANSPLANT, "graft trimming", "trim the graft", "trimming the graft"),
    "suture-retrieval": (TRANSPLANT, "suture retrieval", "retrieve the sutures", "retrieving the sutures"),
    "tourniquet-deflation": (REPAIR, "tourniquet deflation", "deflate the tourniquet", "deflating the tourniquet"),
    "notch-preparation": (LIGAMENT, "notchplasty", "clear the notch", "clearing the notch"),
    "bridge-check": (TRANSPLANT, "bridge check", "check for a bridge", "checking for a bridge"),
    "stability-probing": (REPAIR, "probing of the repair", "probe the repair", "probing the repair"),
}
NOT_DONE = (
    "It was too late to {inf}.", "Everything was done except {name}.", "All steps but the {name}.",
    "Everything except {ger}.", "With the exception of {name} everything was done.", "We did it all bar {name}.",
    "No drain, {name} or transfusion this time.", "A drain or {name} were not used.", "{name}. Not done.",
    "{name}. Skipped.", "{name}: no.", "{name}? Not needed.", "Did we {inf}? No.", "One thing I did not do: {inf}.",
    "I wanted to {inf}. There was no time.", "I tried to {inf}, without success.", "We started {ger} but had to stop.",
    "That prevented us from {ger}.", "This obviated the need to {inf}.", "I did not get round to {ger}.",
    "No one managed to {inf}.", "{ger} was not an option.", "{name} was thought unnecessary.", "I rarely {inf}.",
    "{name} turned out not to be needed.", "It made no sense to {inf}.", "The only thing we did not do was {inf}.",
)  # fmt: skip
DONE = (
    "We did not fail to {inf}.", "I was not able to avoid {ger}.", "It was not easy to {inf}.",
    "Aside from {ger} nothing was done.", "It did not take long to {inf}.", "Only after {ger} could we see.",
    "I forgot to mention {name}, which was done first.", "We planned to {inf} and did so.", "Next came {name}.",
    "We considered {name}, and did it.", "{name} took five minutes.", "{name}, by me.", "I did not hesitate to {inf}.",
    "Nothing was done but {name}.",
)  # fmt: skip


def performed(code: str, said: str) -> bool:
    setting, name, inf, ger = STEPS[code]
    text = said.format(name=name, inf=inf, ger=ger)
    told = facts(setting + text[0].upper() + text[1:], "steps")
    return "performed" in {s["status"] for s in told if s["code"] == code}


@pytest.mark.parametrize("said", NOT_DONE)
def test_left_out(said: str) -> None:
    assert not [code for code in STEPS if performed(code, said)]


@pytest.mark.parametrize("said", DONE)
def test_done_all_the_same(said: str) -> None:
    assert not [code for code in STEPS if not performed(code, said)]


@pytest.mark.parametrize(
    "shown", ["Bridge check: none.", "Bridges? None.", "Is there a bridge? No.", "No bridge seen."]
)
def test_a_look_that_found_none_was_taken(shown: str) -> None:
    assert steps(f"{TRANSPLANT}The graft is in. {shown}")["bridge-check"] == "performed"


@pytest.mark.parametrize(
    "shown", ["I cannot lift it with the hook.", "Any movement on probing? No.", "Does it move when I probe it? No."]
)
def test_probed_and_nothing_gave(shown: str) -> None:
    assert steps(REPAIR + shown)["stability-probing"] == "performed"


def test_what_was_found_is_no_exception() -> None:
    text = "Left knee. Everything was intact except the medial meniscus, which was torn and was resected."
    assert steps(text) == {"partial-meniscectomy": "performed"}


def test_the_work_is_not_denied_by_what_is_left_out_of_it() -> None:
    text = "Left knee meniscus repair. One thing I did not do: trephine the rim."
    assert [p["code"] for p in facts(text, "procedures")] == ["meniscus-repair"]


@pytest.mark.parametrize(
    "told",
    [
        "The sutures were tied. Before that we had rasped the rim.",
        "The sutures were tied. The rim had been rasped beforehand.",
        "The sutures were tied. I should have said that we rasped the rim first.",
        "The sutures were tied, but first we rasped the rim.",
        "The sutures were tied. The rim had already been rasped.",
        "The sutures were tied. First, though, we rasped the rim.",
        "Once the rim had been rasped, the sutures were tied.",
    ],
)
def test_what_is_told_late_was_done_before(told: str) -> None:
    found = [s for s in facts(TRANSPLANT + told, "steps") if s["status"] == "performed"]
    assert [s["code"] for s in sorted(found, key=lambda s: s["order"])] == ["rim-abrasion", "suture-tying"]


@pytest.mark.parametrize(
    ("code", "told"),
    [
        ("tourniquet-inflation", "The cuff went to three hundred."),
        ("tourniquet-deflation", "Tourniquet let off, bleeding controlled."),
        ("tear-reduction", "The tear was brought together and held."),
        ("trephination", "I peppered the rim with a needle."),
        ("manipulation", "MUA to full flexion."),
        ("portal-placement", "Portal placement was easy."),
        ("diagnostic-arthroscopy", "We started in the pouch and worked our way round."),
    ],
)
def test_told_in_other_words(code: str, told: str) -> None:
    assert steps(f"Left knee, torn medial meniscus. {told}").get(code) == "performed"


def test_a_scope_taken_through_the_pouch_bends_no_knee() -> None:
    assert "range-of-motion-check" not in steps("Left knee, meniscus. The scope was taken through the pouch.")
