"""Sizes that were read off a scan, and not in the joint: 'the MRI made it twenty millimeters'."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.language.quantities import Quantity

WITHIN = 8
"""Words from a size to the scan that it was read off, at most."""
SCAN = frozenset({"cue:scan-word"})
BY = frozenset({"on", "by", "from", "off", "per", "in"})
OURS = frozenset({"i", "we"})
"""Whoever dictates measures in the joint: 'the MRI gave twenty, I make it fifteen'."""


def read_off_scan(case: Case, q: Quantity) -> bool:
    """Whether a size is read off a scan: one is named before it in its sentence, and nothing to measure with.

    Not the second size where the speaker, or a word of `this-case`, sets it against the scan's. Or it is said to be
    one behind it: 'twenty-two millimeters had been estimated on the MRI'.
    """
    sentence = case.sentence(q.start)
    scan = case.latest(SCAN, q.start, sentence.start)
    if scan:
        if any(c.name == "ruler" for c in case.within("thing", scan.end, q.start)):
            return False
        theirs = max((n.end for n in case.numbers(scan.end, q.start) if n.dimension), default=0)
        ours = theirs and not OURS.isdisjoint(case.words[theirs : q.start])
        return not ours and not (theirs and case.within("this-case", theirs, q.start))
    behind = [c for c in case.within("cue", q.end, min(q.end + WITHIN, sentence.end)) if c.name == "scan-word"]
    by_it = bool(behind) and bool(BY & set(case.words[behind[0].start - 2 : behind[0].start]))
    return by_it and not case.finals(q.end, behind[0].start) and not case.within("thing", q.end, behind[0].start)
