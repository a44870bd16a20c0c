"""Every number with a unit goes somewhere: into a fact or a device, is known as something else, or is asked about."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from extractor.facts.account import account, closed

from .reading import reading

NOTE = (
    "Left knee, lateral meniscus transplant with the thirty degree scope. He is forty years old. The defect measured "
    "nineteen millimeters. An eight millimeter cannula was placed. If the rim is over four millimeters we trim it. "
    "The blue thing on the wall was seventy millimeters."
)
WORDS = (
    "knee meniscus defect rim graft tear tunnel cannula anchor left one two three ten eighteen no wait sorry nineteen "
    "twenty by and or to half about maybe at least up to millimeters mm cm 19 3.5 degrees minutes , . - between from "
    "percent weeks size of if usually we could was were measured wide long deep tourniquet after brace flexion for the"
).split()


def test_where_each_number_went() -> None:
    found = [(e.went, e.read_as) for e in account(reading(NOTE))]
    assert [went for went, _ in found] == ["known", "known", "fact", "device", "aside", "flagged"]
    assert [read_as for _, read_as in found][2:4] == ["defect.ap_length", "cannula"]


@pytest.mark.parametrize("text", ["The harbor was twelve meters deep.", "MRI of the hip: a cyst of nine millimeters."])
def test_a_note_about_other_things_is_outside(text: str) -> None:
    assert {e.went for e in account(reading(text))} == {"outside"}


def test_a_number_that_was_let_fall_is_flagged() -> None:
    """Whatever part of the program loses a fact, its number is asked about."""
    whole = reading(NOTE)
    lost = replace(whole, drafts=(), claims=(), taken=frozenset())
    assert Counter(e.went for e in account(lost))["open"] == 3  # the scope, the defect and the cannula
    mended = closed(lost)
    assert {f.check for f in mended.flags} == {"unread-number"} and len(mended.flags) == len(whole.flags) + 3
    assert not [e for e in account(mended) if e.went == "open"]
    assert closed(whole) == whole


def test_the_same_value_without_its_site_is_further_evidence() -> None:
    """The graft's tunnel said with its bone and without: one fact, both places, and nothing left over."""
    text = "A six millimeter tunnel was drilled for the meniscus root. Tibial meniscus root tunnel, six millimeters."
    assert {e.went for e in account(reading(text))} == {"fact"}


@settings(max_examples=100, deadline=None)
@given(st.lists(st.sampled_from(WORDS), max_size=60).map(" ".join))
def test_the_account_closes_on_any_words_of_the_trade(text: str) -> None:
    assert not [e for e in account(reading("Knee " + text)) if e.went == "open"]
