"""Devices at hand, tried or exchanged, and those used. Worded for these tests."""

from __future__ import annotations

import pytest

from .reading import facts


def devices(text: str) -> list[tuple[object, object, object]]:
    found = facts(f"Knee, meniscus. {text}", "devices")
    return sorted((str(f["kind"]), f.get("size"), f.get("count")) for f in found)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("We had three anchors on the table and used one anchor.", [("anchor", None, 1)]),
        ("Of the four anchors on the table two anchors were placed.", [("anchor", None, 2)]),
        ("Only one of the two opened buttons was used.", [("button", None, 1)]),
        ("A twelve millimeter button had been picked out, but a nine millimeter one went in.", [("button", 9, None)]),
        ("The tray offered seven and nine millimeter screws; an eight millimeter screw went in.", [("screw", 8, None)]),
        ("The nine millimeter screw cracked. A ten millimeter screw holds.", [("screw", 10, None)]),
        ("A nine millimeter screw was opened and inserted. A ten millimeter screw holds the tibia.",
         [("screw", 9, None), ("screw", 10, None)]),
        ("A nine millimeter screw was opened and inserted; the screw had good purchase.", [("screw", 9, None)]),
        ("A nine millimeter screw was asked for.", [("screw", 9, None)]),
        ("A single button sits on the femur.", [("button", None, 1)]),
        ("An eight millimeter cannula was opened by mistake and thrown away.", []),
    ],
)  # fmt: skip
def test_what_was_used(text: str, expected: list[tuple[object, object, object]]) -> None:
    assert devices(text) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("The rep recommends a nine millimeter screw. An eight went in.", [("screw", 8, None)]),
        ("The fellow suggests a nine millimeter screw. We put in a seven.", [("screw", 7, None)]),
        ("The nurse offers a fifth anchor; I stopped at four.", [("anchor", None, 4)]),
        ("The rep would have put in another anchor. It has three.", [("anchor", None, 3)]),
        ("The rep would have put in an anchor. It took three minutes.", []),
        ("A nine millimeter screw went in. We saw a seven in the tray.", [("screw", 9, None)]),
    ],
)
def test_what_was_used_instead(text: str, expected: list[tuple[object, object, object]]) -> None:
    assert devices(text) == expected


def test_a_place_told_in_a_few_words_behind() -> None:
    (screw,) = facts("Knee, meniscus. A screw, eight millimeters, femoral side.", "devices")
    assert screw["site"] == "femoral"
