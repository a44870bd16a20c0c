"""A sentence read right and the same reworded: the facts agree. Common practice, no source."""

from __future__ import annotations

import pytest

from .reading import facts

KNEE = "Left knee arthroscopy. "
REPAIR = "Left knee, medial meniscus repair. "
TRANSPLANT = "Left knee, lateral meniscus transplant with an allograft. "
LIGAMENT = "Left knee, ACL reconstruction with an allograft. "
UNLIKE = {"order", "compartment_others"}
"""Fields that tell where a thing was said."""
KINDS = ("steps", "findings", "procedures", "plan", "measurements")

PAIRS = {
    KNEE: {
        "The tourniquet was inflated.": ["The tourniquet was put up.", "The cuff was turned up."],
        "The tourniquet was deflated.": [
            "The tourniquet was let off.",
            "The tourniquet was switched off.",
            "The tourniquet was taken down.",
        ],
        "The tourniquet was not inflated.": [
            "The tourniquet was left uninflated.",
            "The tourniquet stayed uninflated.",
            "Cuff not used.",
            "The tourniquet was not needed.",
            "The cuff was never put up.",
            "All of it was done without a tourniquet.",
        ],
        "The ACL was intact.": ["The cruciate was intact.", "Cruciate intact.", "The ACL was without a tear."],
        "The ACL was torn.": ["The cruciate was torn.", "Torn cruciate."],
        "Right ACL reconstruction with a hamstring graft.": ["Right cruciate reconstruction with a hamstring graft."],
    },
    REPAIR: {
        "The lateral meniscus was intact.": [
            "The lateral was intact.",
            "Lateral intact.",
            "The lateral is fine.",
            "The lateral meniscus was without a tear.",
            "The lateral meniscus was unharmed.",
            "The lateral meniscus looked all right.",
            "The lateral meniscus was not injured.",
            "The lateral meniscus was not torn.",
        ],
        "The ACL is intact, the lateral meniscus is intact.": ["ACL intact, lateral intact."],
        "The lateral meniscus has a radial tear of the body.": ["The lateral has a radial tear of the body."],
        "The root was torn.": ["The root was disrupted."],
        "The portals were closed.": ["The portals were shut."],
        "Follow-up in two weeks.": ["Check in two weeks."],
        "Non weight bearing for six weeks.": ["Not weight bearing for six weeks.", "Off weight for six weeks."],
        "Microfracture was not done.": ["Microfracture was waived."],
        "Two sutures were passed through the root.": ["Two sutures were put through the root."],
        "Non weight bearing for six weeks, brace zero to sixty degrees.": [
            "No weight six weeks, brace zero to sixty degrees.",
            "No weight on the leg for six weeks with the brace set from zero to sixty degrees.",
        ],
    },
    TRANSPLANT: {
        "The rim was not abraded.": ["The rim was left unabraded.", "We left the rim un-abraded."],
        "The graft was not trimmed.": ["The graft was left untrimmed.", "The graft went untrimmed."],
        "The root tunnel was not drilled.": ["The root tunnel was left undrilled."],
        "The graft was thawed.": ["The graft was warmed up."],
        "The sutures were retrieved through the cannula.": ["The sutures were hooked out through the cannula."],
        "The graft was delivered through the cannula.": ["The graft was carried in through the cannula."],
        "The defect was not measured.": ["The defect was left unmeasured."],
        "The portals were not closed.": ["The portals were left unclosed."],
        "The sutures were not tied.": ["The sutures were left untied."],
        "The first suture was nine millimeters from the posterior root.": [
            "The first suture was nine millimeters clear of the posterior root."
        ],
    },
    LIGAMENT: {
        "The graft was passed.": [
            "The allograft was passed.",
            "The allograft was passed through the tibial tunnel.",
            "The donor tendon was passed.",
            "The graft was put through.",
        ],
        "The hamstring tendons were harvested.": ["The hamstring tendons were obtained."],
        "The graft was fixed on the femur with a button.": [
            "The graft was fastened on the femur with a button.",
            "The graft was anchored on the femur with a button.",
        ],
        "The notch was not abraded.": ["The notch was left unabraded."],
    },
}


def told(text: str) -> list[str]:
    """What the facts of a note say, but for where they were said."""
    return sorted(
        repr({k: v for k, v in fact.items() if k not in UNLIKE}) for kind in KINDS for fact in facts(text, kind)
    )


@pytest.mark.parametrize(
    ("lead", "plain", "reworded"),
    [(lead, plain, said) for lead, own in PAIRS.items() for plain, ways in own.items() for said in ways],
)
def test_reworded(lead: str, plain: str, reworded: str) -> None:
    assert told(lead + reworded) == told(lead + plain)
    assert told(lead + plain) != told(lead)


@pytest.mark.parametrize(
    "text",
    [
        REPAIR + "The collaterals were tested, the medial was intact.",
        REPAIR + "The condyles were looked at, the lateral was fine.",
        REPAIR + "Medial compartment clean, lateral compartment clean.",
    ],
)
def test_a_side_of_something_else_is_no_meniscus(text: str) -> None:
    assert not [f for f in facts(text, "findings") if f["finding"] == "intact"]


def test_un_before_a_noun_denies_nothing_new() -> None:
    codes = {s["code"]: s["status"] for s in facts(TRANSPLANT + "The graft was undersized and was delivered.", "steps")}
    assert codes["graft-delivery"] == "performed"
