"""Notes for these tests, worded for them; whom and what they tell of is invented."""

CLEAN = (
    "Left knee, lateral meniscus repair. The time out was done. The lateral meniscus has a radial tear. "
    "The tear is twelve millimeters long and four millimeters from the capsule. "
    "I rasped both sides. Three inside-out sutures were placed five millimeters apart. "
    "I probed the repair and it is stable. Tourniquet time was forty minutes."
)
FLAGGED = (
    "Right knee, segmental medial meniscal transplant. The time out was done. "
    "The medial meniscus is deficient. The rim was rasped. "
    "The defect measured twenty millimeters along the rim. From the rim to the free edge it was nine millimeters. "
    "On the back table the graft was thawed. The tissue number is three three one eight. "
    "The graft was cut at twelve millimeters long by nine millimeters wide. "
    "I delivered the graft and it is stable."
)
"""The graft is cut far shorter than the defect: a question that stops signing."""
SIDELESS = "Diagnostic arthroscopy of the knee. The medial meniscus is intact. The rim was rasped. I probed it."
