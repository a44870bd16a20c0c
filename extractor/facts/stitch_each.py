"""One number said of several places: 'three on each surface', 'above and below, three each'."""

from __future__ import annotations

from itertools import pairwise

from extractor.facts.case import Case
from extractor.facts.plans import OPPOSITE
from extractor.language.clauses import Span
from extractor.language.concepts import POINTING, Concept

APIECE = frozenset({"each", "apiece"})
ENDS = frozenset({",", ".", ";", ":", ")", "\n"})
LISTING = frozenset({*POINTING, ",", "and", "the", "in", "at", "on", "to", "then", "also", "&"})
"""What stands between places that are listed."""
COUNTED = ("technique", "configuration", "way", "form", "stitch-noun", "material")
FILLING = frozenset({"of", "suture", "-"})
LONGEST = 12
"""Tokens of what a number counts, at most."""
SURFACES = {"superior", "inferior"}


def each_places(case: Case, sentence: Span) -> tuple[str, tuple[str, ...]]:
    """The places a sentence lists, of which one number is said: the two surfaces, or several regions."""
    if {c.name for c in case.within("surface", sentence.start, sentence.end)} == SURFACES:
        return "surface", ("superior", "inferior")
    regions = [c for c in case.within("region", sentence.start, sentence.end) if c.name not in OPPOSITE]
    names = tuple(dict.fromkeys(c.name for c in regions))
    joined = len(names) == len(regions) > 1 and all(_listed(case, a, b) for a, b in pairwise(regions))
    return ("region", names) if joined else ("", ())


def _listed(case: Case, a: Concept, b: Concept) -> bool:
    return all(w in LISTING for w in case.words[a.end : b.start])


def is_apiece(case: Case, end: int, sentence: Span) -> bool:
    """Whether a number ending at a token is said of each of several places: 'three each'.

    Between them stands nothing but what the number counts.
    """
    at = _behind_noun(case, end, sentence)
    if case.words[at : at + 1] and case.words[at] in APIECE:
        kind, places = each_places(case, sentence)
        return bool(kind) and len(places) > 1
    faced = case.words[at : at + 3]
    on = len(faced) == 3 and faced[0] in {"on", "to", "from"} and faced[1] in {"each", "either", "both"}
    return on and faced[2] in {"surface", "surfaces"}


def _behind_noun(case: Case, end: int, sentence: Span) -> int:
    """The token behind what a number counts: its technique, its way of stitching, its size, its noun."""
    at = end
    while at < min(end + LONGEST, sentence.end):
        named = [c.end for name in COUNTED for c in case.within(name, at, at + 1)]
        named += [q.end for q in case.numbers(at, at + 1) if q.kind == "suture-size" and q.start == at]
        if not named and case.words[at] not in FILLING:
            return at
        at = max([*named, at + 1])
    return at
