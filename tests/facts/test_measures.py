"""Rules in competition for one number, and what a reading makes of values, roles, hedges and moods.

How values are kept is the record contract's (sections 3 and 8); sentences are worded for these tests.
"""

from __future__ import annotations

import pytest

from .reading import facts, flags, measured


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # the rule with more of its words beside the number
        ("The meniscal defect is 14 mm from the posterior root.", [("defect.root_distance", 14)]),
        ("The meniscal graft was 12 mm from its posterior root.", [("graft.root_distance", 12)]),
        # the nearer thing: both things are said, each with its own number
        (
            "The meniscal graft was cut 19 mm long, the defect is 20 mm long.",
            [("defect.ap_length", 20), ("graft.ap_length", 19)],
        ),
        ("Beside the meniscal defect a tear of five millimeters length was seen.", [("tear.length", 5)]),
        # part of a product
        ("The meniscal graft was cut 19 by 8 mm.", [("graft.ap_length", 19), ("graft.width", 8)]),
        ("Knee. The loose body was 8 by 5 mm.", [("loose_body.length", 8), ("loose_body.width", 5)]),
        # a span of motion before single angles
        ("Knee motion was from zero to one hundred thirty degrees.", [("knee.extension", 0), ("knee.flexion", 130)]),
        ("The knee was held in thirty degrees of flexion while the graft was fixed.", [("knee.flexion_angle", 30)]),
        # stitches apart are no tear
        ("The meniscus tear was stitched, the stitches five millimeters apart.", [("stitch.spacing", 5)]),
        # a scan's figure
        ("The medial meniscus extruded four millimeters.", [("meniscus.extrusion", 4)]),
        # a part of the meniscus as a share of it
        ("A third of the medial meniscus was resected.", [("resection.percent", 33)]),
        ("Radial meniscus tear through half the width.", [("tear.depth_percent", 50)]),
        # what surrounds the operation
        ("Knee. Tourniquet time sixty two minutes.", [("tourniquet.time", 62)]),
        ("Knee. The tourniquet was inflated to 280 millimeters of mercury.", [("tourniquet.pressure", 280)]),
        ("Knee. Estimated blood loss 20 cc.", [("blood_loss.volume", 20)]),
    ],
)
def test_the_better_reading_wins(text: str, expected: list[tuple[str, float]]) -> None:
    assert measured(text) == expected


@pytest.mark.parametrize(
    "text",
    [
        "A thirty degree arthroscope was put in the knee.",
        "The marks of the probe on the meniscus are five millimeters apart.",
        "The patient is a thirty one year old man with a meniscus problem.",
        "The knee was injected with ten milliliters of local anesthetic.",
        "Antibiotics for the knee were given, two grams.",
    ],
)
def test_numbers_known_as_something_else_give_nothing(text: str) -> None:
    """Contract, sections 3 and 8 (rule 15): graduations, a scope's angle, ages, drugs."""
    assert not facts(text, "measurements")
    assert "unread-number" not in [f.check for f in flags(text)]


def test_a_number_nobody_reads_is_flagged() -> None:
    """Contract, section 7: a number with a unit that no rule used."""
    text = "The knee was done. The blue thing had seven centimeters."
    assert not facts(text, "measurements")
    flag = flags(text)[0]
    assert flag.check == "unread-number"
    assert "seven centimeters" in [text[s.start : s.end] for s in flag.spans]
    assert "(70 mm)" in flag.message


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("A meniscal rim of one to two millimeters was kept.", ("rim.width", (1, 2))),
        ("The meniscus tear was six, maybe seven millimeters long.", ("tear.length", (6, 7))),
        ("The meniscus tear was at least ten millimeters long.", ("tear.length", (10, None))),
        ("The meniscal rim was less than two millimeters wide.", ("rim.width", (None, 2))),
    ],
)
def test_ranges_and_bounds(text: str, expected: tuple[str, object]) -> None:
    """Contract, section 3: low and high, and no value."""
    assert measured(text) == [expected]


