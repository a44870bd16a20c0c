"""What a suture is, said beside its color and set off: 'the blue one, also a tape', 'another suture, green'.

A look holds what stands at its color. Here it takes the pattern and the form that are only set off from it by a pause,
a pronoun or its place: 'the striped one, black, a tape'; 'the posterior superior tape in the rim, that is the blue'.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.facts.case import Case
from extractor.facts.looks import Look
from extractor.language.concepts import Concept

KINDS = ("pattern", "form")
PLACES = ("region", "surface", "suture-region", "suture-surface", "position-code", "tissue", "suture-tissue")
BETWEEN = frozenset({
    ",", ":", "-", "one", "a", "an", "the", "that", "this", "it", "which", "'s", "is", "was", "being", "also", "again",
    "too", "likewise", "as", "well", "in", "into", "on", "of", "at", "for", "to", "its", "more", "now", "there",
})  # fmt: skip
"""Plain words between a look and what is set off from it, beside its place and those of `place-filler`."""
AGAIN = frozenset({"again", "too", "also", "likewise", "as", "well"})
CLOSING = frozenset({",", ".", ";", ":", "\n", "-", "(", ")", "and", "in", "on", "at", "through", "into", "for", "to"})
"""What follows something set off behind a look; before anything else it goes with that: 'white, tape behind blue'."""
WITHIN = 14
SUTURE = "suture"
LEADS = frozenset({"a", "an", "another", "one", "more", "further", "extra", "single", "next"})
"""'Another suture, green' is one; 'the anterior suture, which is green' is only called so, be it a tape."""
LED_WITHIN = 3


def with_appositions(case: Case, looks: Sequence[Look]) -> list[Look]:
    """The looks with the patterns and forms that are set off from them, each given to one look."""
    if not looks or not any(case.by_list[kind] for kind in KINDS):
        return list(looks)
    given: set[int] = {i for k in looks for i in range(k.start, k.end)}
    out: list[Look] = []
    for n, look in enumerate(looks):
        sentence = case.sentence(look.start)
        floor = max(sentence.start, looks[n - 1].end if n else 0, look.start - WITHIN)
        stop = min(sentence.end, looks[n + 1].start if n + 1 < len(looks) else sentence.end, look.end + WITHIN)
        for kind in KINDS:
            if getattr(look, kind) is None:
                found = _behind(case, kind, look.end, stop, given) or _ahead(case, kind, floor, look.start, given)
                if found:
                    look = replace(look, **{kind: found.name})  # type: ignore[arg-type]
                    given.update(range(found.start, found.end))
        out.append(look)
    return out


def _behind(case: Case, kind: str, start: int, stop: int, given: set[int]) -> Concept | None:
    """'... the blue one, also a tape': set off behind its color, and nothing goes with it but a pause or a place."""
    c = next((c for c in case.within(kind, start, stop) if c.start not in given), None)
    if c is None or not _of_one(case, c) or not _set_off(case, start, c.start, given):
        return None
    end = c.end
    while end < len(case.words) and case.words[end] in AGAIN:
        end += 1
    return c if end >= len(case.words) or case.words[end] in CLOSING else None


def _ahead(case: Case, kind: str, start: int, stop: int, given: set[int]) -> Concept | None:
    """'Another suture, green', 'the striped one, black': set off before its color."""
    c = next((c for c in reversed(case.within(kind, start, stop)) if c.start not in given), None)
    if c is None or not _of_one(case, c) or not _set_off(case, c.end, stop, given):
        return None
    lead = case.words[max(0, c.start - LED_WITHIN) : c.start]
    return None if c.name == SUTURE and LEADS.isdisjoint(lead) else c


def _of_one(case: Case, c: Concept) -> bool:
    """'Tapes' are said of several; a pattern is 'stripes' of one."""
    return c.list != "form" or not case.words[c.end - 1].endswith("s")


def _set_off(case: Case, start: int, stop: int, given: set[int]) -> bool:
    """Whether between two tokens stand only pauses, pronouns and words of place."""
    beside = BETWEEN | case.grammar.plain_words("place-filler")
    placed = {i for name in PLACES for c in case.within(name, start, stop) for i in range(c.start, c.end)}
    return all(i in given or i in placed or case.words[i] in beside for i in range(start, stop))
