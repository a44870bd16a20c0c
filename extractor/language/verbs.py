"""Whether a clause has a verb of its own, as far as its words show it."""

from __future__ import annotations

from extractor.language.clause_words import FINITE
from extractor.language.clauses import Span

PAST = frozenset({"was", "were", "did", "had", "took", "made", "went", "gave", "kept", "held", "drove", "came"})
MOST_NOUN = 3
"""'Bed' and 'red' are no verbs."""


def verbal(words: list[str], clause: Span) -> bool:
    """Whether a clause has a verb of its own."""
    said = words[clause.start : clause.end]
    return any(w in FINITE or w in PAST or (len(w) > MOST_NOUN and w.endswith("ed")) for w in said)
