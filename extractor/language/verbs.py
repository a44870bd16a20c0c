"""Whether a clause has a verb of its own, as far as its words show it."""

from __future__ import annotations

from collections.abc import Collection

from extractor.language.clause_words import FINITE
from extractor.language.clauses import Span

PAST = frozenset({"was", "were", "did", "had", "took", "made", "went", "gave", "kept", "held", "drove", "came"})
VERBS = FINITE | PAST
MOST_NOUN = 3
"""'Bed' and 'red' are no verbs."""
NUMBER = "hundred"


def verbal(words: list[str], clause: Span) -> bool:
    """Whether a clause has a verb of its own."""
    return has_verb(words[clause.start : clause.end])


def has_verb(said: Collection[str]) -> bool:
    """Whether some words have a verb among them."""
    if not VERBS.isdisjoint(said):
        return True
    return bool([w for w in said if w[-2:] == "ed" and len(w) > MOST_NOUN and w != NUMBER])
