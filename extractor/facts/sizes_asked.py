"""The size of a device that was asked for: 'Cannula, what size is that one? Eight millimeter.'."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.grammar.limits import limits_of
from extractor.language.clause_words import OPEN_QUESTION, SENTENCE_END
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

WITHIN = 9
"""Tokens from a device to the end of the question about it, at most."""
LEADS = frozenset({"a", "an", "the", "it", "is", "'s", "that", "this", "about", ","})
"""Words of an answer ahead of its number."""
LED = 3
HOW_MANY = frozenset({"many", "long", "far", "deep", "much", "often"})
"""What asks so wants no diameter."""
CLOSED = SENTENCE_END | {",", "one", "please"}


def size_asked(case: Case, device: Concept) -> list[Quantity]:
    """The size that answers a question about a device, or nothing."""
    words = case.words
    end = next((i for i in range(device.end, min(device.end + WITHIN, len(words))) if words[i] == "?"), None)
    if end is None:
        return []
    opens = device.start
    while opens and words[opens - 1] not in SENTENCE_END:
        opens -= 1
    asked = words[opens:end]
    if OPEN_QUESTION.isdisjoint(asked) or not HOW_MANY.isdisjoint(asked):
        return []
    if any(c.start != device.start for name in ("device", "tool") for c in case.within(name, opens, end)):
        return []
    q = next(iter(case.numbers(end, end + 1 + LED)), None)
    if q is None or not LEADS.issuperset(words[end + 1 : q.start]):
        return []
    sizes = [p for p in case.numbers(q.start, q.end + WITHIN) if p is q or (p.product and p.product == q.product)]
    behind = sizes[-1].end
    closed = behind >= len(words) or words[behind] in CLOSED
    return sizes if closed and _is_size(case, q) else []


def _is_size(case: Case, q: Quantity) -> bool:
    if q.dimension == "length" or q.product is not None:
        return True
    constants = limits_of(case.grammar.folders).constants
    least, most = (constants[f"bare-device-size-{end}"].value for end in ("least", "most"))
    return q.dimension is None and q.kind == "quantity" and q.value is not None and least <= q.value <= most
