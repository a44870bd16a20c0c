from __future__ import annotations

from extractor.checks import Schedule
from extractor.facts.draft import Span

from .builders import Note


def test_a_case_without_side_is_flagged_and_a_text_without_case_is_not(note, flags_of):
    assert "side-missing" not in flags_of(note)
    assert flags_of(note.steps("portal-placement"))["side-missing"][0].severity == "stop"


def test_a_plan_or_a_declined_step_makes_no_case(note, flags_of):
    assert not flags_of(note.say("steps", code="graft-cut", status="declined"))


def test_both_sides_said(note, flags_of):
    note.say("laterality", "left knee", value="left").say("laterality", "right leg", value="right")
    flag = flags_of(note.say("laterality", "left side", value="left"))["side-conflict"][0]
    assert "left ('left knee')" in flag.message
    assert "right ('right leg')" in flag.message
    assert [e.text for e in flag.evidence] == ["left knee", "left side", "right leg"]


def test_side_of_a_procedure_against_the_side_of_the_case(note, flags_of):
    flag = flags_of(note.transplant(side="right"))["side-conflict"][0]
    assert set(flag.facts) == {"side", "p1"}
    assert "side-conflict" not in flags_of(Note().transplant(side="bilateral"))
    assert "side-conflict" not in flags_of(Note().transplant(side="right", status="prior"))


def test_schedule_given_with_the_note(note, flags_of):
    note.transplant()
    assert "side-conflict" not in flags_of(note, Schedule(side="left", compartment="medial"))
    assert "scheduled for right" in flags_of(note, Schedule(side="right"))["side-conflict"][0].message
    assert "compartment-conflict" in flags_of(note, Schedule(compartment="lateral"))


def test_a_meniscus_graft_of_the_other_side(note, flags_of):
    note.transplant().say("grafts", source="allograft", side="right", identifier="A1")
    assert flags_of(note)["side-conflict"][0].facts == ("side", "g1")


def test_two_compartments_said_for_one_procedure(note, flags_of):
    note.transplant(compartment_others=[{"value": "lateral", "spans": (Span(0, 4, "by hand"),)}])
    flag = flags_of(note)["compartment-conflict"][0]
    assert "medial and also lateral" in flag.message


def test_repair_of_the_meniscus_that_was_found_intact(note, flags_of):
    note.say("laterality", value="left")
    note.say("procedures", code="meniscus-repair", side="left", compartment="lateral")
    note.say("findings", structure="lateral-meniscus", finding="intact")
    assert "compartment-conflict" not in flags_of(note)
    note.say("findings", structure="medial-meniscus", finding="tear")
    assert flags_of(note)["compartment-conflict"][0].facts == ("p1", "f1", "f2")


def test_two_procedures_in_two_compartments_are_no_conflict(note, flags_of):
    note.say("laterality", value="left")
    note.say("procedures", code="meniscus-repair", compartment="lateral")
    note.say("procedures", code="partial-meniscectomy", compartment="medial")
    assert "compartment-conflict" not in flags_of(note)
