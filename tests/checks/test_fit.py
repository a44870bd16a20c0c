from __future__ import annotations

import pytest

from extractor.checks import CheckConfig

from .builders import Note

# The usual allowance of 1 mm is common practice, no source (contract, section 8, rule 12).


def case(**graft: object) -> Note:
    note = (
        Note().transplant().measure("defect.ap_length", 20, role="observed").measure("defect.width", 9, role="observed")
    )
    return note.measure("defect.root_distance", 14, role="observed").say(
        "measurements", **{"what": "graft.ap_length", "unit": "mm", "role": "made", **graft}
    )


@pytest.mark.parametrize(
    ("length", "fits"), [(19, True), (18.5, True), (19.5, True), (18, False), (20, False), (23, False)]
)
def test_length_is_a_millimeter_under_within_half_a_millimeter(flags_of, length, fits):
    assert ("graft-length-mismatch" not in flags_of(case(value=length))) == fits


def test_the_message_names_the_numbers_and_the_suggestion_fits(flags_of):
    flag = flags_of(case(value=23))["graft-length-mismatch"][0]
    assert "23 mm" in flag.message and "20 mm" in flag.message and "19 mm" in flag.message
    assert flag.suggestion == "The length of the graft 19 mm, or the length of the defect 24 mm, would fit."
    assert flag.facts == ("m4", "m1")


def test_a_habit_replaces_the_usual_and_the_word_for_this_case_the_habit(flags_of):
    def allowance(note: Note, value: float, purpose: str) -> Note:
        return note.measure("graft.allowance", value, role="reference", purpose=purpose)

    assert "graft-length-mismatch" in flags_of(allowance(case(value=19), 2, "habit"))
    assert "graft-length-mismatch" not in flags_of(allowance(case(value=18), 2, "habit"))
    both = allowance(allowance(case(value=18), 2, "case"), 1, "habit")
    assert "graft-length-mismatch" not in flags_of(both)
    flag = flags_of(allowance(case(value=20), 2, "case"))["graft-length-mismatch"][0]
    assert "less 2 mm (said for this case) gives 18 mm" in flag.message
    assert flag.facts == ("m4", "m1", "m5")


def test_a_graft_said_to_be_cut_over_the_defect_is_due_longer(flags_of):
    def over(note: Note) -> Note:
        return note.measure("graft.allowance", 2, role="reference", purpose="habit", which="over")

    assert "graft-length-mismatch" not in flags_of(over(case(value=22)))
    flag = flags_of(over(case(value=19)))["graft-length-mismatch"][0]
    assert "plus 2 mm (said as the habit) gives 22 mm" in flag.message


def test_a_site_may_set_allowance_and_tolerance(flags_of):
    assert "graft-length-mismatch" not in flags_of(case(value=18), config=CheckConfig(allowance=2))
    assert "graft-length-mismatch" not in flags_of(case(value=21), config=CheckConfig(tolerance=2))


@pytest.mark.parametrize(
    ("graft", "fits"),
    [({"low": 17, "high": 19}, True), ({"low": 16, "high": 18}, False), ({"low": 15}, True), ({"high": 15}, False)],
)
def test_a_range_mismatches_only_outside(flags_of, graft, fits):
    assert ("graft-length-mismatch" not in flags_of(case(**graft))) == fits


def test_width_and_root_distance_are_kept(flags_of):
    note = case(value=19).measure("graft.width", 11).measure("graft.root_distance", 14)
    flags = flags_of(note)
    assert "graft-width-mismatch" in flags and "root-distance-mismatch" not in flags


def test_the_distance_to_each_root_is_compared_with_its_own(flags_of):
    note = case(value=19).measure("defect.anterior_root_distance", 20).measure("graft.anterior_root_distance", 14)
    assert [f.facts for f in flags_of(note)["root-distance-mismatch"]] == [("m6", "m5")]


def test_nothing_is_compared_where_one_half_was_not_said(flags_of):
    assert "graft-length-mismatch" not in flags_of(Note().transplant().measure("graft.ap_length", 23))


def test_of_two_lengths_said_for_the_defect_one_may_fit(flags_of):
    flags = flags_of(case(value=23).measure("defect.ap_length", 24, role="observed"))
    assert "value-conflict" in flags and "graft-length-mismatch" not in flags
