"""Pauses that a recognizer writes as full stops or commas where no thought ends: 'cut at. Nineteen', '18 by 9. Millimeters'.

Only signs that cannot be meant are left out: after an article or 'of', between a word that wants a number and the
number, and between a number and its unit.
"""

from __future__ import annotations

from extractor.language.numbers import atom_at
from extractor.language.quantity_words import quantity_words
from extractor.language.tokens import Tokens
from extractor.language.units import unit_words

SIGNS = frozenset({".", ","})
OPEN = frozenset({"the", "a", "an", "of", "by"})
"""No thought ends with these, whatever follows."""
WANTS = frozenset({
    "to", "at", "from", "with", "through", "for", "is", "was", "are", "were", "measures", "measured", "about",
    "approximately", "between",
})  # fmt: skip
"""No thought ends with these before a number."""

SPELT_OUT = 5
"""Letters of a unit's name at least; shorter ones are abbreviations of other things too ('MM' is a meniscus)."""


def without_stray_pauses(tokens: Tokens) -> Tokens:
    """Leave out the signs of pauses inside a phrase."""
    words = tokens.words
    stray = {i for i in range(1, len(words) - 1) if words[i] in SIGNS and _is_stray(words, i)}
    if not stray:
        return tokens
    out = Tokens(tokens.text)
    for i, word in enumerate(words):
        if i not in stray:
            out.add(word, tokens.starts[i], tokens.ends[i])
    return out


def _is_stray(words: list[str], i: int) -> bool:
    before, sign = words[i - 1], words[i]
    if before in OPEN:
        single = sign == "." and i > 1 and len(before) == 1 and words[i - 2] in {".", ","}  # 'vitamin a.'
        return not single and words[i + 1] != "\n"
    if before in WANTS:
        return atom_at(words, i + 1) is not None
    return sign == "." and _cut_from_unit(words, i)


def _cut_from_unit(words: list[str], i: int) -> bool:
    """Whether a number stands before the full stop and its unit, alone or with what it measures, after it."""
    if not (words[i - 1].isdigit() or atom_at(words, i - 1) is not None):
        return False
    unit = unit_words().at(words, i + 1, False)
    if unit is None or not words[i + 1].isalpha() or len(words[i + 1]) < SPELT_OUT:  # "grade 1. MM torn"
        return False
    after = words[unit[1]] if unit[1] < len(words) else "."
    return after not in quantity_words().time_goes_on and not after[:1].isdigit()
