"""How stitches are laid, where that is said: 'vertical mattress', 'verticals', never the way of a tear."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.facts.stitch_counts import clear
from extractor.language.concepts import Concept
from extractor.language.corrections import taken_back

DENIED = (["rather", "than"], ["instead", "of"], ["and", "not"], [",", "not"], ["as", "opposed", "to"])
"""'Horizontals rather than verticals': the way behind is none of theirs."""
MATTRESSES = frozenset({"vertical_mattress", "horizontal_mattress"})


def ways_said(case: Case, start: int, end: int) -> list[tuple[str, int]]:
    """Configurations said in the tokens `[start, end)`, by name and first token, each said once.

    'Vertical' alone is one too where stitches are told, and never of a tear; 'a simple cinch' is a cinch.
    """
    said = [c for c in case.within("way", start, end) if not _of_a_tear(case, c)]
    found = {c.start: c.name for c in said if not _denied(case, c)}
    full = [c for c in case.within("configuration", start, end) if not _denied(case, c)]
    for c in full:
        found = {i: n for i, n in found.items() if not c.start <= i < c.end}
        if not (c.name == "simple" and any(o.start == c.end for o in full)):
            found[c.start] = c.name
    laid = {i for i, n in found.items() if n in MATTRESSES}
    found = {i: n for i, n in found.items() if n != "loop" or not laid & {i - 1, i - 2}}  # 'vertical loop sutures'
    laid_so = sorted(found.items())
    put_right = {i for (i, _), (k, _) in zip(laid_so, laid_so[1:], strict=False) if taken_back(case.words, i + 1, k)}
    return [(name, i) for i, name in laid_so if i not in put_right]


def _denied(case: Case, way: Concept) -> bool:
    return any(case.words[max(0, way.start - len(lead)) : way.start] == lead for lead in DENIED)


def _of_a_tear(case: Case, way: Concept) -> bool:
    """'A vertical tear', 'the horizontal cleavage'."""
    after = [c for name in ("thing", "finding", "tear-pattern") for c in case.within(name, way.end, way.end + 3)]
    after = [c for c in after if c.list != "tear-pattern" or not case.within("way", c.start, c.start + 1)]
    return any(c.name != "stitch" and c.end > way.end for c in after) and clear(case, way.end, after[0].start)
