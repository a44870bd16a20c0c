"""Identifiers spelt out in letters and digits: 'M as in Mary four four one nine'."""

from __future__ import annotations

from collections.abc import Sequence

from extractor.language.numbers import Number, number_words
from extractor.language.quantity_words import quantity_words
from extractor.language.units import unit_words

NOT_LAST = frozenset({"a", "i", "o"})
"""Letters that are words, and so end no identifier."""
PLAIN = frozenset(
    {"the", "and", "for", "was", "is", "has", "on", "with", "at", "to", "as", "no", "not", "in", "by", "from"}
)
"""Short words that are no letters of an identifier."""
IS = frozenset({"is", "'s", "was", "its", ",", "."})
"""What may stand before the 'number' of a graft: a verb, or a pause."""
BEARER_WITHIN = 10
"""Tokens from a graft to the number that it is said to be, at most."""
FIGURES = 3
"""Digits after such letters, at least."""
LONGEST = 32
"""Characters of an identifier, at most."""


def identifier_at(words: Sequence[str], i: int) -> Number | None:
    """The identifier that opens at token `i`, or after 'is' or a colon.

    Returns:
        A number of form "identifier" whose text is the identifier, or None where fewer than two
        characters, or no digit, follow.
    """
    lexicon = quantity_words()
    skipped = 0
    while i < len(words) and words[i] in lexicon.identifier_skip and skipped < 3:
        i, skipped = i + 1, skipped + 1
    start, end = i, i
    text: list[str] = []
    ends: list[tuple[int, str]] = []
    while end < len(words) and len(text) < LONGEST:
        sign, size = _signs(words, end)
        if sign is None and not text and _opens_figures(words, end):
            sign = _letters(words[end])
        if sign is None and words[end] in lexicon.identifier_dash and text:
            following = (_sign(words[end + 1]) or _letters(words[end + 1])) if end + 1 < len(words) else None
            if following is None:
                break
            text.append("-")
            end += 1
            if _sign(words[end]) is None:
                text.append(following)
                end += 1
                ends.append((end, words[end - 1]))
            continue
        if sign is None:
            break
        text.append(sign)
        end += size
        spelt = lexicon.spelling.at(words, end) if sign.isalpha() else None
        if spelt and spelt[1] < len(words) and words[spelt[1]][:1] == sign.lower():
            end = spelt[1] + 1
        ends.append((end, words[end - 1]))
    while ends and (ends[-1][1] in NOT_LAST or _opens_measure(words, ends[-1][0])):
        ends.pop()
        while text and text[-1] == "-":
            text.pop()
        text.pop()
    joined = "".join(text).strip("-")
    if not ends or len(joined) < 2 or not any(c.isdigit() for c in joined):
        return None
    return Number(start, ends[-1][0], None, form="identifier", text=joined, whole=False)


def named_identifier_at(words: Sequence[str], i: int) -> Number | None:
    """The identifier right behind the graft it is of, nothing said between: 'Graft N L 7780', 'allograft K M 40915'."""
    lead = words[i + 1] if i + 1 < len(words) else ""
    if words[i] not in quantity_words().identifier_bearers or len(lead) != 1 or not lead.isalpha() or lead in NOT_LAST:
        return None
    found = identifier_at(words, i + 1)
    digits = sum(c.isdigit() for c in found.text) if found else 0
    return found if found and found.start == i + 1 and digits >= FIGURES else None


def numbered_at(words: Sequence[str], i: int) -> Number | None:
    """'The allograft was thawed, it is number one one eight dash four zero', 'numbered 1288': with its graft near."""
    if words[i] != "numbered" and (words[i] != "number" or i == 0 or words[i - 1] not in IS):
        return None
    if quantity_words().identifier_bearers.isdisjoint(words[max(0, i - BEARER_WITHIN) : i]):
        return None
    found = identifier_at(words, i + 1)
    digits = sum(c.isdigit() for c in found.text) if found else 0
    return found if found and found.start == i + 1 and digits >= FIGURES else None


def _opens_measure(words: Sequence[str], end: int) -> bool:
    """Whether the last digit belongs to a unit after it: '... seven four eight millimeter cannula'."""
    return unit_words().at(words, end, words[end - 1].isdigit()) is not None


def _opens_figures(words: Sequence[str], i: int) -> bool:
    """Whether letters stand before the figures of a typed identifier, with room between: 'TA 20119'."""
    figures = words[i + 1] if i + 1 < len(words) else ""
    return figures.isdecimal() and len(figures) >= FIGURES and words[i] not in PLAIN


def _letters(word: str) -> str | None:
    """A few letters between the dashes of a typed identifier: the QX of '88-QX-204'."""
    return word.upper() if word.isascii() and word.isalpha() and len(word) <= 4 else None


def _signs(words: Sequence[str], i: int) -> tuple[str | None, int]:
    """What the words at `i` spell, and how many they are; two figures may be one number: 'nineteen oh four T'."""
    sign = _sign(words[i])
    if sign is not None:
        return sign, 1
    cardinals = number_words().cardinals
    value = cardinals.get(words[i], 0)
    unit = cardinals.get(words[i + 1], 0) if i + 1 < len(words) and value >= 20 else 0
    if not 10 <= value <= 90:
        return None, 1
    return (str(value + unit), 2) if 1 <= unit <= 9 else (str(value), 1)


def _sign(word: str) -> str | None:
    """What a word spells: one letter, one digit, or figures."""
    lexicon = number_words()
    value = lexicon.cardinals.get(word)
    if value is not None:
        return str(value) if value < 10 else None
    if word in lexicon.zeros:
        return "0"
    hyphened = "-" in word and word[0] != "-" and word.isascii() and word.replace("-", "").isalnum()
    if hyphened and any(c.isdigit() for c in word):
        return word.upper()
    if word.isascii() and word.isalnum() and (len(word) == 1 or any(c.isdigit() for c in word)):
        return word.upper()
    return None
