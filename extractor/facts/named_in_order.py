"""Numbers in a row whose names follow in the same order: '21 by 8 millimeters, along the rim and then rim to edge'.

Each of 'A by B', or of 'A and B', is named by the word that stands in its place among those behind the row.
"""

from __future__ import annotations

from itertools import pairwise

from extractor.facts.case import Case
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

LENGTH = "length"
AHEAD = 8
"""Words from the row to the first of its names, at most."""
BETWEEN = 4
"""Words between two names, or two numbers of a row, at most."""
JOINS = frozenset({
    ",", "and", "then", "by", "x", "from", "the", "first", "second", "next", "in", "its", "-", ":", "third", "finally",
})  # fmt: skip
SPLITS = frozenset({".", "?", ";", "!", "\n"})
STATED = frozenset({"which", "but", "because", "measured", "measuring", "when", "leaving", "keeping"})
"""Words behind which something else is told."""


def named_in_order(case: Case, row: list[Quantity]) -> dict[int, tuple[int, int]]:
    """By where a number stands, the words that name it, for the numbers of one sentence that are named so."""
    found: dict[int, tuple[int, int]] = {}
    for first, last in _rows(case, row):
        numbers = row[first:last]
        after = row[last] if last < len(row) else None
        names = _behind(case, numbers, after) or _ahead(case, numbers, row[first - 1] if first else None, after)
        if names:
            found |= {q.start: (c.start, c.end) for q, c in zip(numbers, names, strict=True)}
    return found


def _rows(case: Case, row: list[Quantity]) -> list[tuple[int, int]]:
    """Numbers of one kind with nothing between them but what joins them, two or more."""
    rows, start = [], 0
    for i in range(1, len(row) + 1):
        if i == len(row) or not _joined(case, row[i - 1], row[i]):
            if i - start > 1:
                rows.append((start, i))
            start = i
    return rows


def _joined(case: Case, a: Quantity, b: Quantity) -> bool:
    between = case.words[a.end : b.start]
    alike = a.dimension in {None, LENGTH} and b.dimension in {None, LENGTH} and a.kind == b.kind
    return alike and 0 < len(between) <= 2 and JOINS.issuperset(between)


def _within(case: Case, start: int, end: int) -> list[Concept]:
    return sorted(case.within("dimension", start, end), key=lambda c: c.start)


def _in_order(case: Case, names: list[Concept], numbers: list[Quantity]) -> bool:
    """Whether as many names as numbers stand side by side, and none of them twice."""
    gaps = [case.words[a.end : b.start] for a, b in pairwise(names)]
    joined = all(0 < len(gap) <= BETWEEN and JOINS.issuperset(gap) for gap in gaps)
    return joined and len(names) == len(numbers) == len({c.key for c in names})


def _apart(case: Case, start: int, end: int) -> bool:
    """Whether too much stands between the names and the numbers, or something else is told."""
    led = case.words[start:end]
    return len(led) > AHEAD or not STATED.isdisjoint(led) or not SPLITS.isdisjoint(led)


def _behind(case: Case, numbers: list[Quantity], after: Quantity | None) -> list[Concept]:
    """'21 by 8, along the rim and then rim to edge'; not '10 by 25 deep, width 8'."""
    sentence = case.sentence(numbers[0].start)
    names = _within(case, numbers[-1].end, after.start if after is not None else sentence.end)
    if not _in_order(case, names, numbers) or _apart(case, numbers[-1].end, names[0].start):
        return []
    if after is not None and not case.within("dimension", after.end, sentence.end):
        return []  # the last name is the next number's
    opens = max(sentence.start, numbers[0].start - BETWEEN)
    return [] if case.within("dimension", opens, numbers[0].start) else names


def _ahead(case: Case, numbers: list[Quantity], before: Quantity | None, after: Quantity | None) -> list[Concept]:
    """'Length and width of the gap, 21 and 8'."""
    sentence = case.sentence(numbers[0].start)
    names = _within(case, before.end if before is not None else sentence.start, numbers[0].start)
    if not _in_order(case, names, numbers) or _apart(case, names[-1].end, numbers[0].start):
        return []
    end = after.start if after is not None else sentence.end
    return [] if case.within("dimension", numbers[-1].end, end) else names
