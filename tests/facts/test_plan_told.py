"""The plan told in many wordings: load and how long, what a brace allows, how far to bend, when to come back.

The wordings are the project's own; that surgeons say so is common practice, no source.
"""

from __future__ import annotations

import pytest

from .reading import facts

AROUND = "Left knee arthroscopy, lateral meniscus. Portals were made. {} The wounds were closed."
ANGLES = (("ninety degrees", 90), ("ninety", 90), ("60 degrees", 60))
LIMITS = (
    "No flexion greater than {}.", "Flexion to a maximum of {} degrees.", "Bend only to {}.", "Keep flexion below {}.",
    "He must not bend it further than {} degrees.", "Not allowed to flex past {}.", "Maximum {} of flexion.",
    "{} of flexion is the limit.", "The knee is not to be bent more than {}.", "We limit the flexion to {}.",
    "Restrict flexion to {} or less.", "Flexion of more than {} is not permitted.", "Let him bend to {}, not more.",
    "Deep flexion beyond {} is to be avoided.",
)  # fmt: skip
BRACES = ("Brace {}.", "Hinged brace, {}.", "He gets a brace from {} for four weeks.", "Brace unlocked from {}.")
RANGES = (("full extension to ninety degrees", 0, 90), ("zero to ninety", 0, 90), ("30 to 90 degrees", 30, 90))
VISITS = (
    "First check after {}.", "Postoperative check in {}.", "We see each other again in {}.",
    "I would like to see him in {}.",
)  # fmt: skip
SPANS = (("six weeks", 6), ("2 weeks", 2))


def _plan(said: str) -> list[dict[str, object]]:
    text = AROUND.format(said[0].upper() + said[1:])
    assert not facts(text, "measurements"), text
    return facts(text, "plan")


@pytest.mark.parametrize("wording", LIMITS)
def test_a_limit_of_flexion_is_no_motion_reached(wording: str) -> None:
    for angle, degrees in ANGLES:
        said = wording.format(angle).replace("degrees degrees", "degrees")
        assert [(p["item"], p.get("value")) for p in _plan(said)] == [("flexion-limit", degrees)], said


@pytest.mark.parametrize("wording", BRACES)
def test_what_a_brace_allows(wording: str) -> None:
    for span, low, high in RANGES:
        told = [(p["item"], p.get("low"), p.get("high")) for p in _plan(wording.format(span))]
        assert told == [("brace-range", low, high)], span


@pytest.mark.parametrize("wording", VISITS)
def test_when_to_come_back(wording: str) -> None:
    for span, weeks in SPANS:
        assert [(p["item"], p.get("value")) for p in _plan(wording.format(span))] == [("follow-up", weeks)]


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("Brace locked at zero degrees.", [("brace-range", 0, 0)]),
        ("Non weight bearing with two crutches for a total of four weeks.", [("weight-bearing-duration", 4)]),
        ("Toe touch for at least six to eight weeks.", [("weight-bearing-duration", 6, 8)]),
        ("Our usual protocol is six weeks of toe touch, for her I want four weeks.", [("weight-bearing-duration", 4)]),
        ("The standard is zero to ninety in the brace, he gets zero to sixty.", [("brace-range", 0, 60)]),
        ("Showering after two days.", []),
    ],
)
def test_what_holds_today(said: str, expected: list[tuple[object, ...]]) -> None:
    told = [(p["item"], *(p[k] for k in ("value", "low", "high") if k in p)) for p in _plan(said)]
    assert [t for t in told if t[0] != "weight-bearing"] == expected


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("he may put as much weight on it as he likes.", "as-tolerated"),
        ("weight as she can stand it.", "as-tolerated"),
        ("load it as much as pain lets you.", "as-tolerated"),
        ("walk on it freely from tomorrow.", "full"),
        ("nothing on that foot until I see her.", "non"),
    ],
)
def test_load_told_in_plain_words(said: str, value: str) -> None:
    assert ("weight-bearing", value) in [(p["item"], p.get("value")) for p in _plan(said)]
