"""Words that ties are told with, and drafts of ties."""

from __future__ import annotations

from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.language.concepts import POINTING

THE = POINTING | {"the", "its"}
RULE = "<position> tied to <position>"
JOINERS = frozenset({"/", "to", "with", "and", "onto", "against", "-", "on"})
MEETING = frozenset({"meets", "joins", "finds", "meet", "join", "met", "joined", "weds", "marries"})
"""Verbs by which one end comes to another: 'posterior superior meets posterior inferior, knot'."""
SPARE = frozenset({
    "the", "was", "were", "is", "then", "one", "ones", "its", "together", "got", "gets", "goes", "went", "down", "had",
    "been", "has", "have", "are", "be", "being", "belongs", "of", "end", "itself", "directly", "straight", "i", "we",
    "it", "that", "which", "opposite", "number", *POINTING,
})  # fmt: skip
"""Plain words that may stand between two ends that are tied, beside those of the list `tie-filler`."""
LOOKS = ("form", "color", "pattern")
MUTUAL = (["each", "other"], ["one", "another"], ["together"])
MUTUAL_WITHIN = 10


def spoken_between(case: Case, start: int, end: int, also: Sequence[str] = ()) -> list[str]:
    """The tokens `[start, end)` without what only calls or colors a suture, or is of the lists `also`."""
    called = {i for name in (*LOOKS, *also) for c in case.within(name, start, end) for i in range(c.start, c.end)}
    return [w for i, w in enumerate(case.words[start:end], start) if i not in called or w in JOINERS]


def joined(case: Case, spoken: Sequence[str]) -> bool:
    """Whether words say only that what stands around them is tied together."""
    return set(spoken) <= JOINERS | MEETING | SPARE | case.grammar.plain_words("tie-filler")


def mutual(case: Case, start: int, end: int) -> int | None:
    """Where two things are said to be tied to each other in the tokens `[start, end)`."""
    words = case.words
    return next((i for i in range(start, end) for said in MUTUAL if words[i : i + len(said)] == said), None)


def is_meant(case: Case, token: int) -> bool:
    """Whether what stands at a token was done in this case."""
    assertion = case.assertion(token)
    return assertion.mood == "performed" and not assertion.declines(token)


def tie(case: Case, ends: Sequence[str], start: int, end: int, rule: str = RULE, certainty: float = 0.9) -> FactDraft:
    """A tie between two positions, said in the tokens `[start, end)`."""
    return FactDraft("ties", {"between": list(ends)}, case.spans([(start, end)], rule), certainty)


def ends_of(draft: FactDraft) -> list[str]:
    """The two positions a tie joins."""
    between = draft.fields["between"]
    return [str(end) for end in between] if isinstance(between, list) else []