def test_about_right_is_said() -> None:
    assert facts("The meniscus tear was about ten millimeters long.", "measurements")[0]["approximate"] is True


@pytest.mark.parametrize(
    ("text", "value", "earlier"),
    [
        ("The meniscus tear was eighteen, no, nineteen millimeters long.", 19, [18]),
        ("The meniscus tear was twelve millimeters long, correction, fourteen millimeters.", 14, [12]),
    ],
)
def test_a_correction_keeps_the_earlier_value(text: str, value: float, earlier: list[float]) -> None:
    (fact,) = facts(text, "measurements")
    assert (fact["value"], fact["earlier_values"]) == (value, earlier)


@pytest.mark.parametrize(
    ("text", "role"),
    [
        ("The meniscal defect was twenty millimeters long.", "observed"),
        ("The meniscal graft was marked at twenty millimeters long.", "target"),
        ("The meniscal graft was cut at twenty millimeters long.", "made"),
        ("I usually leave a meniscal rim of two millimeters.", "reference"),
        ("ACL. The femoral tunnel was drilled to nine millimeters.", "made"),
        ("ACL. Next time we plan to drill a femoral tunnel of nine millimeters.", "target"),
        ("The lesion of the trochlea was 8 mm deep.", "observed"),
    ],
)
def test_roles(text: str, role: str) -> None:
    assert [f["role"] for f in facts(text, "measurements")] == [role]


@pytest.mark.parametrize(
    "text",
    [
        "If the meniscal rim were three millimeters wide we could trim it.",
        "A meniscal graft of twenty four millimeters length was considered.",
    ],
)
def test_what_is_only_thought_of_is_no_value(text: str) -> None:
    assert not facts(text, "measurements")
    assert not flags(text)


def test_the_same_value_again_is_one_fact_with_more_evidence() -> None:
    """Contract, section 8, rules 1 and 9: marked and cut at the same size is one fact, made."""
    text = "The meniscal graft was marked 19 mm long. Then the graft was cut 19 mm long."
    (fact,) = facts(text, "measurements")
    assert (fact["what"], fact["value"], fact["role"]) == ("graft.ap_length", 19, "made")


def test_said_again_without_its_site_is_the_one_said_with_it() -> None:
    text = "ACL reconstruction. The femoral tunnel was 9 mm in diameter. The tunnel was 9 mm in diameter."
    assert measured(text, "site") == [("tunnel.diameter", 9, "femoral")]


def test_another_value_is_another_fact() -> None:
    """Contract, section 8, rule 2: nothing is chosen silently."""
    text = "The meniscal defect was 20 mm long. Once more, the meniscal defect was 23 mm long."
    assert measured(text) == [("defect.ap_length", 20), ("defect.ap_length", 23)]


def test_an_absurd_value_is_kept_as_said() -> None:
    """Contract, section 8, rule 3."""
    assert measured("The meniscal defect was 190 mm long.") == [("defect.ap_length", 190)]


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("The meniscus tear was 1.5 cm long.", 15, "mm"),
        ("The meniscus tear was half an inch long.", 12.7, "mm"),
        ("Knee. Tourniquet time one hour and five minutes.", 65, "min"),
        ("Knee. Blood loss 10 cc.", 10, "mL"),
    ],
)
def test_canonical_units(text: str, value: float, unit: str) -> None:
    """Contract, section 2. An inch is 25.4 mm by definition (UCUM [in_i])."""
    (fact,) = facts(text, "measurements")
    assert fact["value"] == pytest.approx(value) and fact["unit"] == unit


def test_motion_before_and_after_are_two_things() -> None:
    text = "Exam under anesthesia: the knee moved from zero to ninety degrees. At the end it moved from zero to 130."
    found = {(f["what"], f["value"], f.get("when")) for f in facts(text, "measurements")}
    assert {("knee.flexion", 90, "before"), ("knee.flexion", 130, "after")} <= found


