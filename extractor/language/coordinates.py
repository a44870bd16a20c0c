"""What a comma or an 'and' joins: 'the medial meniscus, the lateral meniscus and the ACL' is one thought."""

from __future__ import annotations

from extractor.language.clause_words import FINITE
from extractor.language.concepts import Concept

LIKEWISE = "as-was"
OWN_VERB = [[w] for w in sorted(FINITE)]
JOINING = frozenset({"the", "a", "an", "both", ",", "and", "or"})


def join_coordinates(words: list[str], concepts: list[Concept], coordinating: frozenset[str], level: list[int]) -> None:
    """Take back the openings between concepts that are told in one list; `coordinating` are the lists that may be."""
    listed = [c for c in concepts if c.list in coordinating]
    by_start: dict[int, list[Concept]] = {}
    for c in listed:
        by_start.setdefault(c.start, []).append(c)
    likewise = {c.end for c in concepts if c.list == LIKEWISE}
    found = {c.start for c in concepts if c.list == "finding"}
    told = {c.end for c in concepts if c.list == "finding"}
    for left in listed:
        if _was_led(words, left.start, likewise):
            likewise.add(left.end)
        i, joined = left.end, False
        while i < len(words) and i - left.end < 5:
            if joined and i in by_start:
                break
            if words[i] in {",", "and", "or", "/", "as", "well"}:
                joined = True
            elif words[i] not in {"the", "a", "an", "both"}:
                break
            i += 1
        right = [c for c in by_start.get(i, ()) if c.list == left.list]
        # '... intact and so were both menisci, | and the ACL was torn': what has a verb of its own was not so
        apart = left.end in likewise and any(c.end in found or words[c.end : c.end + 1] in OWN_VERB for c in right)
        # 'a tear of the ACL, | a PCL intact': each with its own
        apart = apart or (_found_of(words, left.start, told) and any(c.end in found for c in right))
        if joined and right and not apart:
            for j in range(left.end, i + 1):
                level[j] = 0


def _was_led(words: list[str], start: int, likewise: set[int]) -> bool:
    """Whether 'so was' or 'as were' stands before a name, or before the one it is joined to."""
    while start > 0 and start not in likewise and words[start - 1] in JOINING:
        start -= 1
    return start in likewise


def _found_of(words: list[str], start: int, told: set[int]) -> bool:
    """Whether what was found of a structure stands before it: 'a complete tear | of the | ACL'."""
    at = start - (words[start - 1] in {"the", "his", "her"}) if start else 0
    return at > 0 and words[at - 1] in {"of", "in"} and at - 1 in told
