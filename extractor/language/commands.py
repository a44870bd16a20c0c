"""Spoken punctuation: 'comma', 'period', 'new paragraph' become the sign they name.

A speaker either dictates punctuation or does not. 'Period' and 'colon' are also plain words,
so they are taken as signs only in a note that dictates punctuation more than once. A spoken hyphen
joins words as a typed one does: 'inside hyphen out' is 'inside', 'out'.
"""

from __future__ import annotations

from collections.abc import Sequence

from extractor.language.numbers import atom_at
from extractor.language.tokens import Tokens

SIGNS = {
    "full-stop": ".", "comma": ",", "colon": ":", "semicolon": ";", "question-mark": "?", "exclamation-mark": "!",
    "new-line": "\n", "hyphen": "-", "slash": "/", "open-bracket": "(", "close-bracket": ")",
}  # fmt: skip
NOT_AFTER = frozenset({"a", "the", "this", "that", "long", "short", "per"})
NOT_BEFORE = frozenset({"of"})
TENS = range(20, 100, 10)


def apply_commands(tokens: Tokens, phrases: dict[tuple[str, ...], str]) -> Tokens:
    """Replace spoken punctuation by its sign.

    Args:
        tokens: the note's reading tokens.
        phrases: what is said (as words) to the name of the sign, from the grammar's list `punctuation`.
    """
    openers = {p[0] for p in phrases}
    if openers.isdisjoint(tokens.words):
        return tokens
    longest = max((len(p) for p in phrases), default=0)
    hits: dict[int, tuple[int, str]] = {}
    i, words = 0, tokens.words
    while i < len(words):
        step = 1
        if words[i] in openers:
            for size in range(min(longest, len(words) - i), 0, -1):
                name = phrases.get(tuple(words[i : i + size]))
                if name and not _plain_word(words, i, i + size):
                    hits[i], step = (size, SIGNS[name]), size
                    break
        i += step
    if len(hits) < 2:
        hits = {at: hit for at, hit in hits.items() if hit[0] > 1}
    if not hits:
        return tokens
    out = Tokens(tokens.text)
    i = 0
    while i < len(words):
        size, sign = hits.get(i, (1, words[i]))
        if sign != "-" or not _joins(words, i, i + size):
            out.add(sign, tokens.starts[i], tokens.ends[i + size - 1])
        i += size
    return out


def _plain_word(words: list[str], start: int, end: int) -> bool:
    before = words[start - 1] if start else ""
    after = words[end] if end < len(words) else ""
    return before in NOT_AFTER or after in NOT_BEFORE


def _joins(words: Sequence[str], start: int, end: int) -> bool:
    """Whether a hyphen stands within a word, or within a suture's size ('two dash zero'): not a range, nor a code."""
    if not start or end >= len(words) or not (words[start - 1].isalpha() and words[end].isalpha()):
        return False
    before, after = atom_at(words, start - 1), atom_at(words, end)
    if before is None or after is None:
        return len(words[start - 1]) > 1 and len(words[end]) > 1
    if before.value in TENS:
        return after.value in range(1, 10)  # 'twenty dash one'
    beside = (words[start - 2] if start > 1 else "", words[end + 1] if end + 1 < len(words) else "")
    return after.value == 0 and not any(word and atom_at([word], 0) for word in beside)