def test_a_number_said_two_ways_is_doubted() -> None:
    """Contract, section 8, rule 13."""
    text = "The meniscal defect was fifty, one five, millimeters along the rim."
    assert "number-uncertain" in [f.check for f in flags(text)]
    assert not flags("The meniscal defect was fifty, five zero, millimeters along the rim.")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "Knee. The tear of the meniscus was two centimeters long and one and a half from the capsule.",
            [("tear.length", 20), ("tear.rim_distance", 15)],
        ),
        (
            "Knee. The meniscus defect was two centimeters along the rim. It was nine wide, the rim two millimeters.",
            [("defect.ap_length", 20), ("defect.width", 9), ("rim.width", 2)],
        ),
    ],
)
def test_a_unit_holds_for_the_rest_of_its_sentence(text: str, expected: list[tuple[str, float]]) -> None:
    """Contract, section 8.4: a unit said for the first of a pair holds for the rest; not beyond the sentence."""
    assert measured(text) == expected


def test_a_size_off_a_scan_gives_way_to_one_measured() -> None:
    text = "On the MRI the lesion of the trochlea of the knee was 20 mm long. With the probe the lesion was 14 mm long."
    assert [(m["value"], m["role"]) for m in facts(text, "measurements")] == [(20, "reference"), (14, "observed")]
    alone = "On the MRI the lesion of the trochlea of the knee was 20 mm long."
    assert [m["role"] for m in facts(alone, "measurements")] == ["observed"]


def test_a_unit_is_not_inherited_by_another_thing() -> None:
    text = "Knee ACL reconstruction, patellar tendon. Through a 7 cm incision a bone block 25 by 10, tunnel 9 mm wide."
    assert ("bone_block.length", 25) in measured(text)


def test_a_number_said_two_ways_is_kept_both_ways() -> None:
    text = "Left knee. The meniscus tear is fifteen, five zero, millimeters long."
    assert [v for _, v in measured(text)] == [15, 50]
    assert "number-uncertain" in {f.check for f in flags(text)}


@pytest.mark.parametrize("asked", ["What was it, forty-nine minutes? Forty-nine.", "It was fifty minutes? Yes."])
def test_a_question_with_its_answer_is_read(asked: str) -> None:
    assert [w for w, _ in measured(f"Left knee, meniscus repaired. Tourniquet down. {asked}")] == ["tourniquet.time"]


def test_a_number_in_a_question_without_answer_is_asked_about() -> None:
    text = "Left knee, meniscus repaired. Tourniquet down. It was forty-nine minutes? Close up."
    assert not measured(text)
    assert "unread-number" in {f.check for f in flags(text)}


def test_a_bare_number_with_words_of_measuring_that_nothing_reads_is_asked_about() -> None:
    assert "unread-number" in {f.check for f in flags("Left knee, meniscus. The widget was ten wide.")}


@pytest.mark.parametrize(
    ("said", "what", "value"),
    [
        ("The posterior root lies eleven millimeters from the defect.", "defect.root_distance", 11),
        ("The anterior root is nine millimeters from the gap.", "defect.anterior_root_distance", 9),
        ("The graft is drawn 24 mm on 12 mm.", "graft.width", 12),
        ("Old meniscus shaved until a millimeter was left.", "rim.width", 1),
    ],
)
def test_said_the_other_way_round(said: str, what: str, value: float) -> None:
    assert (what, value) in measured(f"Left knee, segmental lateral meniscus transplant. {said}")


def test_a_tear_near_a_root_is_no_defect() -> None:
    text = "Left knee. The medial meniscus has a tear which begins a centimeter in front of the posterior root."
    assert not [w for w, _ in measured(text) if str(w).startswith("defect")]


