from __future__ import annotations

import pytest

from extractor.checks import CheckConfig

from .builders import Note


def test_what_anatomy_does_not_allow(note, flags_of):
    flag = flags_of(note.measure("knee.flexion", 210, "deg"))["value-implausible"][0]
    assert "210 degrees" in flag.message
    assert "0 to 170 degrees" in flag.message


@pytest.mark.parametrize(
    ("what", "value", "words", "check"),
    [
        ("plug.length", 120, "twelve centimeters long", "unit-suspect"),
        ("plug.length", 120, "one hundred twenty long", "unit-suspect"),
        ("plug.length", 120, "one hundred twenty millimeters", "value-implausible"),
        ("incision.length", 2, "two millimeters", "unit-suspect"),
        ("tear.length", 5000, "five hundred centimeters", "value-implausible"),
        ("lesion.area", 15000, "one hundred fifty square centimeters", "unit-suspect"),
    ],
)
def test_cm_for_mm_is_told_from_a_wrong_number(note, flags_of, what, value, words, check):
    unit = "mm2" if what.endswith("area") else "mm"
    flags = flags_of(note.measure(what, value, unit, words=words))
    assert {"unit-suspect", "value-implausible"} & set(flags) == {check}


def test_the_suggestion_is_what_would_fit(note, flags_of):
    flag = flags_of(note.measure("plug.length", 120, words="twelve centimeters"))["unit-suspect"][0]
    assert flag.suggestion == "12 mm, if millimeters were meant."


def test_unit_of_another_kind(note, flags_of):
    assert "unit-suspect" in flags_of(note.measure("defect.ap_length", 20, "deg"))


def test_an_angle_is_never_a_slip_of_length(note, flags_of):
    assert "unit-suspect" not in flags_of(note.measure("knee.flexion", 1200, "deg"))


def test_unusual_is_a_note_and_impossible_is_not_unusual_too(note, flags_of):
    flags = flags_of(note.measure("rim.width", 7))
    assert flags["value-unusual"][0].severity == "note"
    assert "value-unusual" not in flags_of(Note().measure("rim.width", 70, words="seventy millimeters"))


def test_habits_are_not_checked(note, flags_of):
    assert not flags_of(note.measure("rim.width", 500, role="reference"))


def test_missing_unit(note, flags_of):
    flag = flags_of(note.measure("tear.length", 18, None))["unit-missing"][0]
    assert flag.severity == "review"
    assert flag.suggestion == "18 mm"
    assert "unit-missing" not in flags_of(Note().measure("site.own_dimension", 3, None))


@pytest.mark.parametrize(
    ("second", "conflict"),
    [
        ({"value": 24}, True),
        ({"value": 19.0}, False),
        ({"low": 18, "high": 20}, False),
        ({"low": 21, "high": 22}, True),
        ({"low": 15}, False),
        ({"high": 15}, True),
        ({"value": 24, "role": "target"}, False),
        ({"value": 24, "role": "reference"}, False),
        ({"value": 24, "when": "after"}, True),
        ({"value": 20, "approximate": True}, False),
        ({"value": 24, "unit": None}, True),
    ],
)
def test_two_values_for_one_thing(note, flags_of, second, conflict):
    note.measure("defect.ap_length", 19, role="observed")
    note.say("measurements", **{"what": "defect.ap_length", "unit": "mm", **second})
    flags = flags_of(note)
    assert ("value-conflict" in flags) == conflict
    if conflict:
        assert flags["value-conflict"][0].facts == ("m1", "m2")


@pytest.mark.parametrize(("tens", "ones", "proposed"), [(50, 8, "58"), (120, 4, "124"), (60, 70, None), (10, 5, None)])
def test_of_a_number_heard_in_two_the_whole_is_proposed(note, flags_of, tens, ones, proposed):
    note.measure("tourniquet.time", tens, "min").measure("tourniquet.time", ones, "min")
    told = flags_of(note)["value-conflict"][0].suggestion
    assert told is None if proposed is None else told and told.startswith(f"{proposed} min")


def test_motion_before_and_after_is_no_conflict(note, flags_of):
    note.measure("knee.flexion", 105, "deg", when="before").measure("knee.flexion", 130, "deg", when="after")
    note.measure("knee.flexion", 90, "deg")
    assert "value-conflict" not in flags_of(note)
    assert "value-conflict" in flags_of(note.measure("knee.flexion", 140, "deg", when="after"))


def test_several_tears_and_tunnels_have_several_sizes(note, flags_of):
    note.measure("tunnel.diameter", 9, site="femoral").measure("tunnel.diameter", 10, site="tibial")
    note.measure("tear.length", 14).measure("tear.length", 9)
    for compartment in ("medial", "lateral"):
        note.say("findings", structure=f"{compartment}-meniscus", finding="tear")
    assert "value-conflict" not in flags_of(note)


def test_one_tear_has_one_length(note, flags_of):
    note.measure("tear.length", 14).measure("tear.length", 24)
    assert "value-conflict" in flags_of(note.say("findings", structure="medial-meniscus", finding="tear"))


def test_three_values_make_one_doubt(note, flags_of):
    for value in (60, 90, 75):
        note.measure("tourniquet.time", value, "min")
    assert [f.facts for f in flags_of(note)["value-conflict"]] == [("m1", "m2", "m3")]


def test_tourniquet(note, flags_of):
    # AST guideline on pneumatic tourniquets, rev. 2018, p. 19 (text read): notify the surgeon at two hours.
    assert "tourniquet-long" not in flags_of(note.measure("tourniquet.time", 120, "min"))
    assert "tourniquet-long" in flags_of(Note().measure("tourniquet.time", 121, "min"))
    assert "tourniquet-long" in flags_of(
        Note().measure("tourniquet.time", 95, "min"), config=CheckConfig(tourniquet_long=90)
    )


def test_size_of_an_instrument(note, flags_of):
    note.say("devices", kind="cannula", size=80, unit="mm")
    assert flags_of(note)["unit-suspect"][0].facts == ("d1",)


def test_a_check_can_be_turned_off(note, flags_of):
    note.measure("tear.length", 18, None)
    assert "unit-missing" not in flags_of(note, config=CheckConfig(off=frozenset({"unit-missing"})))
