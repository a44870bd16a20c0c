"""Sentences that are only talk, 'Okay.', 'Thank you.': they part nothing, and are read over.

What was told before them goes on behind them, so that they must not count as a sentence between. An answer to a
question stays, and so does a word of praise behind a mere name: 'The medial meniscus. Good.' is a finding.
"""

from __future__ import annotations

from extractor.language.clause_words import FINITE_RUN_ON, SENTENCE_END
from extractor.language.tokens import Tokens

TALK = frozenset({"okay", "ok", "all", "right", "alright", "thank", "you", "thanks", "please", "so", "next"})
PRAISE = frozenset({"good", "very", "great", "perfect", "nice", "lovely", "super", "excellent", "cool", "fine"})
ALONE = frozenset({"right", "you", "very", "all", "please", "so", "next"})
"""Words that alone may be more than talk: a side, or a heading."""
MOST = 3
"""Words of such a sentence, at most."""
TELLS = 4
"""Words of a sentence that tells something, where it has no verb, at least."""


def without_interjections(tokens: Tokens) -> Tokens:
    """The tokens without the sentences of talk inside a paragraph."""
    words = tokens.words
    left_out: set[int] = set()
    start = before = 0
    for i, word in enumerate(words):
        if word not in SENTENCE_END:
            continue
        if start and word in {".", "!"} and words[start - 1] in {".", "!"} and _is_talk(words[start:i]):
            if TALK.issuperset(words[start:i]) or _tells(words[before : start - 1]):
                left_out.update(range(start, i + 1))
                start = i + 1
                continue
        before, start = start, i + 1
    return tokens.without(left_out) if left_out else tokens


def _is_talk(said: list[str]) -> bool:
    return 0 < len(said) <= MOST and (TALK | PRAISE | {","}).issuperset(said) and not ALONE.issuperset(said)


def _tells(said: list[str]) -> bool:
    return len(said) >= TELLS or not FINITE_RUN_ON.isdisjoint(said)
