"""The headings of a report, and the text under each."""

from __future__ import annotations

from functools import lru_cache

from extractor.facts.case import Case
from extractor.language.concepts import Concept

ROOM = 2
"""Characters before a heading in the middle of a line, at least."""
ANNOUNCED = frozenset({"heading", "header"})
"""A heading may be dictated as one: 'Heading surgeon. Doctor Example.'"""
LEAST_DICTATED = 3
"""Headings that stand as sentences of their own, at least; fewer may be plain words."""


def headings(case: Case) -> list[Concept]:
    """Headings said: before a colon, alone on a line, or alone in a sentence where several are so."""
    found, dictated = [], []
    for c in case.by_list["heading"]:
        at_start = c.start == 0 or case.note.segments.level[c.start] == 3
        after = case.words[c.end] if c.end < len(case.words) else "\n"
        if after == ":" and (at_start or case.words[c.start - 1] in {".", "\n", ":", ","} or _set_apart(case, c)):
            found.append(c)
        elif at_start and after == "\n" and c.end - c.start <= 4:
            found.append(c)
        elif after in {".", ","} and _announced(case, c):
            found.append(c)
        elif after == "." and at_start:
            dictated.append(c)
    if len({c.name for c in dictated}) >= LEAST_DICTATED:
        found += dictated
    return sorted(found, key=lambda c: c.start)


def _announced(case: Case, heading: Concept) -> bool:
    """Whether a heading is said to be one: 'Heading surgeon.', 'Heading, surgeon.'."""
    before = heading.start - (case.words[heading.start - 1] == ",") - 1
    return before >= 0 and case.words[before] in ANNOUNCED


def _set_apart(case: Case, heading: Concept) -> bool:
    """Whether room as of a table stands before a heading: 'EBL: 25 mL   COMPL: none'."""
    tokens = case.note.tokens
    return bool(heading.start) and tokens.starts[heading.start] - tokens.ends[heading.start - 1] >= ROOM


@lru_cache(maxsize=2)
def sections(case: Case) -> tuple[tuple[Concept, int, int], ...]:
    """Each heading with the tokens of the text under it; several ask for them of one note."""
    found = headings(case)
    out: list[tuple[Concept, int, int]] = []
    for heading, after in zip(found, (*found[1:], None), strict=False):
        start = heading.end + 1
        end = after.start if after else len(case.words)
        if case.words[heading.end : start] in (["."], [","]) and start < end:
            end = min(end, case.sentence(start).end)
        out.append((heading, start, _until_paragraph(case, start, end)))
    return tuple(out)


def _until_paragraph(case: Case, start: int, end: int) -> int:
    """A heading's text ends with its paragraph, but a numbered list under it goes on."""
    i = start
    while i < end and case.words[i] == "\n":
        i += 1
    while i < end:
        if case.words[i] == "\n" and not _numbered(case, i + 1):
            return i
        i += 1
    return end


def _numbered(case: Case, i: int) -> bool:
    return i + 1 < len(case.words) and case.words[i].isdigit() and case.words[i + 1] in {".", ")"}
