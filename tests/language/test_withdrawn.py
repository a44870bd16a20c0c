"""Statements taken back as a whole, against words that are only put right. Worded for these tests."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar

from .test_assertion import mood


@pytest.mark.parametrize(
    "text",
    [
        "The rim was rasped. Delete that sentence.",
        "The rim was rasped. Strike that, wrong patient.",
        "The rim was rasped, scratch that, it belongs to the other note.",
        "The rim was rasped. Forget what I just said.",
        "The rim was rasped. The joint was washed. Forget what I said about the rim.",
        "The rim was rasped. Erase. The graft was cut to length.",
        "The rim was rasped, strike that, we have not touched it.",
        "The rim was rasped. No, take that out again, that was the case before.",
        "The rim was rasped. Ignore that. The graft was then cut to length.",
    ],
)
def test_a_statement_taken_back_is_none(text: str, grammar: Grammar) -> None:
    assert mood(text, "rasped", grammar) == "withdrawn"


@pytest.mark.parametrize(
    "text",
    [
        "The rim was rasped on the left, scratch that, right.",
        "The rim was rasped. Nurse, cancel the second set.",
        "The rim was rasped. Do not forget the clot.",
        "The graft was cut. Delete that sentence. The rim was rasped.",
        "We remove it and the rim was rasped.",
        "The rim was rasped. Forget the fringe in front.",
        "The rim was rasped. A piece lies behind it. I remove it.",
        "The rim was rasped and a piece came loose. Take it out.",
        "The rim was rasped. Drop it, it is not sharp.",
        "The rim was rasped. Forget what I said about the tourniquet.",
    ],
)
def test_what_is_only_put_right_stays(text: str, grammar: Grammar) -> None:
    assert mood(text, "rasped", grammar) == "performed"
