"""Which numbers a mere sound of doubt puts right: 'fifty-five, hmm, sixty degrees', not 'eight, um, thirty long'."""

from __future__ import annotations

from collections.abc import Sequence

from extractor.language.measure import Measure
from extractor.language.quantity_words import QuantityWords
from extractor.language.sorts import follows_noun

SOUNDS = frozenset({"hmm", "hm", "mm", "mmm", "ah", "well"})
"""What stands between two numbers where nothing is said in words."""
TIMES = 2
"""How much larger than the other one of the two may be. This project's choice."""


def is_doubted(words: Sequence[str], a: Measure, b: Measure, lexicon: QuantityWords) -> bool:
    """Whether only a sound of doubt stands between two values, near enough to be meant for the same thing."""
    between = words[a.end : b.start]
    if SOUNDS.isdisjoint(between) or not (SOUNDS | {","}).issuperset(between) or not a.value or not b.value:
        return False
    low, high = sorted((abs(a.value), abs(b.value)))
    return a.bare and high <= TIMES * low and not (b.unit is None and follows_noun(words, b.end, lexicon))
