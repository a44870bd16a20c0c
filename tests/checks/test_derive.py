"""Computations against published figures, or against geometry."""

from __future__ import annotations

import math

import pytest

from extractor.checks.derive import (
    arc_to_chord,
    chord_to_arc,
    derive_all,
    expected_graft_length,
    radiographic_length,
    rim_radius,
    share_replaced,
)
from extractor.grammar.limits import Limits

from .builders import Note


@pytest.mark.parametrize(("compartment", "share"), [("medial", 0.8), ("lateral", 0.7)])
def test_pollard_rule(limits: Limits, compartment, share):
    # Pollard 1995, Arthroscopy 11:684-7, as quoted by another page (original not read): 80% medial, 70% lateral.
    note = (
        Note()
        .transplant(compartment=compartment, extent="whole")
        .measure("plateau.ap_length", 45)
        .measure("plateau.ml_width", 32)
    )
    derived = {d.what: d for d in derive_all(note.record(), limits)}
    assert derived["meniscus.ap_length"].value == pytest.approx(45 * share)
    assert derived["meniscus.width"].value == 32
    assert derived["meniscus.ap_length"].rests_on == ("m1",)
    assert "not read" in derived["meniscus.ap_length"].source and derived["meniscus.ap_length"].verified == "SEC"


def test_pollard_gives_menisci_of_the_size_that_was_measured(limits: Limits):
    # Plateau of about 45 mm (from memory); lateral menisci measured 30.8 (women) to 33.7 mm (men), AJSM 2011;39:1541-7,
    # abstract read; Pollard's largest error was 8.4%, as quoted by another page.
    share, error = limits.constants["lateral-length-share"].value, limits.constants["sizing-error"].value
    length = radiographic_length(45, share)
    assert 30.8 * (1 - error / 100) <= length <= 33.7 * (1 + error / 100)


def test_a_plateau_measured_across_both_compartments_gives_no_meniscus_width(limits: Limits):
    # McDermott, JBJS Br 86-B Supp IV (abstract read): whole plateaus 69.2 to 88.4 mm wide, mean 78.5.
    for width in (69.2, 78.5, 88.4):
        note = Note().transplant(extent="whole").measure("plateau.ml_width", width)
        assert not derive_all(note.record(), limits)


@pytest.mark.parametrize("compartment", ["medial", "lateral"])
def test_rim_radius_gives_back_the_published_arc_and_horn_distance(limits: Limits, compartment):
    # Murlimanju 2012, Clin Ter (abstract read): outer border and distance from horn to horn, each measured.
    rim = limits.constants[f"{compartment}-rim-length"].value
    horns = limits.constants[f"{compartment}-horn-distance"].value
    radius = rim_radius(rim, horns)
    assert arc_to_chord(rim, radius) == pytest.approx(horns, abs=1e-6)
    # A circle of that radius is about as wide as menisci were measured to be long: lateral 30.8 to 33.7 mm in
    # AJSM 2011;39:1541-7, medial 40 to 45 mm in a review (both abstracts read); within a fifth.
    low, high = {"medial": (40, 45), "lateral": (30.8, 33.7)}[compartment]
    assert low * 0.8 <= 2 * radius <= high * 1.2


def test_arc_and_chord():
    # By geometry: a diameter subtends half the circle, a side of the regular hexagon a sixth.
    assert chord_to_arc(40, 20) == pytest.approx(math.pi * 20)
    assert chord_to_arc(20, 20) == pytest.approx(2 * math.pi * 20 / 6)
    assert arc_to_chord(chord_to_arc(13, 20), 20) == pytest.approx(13)
    with pytest.raises(ValueError, match="no chord of 50 mm"):
        chord_to_arc(50, 20)
    with pytest.raises(ValueError, match="no arc"):
        rim_radius(10, 20)


def test_graft_and_share_of_a_segment(limits: Limits):
    note = Note().transplant().measure("defect.ap_length", 20).measure("defect.root_distance", 14)
    derived = {d.what: d for d in derive_all(note.record(), limits)}
    assert derived["graft.ap_length"].value == expected_graft_length(20, 1) == 19
    assert derived["graft.root_distance"].value == 14
    assert derived["meniscus.share_replaced"].value == pytest.approx(share_replaced(20, 99.06))
    assert 0 < derived["defect.chord"].value < 20


def test_the_allowance_said_is_part_of_what_it_rests_on(limits: Limits):
    note = Note().transplant().measure("defect.ap_length", 20)
    note.measure("graft.allowance", 2, role="reference", purpose="case")
    graft = next(d for d in derive_all(note.record(), limits) if d.what == "graft.ap_length")
    assert (graft.value, graft.rests_on) == (18, ("m1", "m2"))
