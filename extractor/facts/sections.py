"""The headings of a report, and the text under each."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.language.concepts import Concept


def headings(case: Case) -> list[Concept]:
    """Headings said: at the start of a sentence and followed by a colon, or alone on a line."""
    found = []
    for c in case.by_list["heading"]:
        at_start = c.start == 0 or case.note.segments.level[c.start] == 3
        after = case.words[c.end] if c.end < len(case.words) else "\n"
        if after == ":" and (at_start or case.words[c.start - 1] in {".", "\n", ":", ","}):
            found.append(c)
        elif at_start and after == "\n" and c.end - c.start <= 4:
            found.append(c)
    return found


def sections(case: Case) -> list[tuple[Concept, int, int]]:
    """Each heading with the tokens of the text under it."""
    found = headings(case)
    out = []
    for heading, after in zip(found, (*found[1:], None), strict=False):
        start = heading.end + 1
        end = after.start if after else len(case.words)
        out.append((heading, start, _until_paragraph(case, start, end)))
    return out


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
