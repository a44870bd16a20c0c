"""Each check of the record contract on dictations: what is planted is found, what only looks like it is not.

The sayings are this project's own; what counts as an inconsistency is `record-contract.md`, section 7, which DESIGN.md
takes from common practice.
"""

from __future__ import annotations

import pytest

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript


def raised(text: str) -> set[str]:
    return {flag.check for flag in extract(Transcript(text=text), load_grammar()).flags}


@pytest.mark.parametrize(
    ("check", "text"),
    [
        (
            "side-conflict",
            "Right knee, lateral meniscus repair. The left leg was prepped and draped. Four all-inside stitches.",
        ),
        (
            "side-conflict",
            "Left knee. Tourniquet on the right thigh, 280. Medial meniscus, three stitches all-inside.",
        ),
        (
            "side-conflict",
            "This is a right knee, medial root tear. We put the left leg in the holder and prepped it.",
        ),
        (
            "side-conflict",
            "Arthroscopy right knee for meniscus transplant. Timeout done, left knee confirmed, consent signed.",
        ),
        (
            "side-conflict",
            "Right lateral meniscus transplantation. Supine, left leg in the leg holder, tourniquet inflated.",
        ),
        (
            "side-conflict",
            "Left medial meniscus repair. Everything went fine. Dressing on the right knee, brace locked.",
        ),
        (
            "side-conflict",
            "Operating on the left knee today, lateral meniscus tear. At the end the right knee was stable and "
            "went to recovery.",
        ),
        (
            "side-conflict",
            "Right knee. Portals made. So this left knee has a bucket handle of the medial meniscus.",
        ),
        (
            "side-conflict",
            "Diagnosis right medial meniscus tear. Procedure: left knee arthroscopy, medial meniscus repair.",
        ),
        (
            "compartment-conflict",
            "Right knee, medial meniscus repair. We repaired the lateral meniscus with four inside-out "
            "sutures; that was the tear of the posterior horn. Procedure: lateral meniscus repair. Medial "
            "meniscus normal.",
        ),
        (
            "value-conflict",
            "Right knee lateral meniscus. The defect is eighteen millimeters long. We trimmed. Measured the "
            "defect again and the length of the defect is twenty-one millimeters. Graft cut.",
        ),
        (
            "value-conflict",
            "Right knee. Tourniquet time fifty-two minutes. Closed, dressing. Total tourniquet time was "
            "sixty-two minutes.",
        ),
        (
            "value-conflict",
            "Right knee, tear of the medial meniscus, length of the tear 22 millimeters. Repaired. In summary "
            "a 27 millimeter tear of the medial meniscus.",
        ),
        (
            "value-conflict",
            "Left knee lateral meniscus transplant. The slot was cut 8 millimeters wide. Bridge slid in. The "
            "slot width was 10 millimeters.",
        ),
        (
            "value-conflict",
            "Right knee. Rim of the lateral meniscus left at two millimeters. Rasped. With a four millimeter "
            "rim we then placed the graft.",
        ),
        (
            "graft-length-mismatch",
            "Right knee lateral meniscus. Segmental defect twenty millimeters long, ten deep. Graft cut at "
            "twenty-three by ten millimeters.",
        ),
        (
            "graft-length-mismatch",
            "Left knee, medial meniscus. The gap measures twenty along the rim and nine across. On the back "
            "table I cut the graft twenty-three long and nine wide, all millimeters.",
        ),
        (
            "graft-length-mismatch",
            "Right lateral segmental transplant. Defect: 18 mm. Width 9 mm. Graft made 15 by 9 mm.",
        ),
        (
            "graft-width-mismatch",
            "Right knee lateral meniscus. Defect nineteen millimeters long and ten wide. Graft cut eighteen by seven.",
        ),
        (
            "graft-width-mismatch",
            "Left knee medial meniscus defect 22 by 9 mm. The graft was trimmed to 21 mm in length and 12 mm in width.",
        ),
        (
            "root-distance-mismatch",
            "Right knee lateral meniscus defect 20 by 10 mm, starting 9 mm from the posterior root. Graft cut "
            "19 by 10, starting 14 mm from its posterior root.",
        ),
        (
            "root-distance-mismatch",
            "Left knee. The lateral meniscus gap begins eight millimeters off the root. The graft we begin at "
            "thirteen off its own root. Gap is eighteen, graft seventeen.",
        ),
        (
            "suture-color-conflict",
            "Right knee lateral meniscus. Native: white posterior superior, blue posterior inferior, white "
            "anterior superior, black anterior inferior.",
        ),
        (
            "suture-color-conflict",
            "Left knee. Native meniscus sutures: green at the back on top, purple at the back below, orange in "
            "front on top, green in front below.",
        ),
        (
            "suture-color-conflict",
            "Right knee lateral. On the graft blue posterior superior, white posterior inferior, blue anterior "
            "superior, green anterior inferior; native white, blue, green, black is to follow.",
        ),
        (
            "suture-count-mismatch",
            "Right knee meniscus. Six inside-out sutures in all: three in the posterior horn and two in the body.",
        ),
        (
            "suture-count-mismatch",
            "Left knee, medial meniscus. We used five all-inside stitches, two in the posterior horn, two in the body.",
        ),
        (
            "suture-count-mismatch",
            "Right knee. Seven vertical mattress sutures inside-out, four on top and two on the undersurface "
            "of the meniscus.",
        ),
        (
            "tie-mismatch",
            "Left knee. Native and graft the same: white posterior superior, blue posterior inferior, green "
            "anterior superior, black anterior inferior. At the back white to blue, in front green tied to "
            "white.",
        ),
        (
            "value-implausible",
            "Right knee. Lateral meniscus defect measures two hundred millimeters in length.",
        ),
        (
            "value-implausible",
            "Right knee. Tourniquet to nine hundred millimeters of mercury.",
        ),
        (
            "unit-suspect",
            "Right knee. The lateral meniscus defect is eighteen centimeters long.",
        ),
        (
            "unit-suspect",
            "Left knee. Rim trimmed to two centimeters on the lateral meniscus.",
        ),
        (
            "tourniquet-long",
            "Right knee meniscus. Tourniquet time one hundred thirty-five minutes.",
        ),
        (
            "tourniquet-long",
            "Right knee meniscus. The tourniquet was up for two hours and ten minutes.",
        ),
        (
            "step-order",
            "Right knee lateral meniscus transplant. Sutures were tied. Then the graft was delivered into the "
            "joint through the cannula. Then native sutures were passed.",
        ),
        (
            "graft-identifier-missing",
            "Right lateral meniscus allograft transplantation. Graft thawed, marked and cut at 19 by 10 mm. "
            "Delivered. Sutures tied.",
        ),
        (
            "number-uncertain",
            "Right knee. Lateral meniscus defect is fifteen or fifty millimeters long.",
        ),
        (
            "number-uncertain",
            "Right knee. Lateral meniscus defect eighteen, one nine, millimeters long.",
        ),
        (
            "suture-unpaired",
            "Right knee lateral. Native: white posterior superior, blue posterior inferior, green anterior "
            "superior, black anterior inferior. Graft: white posterior superior, blue posterior inferior, "
            "green anterior superior.",
        ),
        (
            "side-conflict",
            "Okay so it's the right knee we're doing today. Exam under anesthesia, full motion. Left thigh "
            "tourniquet, leg prepped and draped. Anterolateral portal. Lateral meniscus torn, two all-inside "
            "stitches.",
        ),
        (
            "side-conflict",
            "Preoperative diagnosis: left lateral meniscus deficiency. Operation: right lateral meniscus "
            "allograft transplantation. Tissue number 4 4 1.",
        ),
        (
            "side-conflict",
            "Left knee, allograft for the medial meniscus. Graft label says right medial meniscus, number K 2 "
            "2 1. Thawed and cut.",
        ),
        (
            "side-conflict",
            "Dictating for the knee, left. Marked the right knee in holding. Two stitches outside-in, anterior "
            "horn, medial meniscus.",
        ),
        (
            "side-conflict",
            "Right knee. After anesthesia the left lower limb was cleaned and draped. Root of the medial "
            "meniscus torn.",
        ),
        (
            "value-conflict",
            "Right medial meniscus. Tear is sixteen millimeters. I rasp it. For the record the tear was "
            "nineteen millimeters long. Three all-inside.",
        ),
        (
            "value-conflict",
            "Left knee. Defect of the lateral meniscus 17 mm long, 9 mm wide, 12 mm from the posterior root. "
            "Later I write down: defect 17 by 9, 15 mm from the root.",
        ),
        (
            "value-conflict",
            "Right knee, meniscus. Tourniquet was inflated to 280 millimeters of mercury. Tourniquet pressure "
            "250 millimeters of mercury throughout.",
        ),
        (
            "value-conflict",
            "Left knee meniscus repair. Blood loss ten milliliters. Estimated blood loss was fifty milliliters.",
        ),
        (
            "graft-length-mismatch",
            "Left lateral segmental. The gap: twenty-four long, eleven deep, eight off the back root, all in "
            "millimeters. Back table: graft sized to twenty by eleven, eight from its root.",
        ),
        (
            "graft-length-mismatch",
            "Right knee medial meniscus. I measure the defect, it's two point one centimeters by nine "
            "millimeters. Graft marked and cut at 24 by 9.",
        ),
        (
            "graft-length-mismatch",
            "Right knee. Native gap of the lateral meniscus was eighteen, width eight. We cut our graft three "
            "short, fifteen by eight millimeters. Normally we take one off.",
        ),
        (
            "graft-width-mismatch",
            "Left lateral meniscus, segmental defect nineteen by eleven millimeters. Graft eighteen by eight "
            "millimeters, cut with a fresh blade.",
        ),
        (
            "root-distance-mismatch",
            "Right knee lateral. Gap 16 by 9, ten from the posterior root. The graft was cut 15 by 9 and it "
            "begins six millimeters from its posterior root.",
        ),
        (
            "suture-color-conflict",
            "Left knee, medial meniscus gap. Native edge: back top purple, back bottom green. Front top "
            "purple, front bottom white.",
        ),
        (
            "suture-color-conflict",
            "Right knee lateral meniscus. Native sutures: posterior superior white, posterior inferior blue, "
            "anterior superior green, anterior inferior black. Graft: posterior superior blue, posterior "
            "inferior white, anterior superior green, anterior inferior black.",
        ),
        (
            "suture-count-mismatch",
            "Left knee medial meniscus. A total of nine stitches. Four all-inside at the back, three "
            "inside-out in the body, and one outside-in in front.",
        ),
        (
            "suture-count-mismatch",
            "Right knee lateral meniscus. Altogether eight sutures, inside-out: three superior and four inferior.",
        ),
        (
            "tie-mismatch",
            "Left lateral meniscus. In native and graft: posterior superior white, posterior inferior blue, "
            "anterior superior green, anterior inferior black. I tied posterior superior to anterior inferior "
            "and posterior inferior to anterior superior.",
        ),
        (
            "tie-mismatch",
            "Right lateral meniscus. In native and graft: posterior superior white, posterior inferior blue, "
            "anterior superior green, anterior inferior black. Posterior superior is tied to posterior "
            "inferior. Irrigated, closed.",
        ),
        (
            "value-implausible",
            "Left knee. Brace locked. Tunnel for the ACL drilled to eighty millimeters in diameter.",
        ),
        (
            "value-implausible",
            "Right knee. The medial meniscus tear is one hundred eighty millimeters long, five stitches.",
        ),
        (
            "unit-suspect",
            "Left knee lateral meniscus graft was cut nineteen centimeters long and nine millimeters wide.",
        ),
        (
            "unit-suspect",
            "Right lateral meniscus. Defect starts nine centimeters from the posterior root and is eighteen "
            "millimeters long.",
        ),
        (
            "tourniquet-long",
            "Left knee, meniscus transplant. Cuff was up a hundred and forty minutes in all.",
        ),
        (
            "suture-unpaired",
            "Left lateral meniscus. Native white posterior superior, blue posterior inferior, green anterior "
            "superior, black anterior inferior. On the graft: white posterior superior, green anterior "
            "superior, black anterior inferior.",
        ),
        (
            "step-order",
            "Right lateral meniscus segmental transplant. Graft brought in through the cannula. Then I thawed "
            "the graft and cut it to 18 by 9 millimeters. Tied.",
        ),
        (
            "number-uncertain",
            "Left knee. Tear of the meniscus, thirteen or thirty millimeters, I could not hear you, three stitches.",
        ),
    ],
)
def test_a_planted_inconsistency_is_found(check: str, text: str) -> None:
    assert check in raised(text)
