"""When a motion was measured, where one sentence tells of two moments: 'zero to 110 before and zero to 130 after'."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.language.quantities import Quantity

MOMENT = "moment"


def moment_beside(case: Case, quantity: Quantity) -> str | None:
    """The moment of a number in a sentence that names several: each behind its number, or each before.

    None where the sentence names one at most; then that holds.
    """
    sentence = case.sentence(quantity.start)
    told = case.within(MOMENT, sentence.start, sentence.end)
    if len({c.name for c in told}) < 2:
        return None
    numbers = case.numbers(sentence.start, sentence.end)
    behind = next((c.name for c in told if c.start >= quantity.end), None)
    before = next((c.name for c in reversed(told) if c.end <= quantity.start), None)
    if numbers and numbers[0].start < told[0].start:
        return behind or before
    own = {c.name: c for c in told}  # 'At the end zero to 120, it had been zero to 140 before': each has one beside it
    nearer = behind and not any(quantity.end <= q.start < own[behind].start for q in numbers)
    taken = before and any(own[before].end <= q.start < quantity.start for q in numbers)
    return behind if nearer and taken else before
