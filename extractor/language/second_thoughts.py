"""Which numbers a mere sound of doubt puts right: 'fifty-five, hmm, sixty degrees', not 'eight, um, thirty long'."""

from __future__ import annotations

from collections.abc import Sequence

from extractor.language.measure import Measure

SOUNDS = frozenset({",", "hmm", "hm", "mm", "mmm", "ah", "well", "so"})
"""What stands between two numbers where nothing is said in words."""
TIMES = 2
"""How much larger than the other one of the two may be. This project's choice."""


def only_sounds(words: Sequence[str], a: Measure, b: Measure) -> bool:
    """Whether only a sound stands between two values that are too far apart to be meant for the same thing."""
    if a.value is None or b.value is None or not SOUNDS.issuperset(words[a.end : b.start]):
        return False
    low, high = sorted((abs(a.value), abs(b.value)))
    return high > TIMES * low
