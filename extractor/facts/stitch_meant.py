"""Numbers of stitches that were only meant, and the number that was used: 'Instead of four sutures I needed five'."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.facts.case import Case
from extractor.facts.stitch_counts import Head, is_count
from extractor.facts.stitch_zones import Zone, holds, zones_of
from extractor.language.clauses import Span
from extractor.language.quantities import Quantity

BEHIND_USED = frozenset({
    "were", "was", "went", "in", "to", "of", "instead", "did", "altogether", "finally", "rather", "already", "had",
    "after", "before", "for", "so", "because",
})  # fmt: skip
"""Plain words that may follow a bare number of stitches that were used: 'five were placed', 'five in the end'."""
AT = frozenset({"at", "by"})
"""'I put it back at five': a place."""


def really_told(case: Case, sentence: Span, heads: Sequence[Head]) -> Sequence[Head]:
    """Of the numbers told with what was only meant, those of what was done: 'I planned four stitches and used five'.

    Where the technique stands in a clause that tells of no deed, it is that of the number used all the same.
    """
    meant = [h for h in heads if _is_meant(case, h)]
    if not meant:
        return _elsewhere(case, sentence, heads)
    if done := [h for h in heads if h not in meant]:
        ways = case.within("technique", sentence.start, sentence.end)
        lent = bool(ways) and not any(holds(case, c.start) for c in ways) and any(h.noun for h in meant)
        return [replace(h, used=lent) for h in done]
    if len(heads) != 1:
        return heads
    used = used_behind(case, meant[0].end, sentence)
    return [_used(meant[0], used)] if used else heads


def used_behind(case: Case, start: int, sentence: Span) -> Quantity | None:
    """The first bare number from a token on that a sentence says was used."""
    return next((q for q in case.numbers(start, sentence.end) if _is_used(case, q)), None)


def zone_used(case: Case, before: Span, meant: Sequence[Head], sentence: Span) -> list[Zone]:
    """The share of the sentence `before`, its one number only meant, with the number used that `sentence` says."""
    own = [h for h in meant if h.noun and not h.used]
    if len(meant) != 1 or not own or holds(case, own[0].start):
        return []
    used = [q for q in case.numbers(sentence.start, sentence.end) if _is_used(case, q)]
    if len(used) != 1:
        return []
    zones = zones_of(case, before, meant, quadrants=False)
    return [replace(z, heads=(_used(own[0], used[0]),)) for z in zones if z.heads][:1]


def _elsewhere(case: Case, sentence: Span, heads: Sequence[Head]) -> Sequence[Head]:
    """'No all-inside stitches in the body, four in the horn': denied of one place, the technique is that of another."""
    if "technique" not in sentence.lists:
        return heads
    ways = case.within("technique", sentence.start, sentence.end)
    denied = bool(ways) and all(case.assertion(c.start).declines(c.start) for c in ways)
    denied = denied and bool(case.within("region", ways[0].start, heads[0].start)) if heads else False
    if not denied or any(h.noun or h.way != "counted" for h in heads):
        return heads
    return [replace(h, used=True) for h in heads]


def _is_meant(case: Case, head: Head) -> bool:
    told = case.assertion(head.start)
    return told.mood != "performed" or (head.way == "counted" and told.declines(head.start))


def _used(meant: Head, q: Quantity) -> Head:
    return replace(meant, start=q.start, end=q.end, count=int(q.value or 0), used=True)


def _is_used(case: Case, q: Quantity) -> bool:
    """Whether a bare number is told as done: '... and used five, all-inside', 'five were placed'."""
    behind = case.words[q.end : q.end + 1]
    bare = is_count(q) and q.product is None and (not behind or not behind[0][:1].isalnum() or behind[0] in BEHIND_USED)
    named = case.words[q.start] == "one" and case.words[q.start - 2] in {"a", "an", "the"}  # 'on a longer one, yes'
    return bare and not named and case.words[q.start - 1] not in AT and holds(case, q.start)
