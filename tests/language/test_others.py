"""What others did, said or wanted, against what the team does today. Worded for these tests."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar

from .test_assertion import mood


@pytest.mark.parametrize(
    "text",
    [
        "Whoever operated on her rasped the rim.",
        "Her former surgeon rasped the rim.",
        "When we did her twin sister last week the rim was rasped.",
        "In the older brother the rim was rasped.",
        "The left one I did in March, and there we rasped it.",
        "At her first operation, elsewhere, the rim was rasped.",
        "The rim was rasped, that's ten years back.",
        "The doctor who saw him first had washed the joint and rasped it.",
        "Two years back, a plug and a screw were rasped.",
    ],
)
def test_what_others_did_is_of_another_time(text: str, grammar: Grammar) -> None:
    assert mood(text, "rasped", grammar) == "history"


@pytest.mark.parametrize(
    "text",
    [
        "The rep suggests the rim be rasped with his tool.",
        "My partner, by text message, wants the rim rasped.",
        "The nurse asks should I have the rim rasped.",
    ],
)
def test_what_others_want_is_only_considered(text: str, grammar: Grammar) -> None:
    assert mood(text, "rasped", grammar) in {"considered", "conditional"}


@pytest.mark.parametrize(
    "text",
    [
        "The fellow rasped the rim.",
        "His mother agreed, and the rim was rasped.",
        "Seen in March. The rim was rasped.",
        "The nurse asks for the count, I rasped the rim.",
        "When her sister called we rasped the rim.",
        "The patient was advised that the rim was rasped.",
        "Last Tuesday she fell. The rim was rasped.",
    ],
)
def test_the_team_of_today_is_no_other(text: str, grammar: Grammar) -> None:
    assert mood(text, "rasped", grammar) == "performed"
