"""What only looks like an inconsistency is not asked about, beside those planted in `test_planted.py`."""

from __future__ import annotations

import pytest

from .test_planted import raised

CONFLICTS = {
    "side-conflict", "compartment-conflict", "value-implausible", "unit-suspect", "value-conflict",
    "graft-length-mismatch", "graft-width-mismatch", "root-distance-mismatch", "suture-color-conflict", "tie-mismatch",
    "suture-count-mismatch", "suture-unpaired", "step-order", "number-uncertain",
}  # fmt: skip


@pytest.mark.parametrize(
    "text",
    [
        "Right knee, lateral meniscus repair. The right leg was prepped and draped, the left leg padded. Four "
        "all-inside stitches.",
        "Left knee. Her right knee was done in the spring. Medial meniscus, three stitches all-inside.",
        "This is a right knee, medial root tear. The left leg hangs in its support, the right is in the holder "
        "and prepped.",
        "Left medial meniscus repair. Compared to the right knee she is loose. Dressing on the left knee, "
        "brace locked.",
        "Right knee. The tear is on my left as I stand. Lateral meniscus, two all-inside stitches.",
        "Left ACL. Tibial tunnel started at nine and was opened to ten millimeters. Femoral tunnel nine millimeters.",
        "Right knee lateral meniscus. Segmental defect twenty millimeters long, ten deep. Graft cut at "
        "nineteen by ten millimeters.",
        "Left knee, medial meniscus. Gap twenty along the rim, nine across. We like to cut the same size here, "
        "no shorter. So the graft is twenty by nine millimeters.",
        "Right lateral segmental transplant. Defect 18 mm, width 9 mm. Our habit is two millimeters less. "
        "Graft made 16 by 9 mm.",
        "Right knee lateral meniscus defect 20 by 10 mm, starting 9 mm from the posterior root. Graft cut 19 "
        "by 10, starting 9 mm from its posterior root.",
        "Right knee lateral meniscus. Native: white suture posterior superior, blue posterior inferior, white "
        "tape anterior superior, black anterior inferior.",
        "Right knee meniscus. Six inside-out sutures in all: three in the posterior horn, two in the body and "
        "one in front.",
        "Right knee. Seven vertical mattress sutures inside-out, four on top and three on the undersurface of "
        "the meniscus.",
        "Right knee lateral meniscus. White posterior superior, blue posterior inferior, green anterior "
        "superior, black anterior inferior in native and graft alike. White tied to blue, green tied to black.",
        "Right knee. The donor was a left knee, wrong one, so we sent it back and took the right. Graft number "
        "A B 1 2, lateral meniscus.",
        "Left knee arthroscopy. He limps on the right too. Meniscus repaired with two stitches all-inside.",
        "Right knee. I stood on the left side of the table. Medial meniscus normal.",
        "Right knee scope. What is left of the lateral meniscus is a rim of two millimeters.",
        "Right knee. Tourniquet time one hundred fifteen minutes. Meniscus sutured with three stitches.",
        "Right knee. Lateral meniscus defect is eighteen, one eight, millimeters long.",
        "Right knee. Lateral tibial plateau 45 millimeters, the meniscus is sized on it. Slot 9 mm wide, 10 mm "
        "deep; bridge 8 mm wide, 10 mm deep.",
        "Left medial meniscus. Measured sixteen, then with the knee straight seventeen millimeters, I take "
        "seventeen as the defect length. The graft is cut at sixteen millimeters.",
        "Right knee today. The scrub tech stood on the left. Left hand held the scope. Lateral meniscus torn, "
        "two all-inside stitches.",
        "Left knee, allograft for the medial meniscus. Graft label says left medial meniscus, number K 2 2 1. "
        "Thawed and cut.",
        "Preoperative diagnosis: left lateral meniscus deficiency. He also has a right ankle sprain. "
        "Operation: left lateral meniscus allograft transplantation. Tissue number 4 4 1.",
        "Right medial meniscus. The MRI said nineteen millimeters, under the hook the tear is sixteen "
        "millimeters. Three all-inside.",
        "Right root repair. Two tunnels, guide at fifty-five degrees for the first and sixty for the second.",
        "Left knee. Exam before: extension five, flexion one ten degrees. At the end extension zero, flexion "
        "one thirty degrees. Meniscus sutured.",
        "Right knee medial meniscus. Defect two centimeters by nine millimeters. Graft marked and cut at 19 by "
        "9 millimeters.",
        "Right knee lateral. Gap 16 by 9, ten from the posterior root, fourteen from the anterior root. Graft "
        "cut 15 by 9, ten from its posterior root.",
        "Left lateral meniscus. Native and graft alike: posterior superior white, posterior inferior blue, "
        "anterior superior striped white, anterior inferior striped blue. Back tied, front tied.",
        "Left knee medial meniscus. A total of eight stitches. Four all-inside at the back, three inside-out "
        "in the body, and one outside-in in front.",
        "Right knee lateral meniscus. Altogether eight sutures, inside-out: four superior and four inferior.",
        "Right knee. Tear of the medial meniscus 18 millimeters. Lesion of the condyle 18 by 12 millimeters. "
        "Loose body 9 millimeters.",
        "Left ACL. Graft eight and a half. Tibial tunnel eight and a half, femoral tunnel eight and a half "
        "millimeters, thirty deep.",
        "Right knee. Medial compartment fine. Lateral compartment: meniscus torn at the horn, repaired with "
        "three stitches all-inside. Medial meniscus intact.",
        "Right knee. He had a left knee scope at 17. Medial meniscus tear 12 millimeters, two all-inside.",
        "Left lateral meniscus transplant. We cut the slot eight millimeters wide with the small box chisel "
        "and opened it to nine. Bridge is eight millimeters wide. Number 7 7 1.",
        "Right knee. Anterior cruciate stable. Partial resection of the lateral meniscus, about twenty "
        "percent. The medial one is untouched.",
        "Left knee. I asked for the eleven millimeter reamer, they gave me ten, took the eleven. Tibial tunnel "
        "is eleven millimeters.",
    ],
)
def test_what_only_looks_like_one_is_not_asked_about(text: str) -> None:
    assert not raised(text) & CONFLICTS
