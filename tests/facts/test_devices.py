"""Devices: what was used, its size and how many; a size beside one is never a measurement (contract, section 3)."""

from __future__ import annotations

import pytest

from .reading import facts


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "An eight millimeter cannula was placed for the meniscus.",
            {"kind": "cannula", "size": 8, "unit": "mm"},
        ),
        ("A cannula of 8 mm was placed for the meniscus.", {"kind": "cannula", "size": 8, "unit": "mm"}),
        ("Cannula, ten millimeter, goes in for the meniscus.", {"kind": "cannula", "size": 10, "unit": "mm"}),
        (
            "Knee. Two 7 by 20 mm screws were placed in the tibia.",
            {"kind": "screw", "size": 7, "length": 20, "unit": "mm", "count": 2, "site": "tibial"},
        ),
        ("Knee. A 4.5 mm drill was used.", {"kind": "drill", "size": 4.5, "unit": "mm"}),
        ("Knee. A button was flipped on the femur.", {"kind": "button", "site": "femoral"}),
        ("Knee. A crossbutton was flipped on the femur.", {"kind": "button", "site": "femoral"}),
        ("Four all-inside implants were used in the meniscus.", {"kind": "all-inside-implant", "count": 4}),
    ],
)
def test_device(text: str, expected: dict[str, object]) -> None:
    assert facts(text, "devices") == [expected]
    assert not facts(text, "measurements")


def test_a_tunnel_drilled_to_a_size_is_a_measurement_the_reamer_a_device() -> None:
    """Contract, section 8, rule 7."""
    text = "ACL reconstruction. With a 7 mm reamer the femoral tunnel was drilled to twenty five millimeters deep."
    assert [(f["kind"], f["size"]) for f in facts(text, "devices")] == [("reamer", 7)]
    assert [(f["what"], f["value"]) for f in facts(text, "measurements")] == [("tunnel.depth", 25)]


def test_a_tool_without_a_size_is_not_logged() -> None:
    assert not facts("The reamer was cleaned before the knee.", "devices")


def test_told_with_and_without_size_is_one_device() -> None:
    text = "The cannula was placed in the knee. Later the eight millimeter cannula was flushed."
    assert [(f["kind"], f.get("size")) for f in facts(text, "devices")] == [("cannula", 8)]


def test_two_sizes_are_two_devices() -> None:
    text = "Knee. A 6 mm cannula and an 8 mm cannula were placed."
    assert [f["size"] for f in facts(text, "devices")] == [6, 8]


@pytest.mark.parametrize(
    "text",
    [
        "Knee. A ten millimeter cannula was available but not used.",
        "A five millimeter anchor was considered for the knee.",
        "Knee. No anchors were used.",
        "Usually I put an 8 mm cannula in the knee.",
        "If the knee is tight a 6 mm cannula could be used.",
    ],
)
def test_what_was_not_used_is_no_device(text: str) -> None:
    assert not facts(text, "devices")
    assert not facts(text, "measurements"), "nor is its size a measurement"


def test_one_size_at_two_places_is_two_devices() -> None:
    text = "Knee ACL graft. An eight millimeter screw in the femur. An 8 mm screw in the tibia. The 8 mm screws held."
    assert sorted((f["size"], f["site"]) for f in facts(text, "devices")) == [(8, "femoral"), (8, "tibial")]


def test_a_place_told_later_is_of_the_same_device() -> None:
    text = "Knee ACL graft. An eight millimeter screw was used. The 8 mm screw was placed in the tibia."
    assert [(f["size"], f["site"]) for f in facts(text, "devices")] == [(8, "tibial")]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Meniscus. Sockets over a guide pin of two point four.", {"kind": "guide-pin", "size": 2.4}),
        ("Meniscus. The cannula was eight, well, eight and a quarter millimeters.", {"kind": "cannula", "size": 8.25}),
        ("The meniscus cannula was placed and it was a seven millimeter one.", {"kind": "cannula", "size": 7}),
        ("Meniscus. The ten cannula goes in.", {"kind": "cannula", "size": 10}),
        ("Meniscus. The cannula measured ten millimeters.", {"kind": "cannula", "size": 10}),
        ("I went all-inside in the meniscus, four implants.", {"kind": "all-inside-implant", "count": 4}),
        ("Knee. A screw, size nine, length twenty five millimeters, ACL.", {"kind": "screw", "size": 9, "length": 25}),
        ("Knee, ACL. The tibial tunnel took a screw, nine by twenty five.", {"kind": "screw", "size": 9, "length": 25}),
        ("Knee, ACL. A screw nine by twenty five in the tibial tunnel.", {"kind": "screw", "size": 9, "length": 25}),
    ],
)  # fmt: skip
def test_sizes_told_in_other_ways(text: str, expected: dict[str, object]) -> None:
    (device,) = facts(text, "devices")
    assert {k: device.get(k) for k in expected} == expected
    assert not facts(text, "measurements")


def test_a_number_that_counts_something_else_is_no_count() -> None:
    text = "An eight millimeter cannula for the meniscus. Each one comes out the cannula."
    assert [f.get("count") for f in facts(text, "devices")] == [None]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Interference screws: seven by twenty on the femur, nine by twenty on the tibia.", [(7, 20), (9, 20)]),
        ("Two screws, 7 by 20 femoral and 9 by 25 tibial.", [(7, 20), (9, 25)]),
        ("A seven by twenty screw in the femur and a nine by twenty-five in the tibia.", [(7, 20), (9, 25)]),
        ("Screw on the femur: 7 by 23. Screw on the tibia: 9 by 28.", [(7, 23), (9, 28)]),
        ("Two interference screws, both eight by twenty-five.", [(8, 25)]),
        ("Screw seven by twenty in the femur, the tunnel is nine by twenty-five in the tibia.", [(7, 20)]),
        ("A seven by twenty screw in the femur and the lesion of nine by twenty-five on the tibia.", [(7, 20)]),
    ],
)
def test_screws_told_apart_by_their_bone(text: str, expected: list[tuple[float, float]]) -> None:
    screws = [d for d in facts(f"Right knee ACL reconstruction. {text}", "devices") if d["kind"] == "screw"]
    assert [(d.get("size"), d.get("length")) for d in screws] == expected
