"""Stitches placed with a suture hook, cartilage that is smooth, and the lettered grades of the international scale.

That a suture hook stitches from inside is common practice, no source. The letters are those of the International
Cartilage Repair Society's scale (ICRS Cartilage Injury Evaluation Package, 2000): 1a, 1b, 3a to 3d, 4a, 4b;
from memory.
"""

from __future__ import annotations

import pytest

from .reading import facts


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("Ramp of the medial meniscus closed with a suture hook, three stitches.", 3),
        ("Ramp lesion of the medial meniscus sewn with four hook stitches.", 4),
        ("With the passing hook I placed two stitches in the posterior horn of the medial meniscus.", 2),
        ("Medial meniscus. Three stitches, all-inside, with the suture hook, number zero, vertical mattress.", 3),
    ],
)
def test_a_suture_hook_sews_and_does_not_probe(text: str, count: int) -> None:
    (sutures,) = facts(f"Right knee. {text}", "sutures")
    assert (sutures["technique"], sutures["count"]) == ("all_inside", count)
    assert [s["code"] for s in facts(f"Right knee. {text}", "steps")] == ["all-inside-stitch"]


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("ICRS 3b on the lateral tibial plateau.", "3b"),
        ("Trochlea, ICRS IIIb.", "3b"),
        ("ICRS grade 4A lesion of the trochlea.", "4a"),
        ("ICRS grade 3 lesion of the trochlea.", "3"),
    ],
)
def test_a_grade_keeps_its_letter(text: str, value: str) -> None:
    (lesion,) = facts(f"Right knee. {text}", "findings")
    assert lesion["grade"] == {"system": "icrs", "value": value}


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Trochlea smooth, patella grade one.", {("trochlea", "intact"), ("patella", "chondral-lesion")}),
        ("The patella is smooth.", {("patella", "intact")}),
        ("Flaps of the medial femoral condyle shaved, smooth.", set()),
    ],
)
def test_smooth_is_sound_where_nothing_was_shaved(text: str, found: set[tuple[str, str]]) -> None:
    told = {(f["structure"], f["finding"]) for f in facts(f"Right knee. {text}", "findings")}
    assert {pair for pair in told if pair[1] == "intact" or found} == found