def test_the_product_of_a_slot_is_no_graft() -> None:
    text = "Left knee, whole lateral meniscus transplant. Trough ten by eleven millimeters."
    assert not measured(text)
    assert {f.check for f in flags(text)} == {"unread-number"}


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("The tear lay four millimeters from the popliteus.", []),
        ("The tear lies three millimeters in from its attachment.", [("tear.rim_distance", 3)]),
        ("The tear ran eighteen millimeters from the hiatus to the horn.", [("tear.length", 18)]),
        ("The tear gapped three millimeters on probing.", []),
        ("A tear extending over eighteen millimeters.", [("tear.length", 18)]),
    ],
)
def test_how_far_off_a_tear_lies_is_none_of_its_sizes(said: str, expected: list[tuple[str, float]]) -> None:
    assert measured(f"Left knee, medial meniscus repair. {said}") == expected


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Defect: length 21 width 9 mm.", [("defect.ap_length", 21), ("defect.width", 9)]),
        ("A nineteen millimeter gap with a depth of nine.", [("defect.ap_length", 19), ("defect.width", 9)]),
        ("Rim two millimeters. The graft came out a millimeter too long.", [("rim.width", 2)]),
        ("I take twenty-one millimeters for the length of the gap.", [("defect.ap_length", 21)]),
    ],
)
def test_sizes_told_in_other_orders(said: str, expected: list[tuple[str, float]]) -> None:
    assert measured(f"Left knee, segmental lateral meniscus transplant. {said}") == expected


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("The sutures were tied, knee at 90.", [("knee.flexion_angle", 90, "deg")]),
        ("I flex until 120, it holds.", [("knee.flexion", 120, "deg")]),
        ("The sutures were tied near extension, at ten degrees.", []),
        (
            "With the knee in ten to twenty degrees of flexion the sutures were tied.",
            [("knee.flexion_angle", (10, 20), "deg")],
        ),
        (
            "The knee goes from zero to one hundred ten degrees of flexion.",
            [
                ("knee.extension", 0, "deg"),
                ("knee.flexion", 110, "deg"),
            ],
        ),
    ],
)
def test_how_far_the_knee_was_bent(said: str, expected: list[tuple[object, ...]]) -> None:
    assert measured(f"Left knee, medial meniscus repair. {said}", "unit") == expected


def test_a_bound_of_a_blood_loss_without_its_unit() -> None:
    assert measured("Left knee, meniscus repaired. Blood loss was under fifty.") == [("blood_loss.volume", (None, 50))]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        # the bone headed two sentences before
        (
            "Tibial tunnel. The aiming device is at fifty five degrees, then overdrilled to ten millimeters. "
            "Tunnel length forty-two millimeters.",
            [("guide.angle", 55, None), ("tunnel.diameter", 10, "tibial"), ("tunnel.length", 42, "tibial")],
        ),
        ("Femur reamed to ten.", [("tunnel.diameter", 10, "femoral")]),
        # a depth reached, no bound
        ("Femoral socket made up to thirty mm depth.", [("tunnel.depth", 30, "femoral")]),
        # the second of two told alike
        (
            "The graft was eight millimeters at the top, eight and a half at the tibial end.",
            [("ligament_graft.diameter", 8, "femoral"), ("ligament_graft.diameter", 8.5, "tibial")],
        ),
        # a transplant that is a tendon
        ("The finished transplant has a diameter of nine millimeters.", [("ligament_graft.diameter", 9, None)]),
        # how much more than something else is no size of it
        ("Drilled five millimeters deeper than the bone plug.", []),
    ],
)
def test_sizes_of_a_ligament_reconstruction(said: str, expected: list[tuple[object, ...]]) -> None:
    found = measured(f"Left knee ACL reconstruction with hamstrings. {said}", "site")
    assert sorted(found, key=str) == sorted(expected, key=str)


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        (
            "The medial meniscus is fine. The defect is full thickness. Thirteen millimeters wide.",
            [("lesion.width", 13)],
        ),
        ("Sockets sixteen millimeters deep for the two big plugs.", [("tunnel.depth", 16)]),
        ("The defect is full thickness. Across, ten, thirteen. Thirteen millimeters wide.", [("lesion.width", 13)]),
        ("Donor bed on the patella, ten by eight millimeters.", [("lesion.length", 10), ("lesion.width", 8)]),
    ],
)
def test_sizes_beside_cartilage(said: str, expected: list[tuple[object, ...]]) -> None:
    assert measured(f"Left knee, mosaicplasty of the medial femoral condyle. {said}") == expected
