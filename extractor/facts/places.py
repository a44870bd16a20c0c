"""Words of place as sutures have them: regions and surfaces, also in letters and in words that are plain English.

'PS' is posterior superior, 'white up, blue down' lie above and below, 'white over blue' says both in one word. Such
words are of place only beside a suture's color or number, and where their opposite stands near; else 'up' and 'as' are
plain English.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from extractor.facts.case import Case
from extractor.facts.looks import Look
from extractor.language.concepts import Concept

CODE, LOOSE = "position-code", {"surface": "suture-surface", "region": "suture-region"}
HOLDS = frozenset({"one", "is", "was", "the", "on", ":", "-", "it", "'s", "to", "and", "equals"})
"""Plain words that may stand between a suture and its loose word of place, beside those of `before-place`."""
FREE = frozenset({",", ".", ";", "\n", ":", ")", "(", "and", "in", "at", "on", "for", "then", "again", "too", "with"})
"""What may follow a loose word of place: 'up' before anything else goes with that ('up the cannula')."""
TISSUES = ("tissue", "suture-tissue")
GAP = 2
OPPOSITE = 2
"""Sentences off, at most, in which the opposite of a place is told, each of four corners having its own."""
COUNTED = frozenset({"one", "1", "two", "2"})
BOTH = "both"
"""The region of what is told of both ends at once; it is never written to a record."""
CODES_NEAR = 5
ENDS = {"back": "posterior", "rear": "posterior", "front": "anterior"}
ALONE = 8
"""Tokens of a sentence that only says where sutures were begun, at most."""
BOTH_WORDS, ALL_WORDS = frozenset({"both", "each", "either", "every"}), frozenset({"all", "both"})
TIED = frozenset({"to", "with"})


@dataclass(frozen=True)
class Places:
    """All regions and surfaces that a suture may have, in order, as concepts of the lists `region` and `surface`."""

    regions: tuple[Concept, ...]
    surfaces: tuple[Concept, ...]

    def within(self, list_name: str, start: int, end: int) -> list[Concept]:
        """Those of one list that open in the tokens `[start, end)`."""
        found = self.regions if list_name == "region" else self.surfaces
        starts = self._starts[list_name == "region"]
        first = bisect_left(starts, start)
        return list(found[first : bisect_left(starts, end, first)]) if start < end else []

    @cached_property
    def _starts(self) -> tuple[list[int], list[int]]:
        """Where the surfaces open, and the regions."""
        return [c.start for c in self.surfaces], [c.start for c in self.regions]


def find_places(case: Case, looks: Sequence[Look]) -> Places:
    """The words of place of a note."""
    regions, surfaces = list(case.by_list["region"]), list(case.by_list["surface"])
    for code in _codes(case):
        region, surface = code.name.split("-")
        regions.append(Concept("region", region, code.start, code.end))
        surfaces.append(Concept("surface", surface, code.start, code.end))
    if looks:
        regions += _both_ends(case, looks, surfaces) + _begun_at(case, surfaces)
    if looks or case.by_list["tie"]:
        beside = _Beside(case, looks)
        surfaces = _stacked(case, looks, surfaces) + beside.loose("surface", surfaces)
        regions += beside.loose("region", regions)
    return Places(tuple(sorted(regions, key=_order)), tuple(sorted(surfaces, key=_order)))


def _start(c: Concept) -> int:
    return c.start


def _both_ends(case: Case, looks: Sequence[Look], surfaces: Sequence[Concept]) -> list[Concept]:
    """'At both ends white on top', 'all top sutures are white', where no end is named by itself."""
    found: list[Concept] = []
    above = {c.start for c in surfaces}
    for sentence in {s.number: s for s in (case.sentence(k.start) for k in looks)}.values():
        if any(case.within(name, sentence.start, sentence.end) for name in ("region", "tie", CODE)):
            continue
        words = case.words
        named = case.grammar.plain_words("end-word")
        for i in range(sentence.start, sentence.end - 1):
            ends = words[i] in BOTH_WORDS and words[i + 1] in named
            if ends or (words[i] in ALL_WORDS and i + 1 in above):
                found.append(Concept("region", BOTH, i, i + 2 if ends else i + 1))
    return found


def _begun_at(case: Case, surfaces: Sequence[Concept]) -> list[Concept]:
    """'I started in the back.', 'Starting from the back, white on top, blue below': the end that is told of first.

    Only where no end is named by itself; and where it is but the start of a row no surfaces are told beside it.
    """
    found = []
    opens = sorted(c.start for c in surfaces)
    for c in case.by_list["row-start"]:
        end = ENDS.get(case.words[c.end - 1])
        sentence = case.sentence(c.start)
        if end is None or any(case.within(name, sentence.start, sentence.end) for name in ("region", CODE)):
            continue
        told = bisect_left(opens, sentence.end) - bisect_left(opens, sentence.start)
        alone = sentence.end - c.end <= 1 and sentence.end - sentence.start <= ALONE
        if told > 1 or alone:
            found.append(Concept("region", end, c.end - 1, c.end))
    return found


def _order(c: Concept) -> tuple[int, int]:
    return c.start, -c.end


def _codes(case: Case) -> list[Concept]:
    """Quadrants in letters, where two different ones are used."""
    found = case.by_list[CODE]
    plain = [c for c in found if not _is_word(case, c)]
    known = [c.start for c in plain]
    for c in found:
        near = bisect_left(known, c.start - CODES_NEAR) < bisect_left(known, c.start + CODES_NEAR + 1)
        if _is_word(case, c) and near and (_beside_color(case, c) or case.words[c.start - 1] in TIED):
            plain.append(c)
    return plain if len({c.name for c in plain}) > 1 else []


def _is_word(case: Case, c: Concept) -> bool:
    """Whether letters are written as the word they also are: 'as'."""
    return case.note.tokens.said(c.start, c.end) == "as"


def _beside_color(case: Case, c: Concept) -> bool:
    return bool(case.within("color", c.start - 1, c.start) or case.within("color", c.end, c.end + 2))


class _Beside:
    """Loose words of place that stand beside a suture, opposites of one another."""

    def __init__(self, case: Case, looks: Sequence[Look]) -> None:
        self.case = case
        self.opens = {k.start for k in looks}
        self.ends = {k.end for k in looks}

    def loose(self, list_name: str, sure: Sequence[Concept]) -> list[Concept]:
        """Those of a list that count; one alone does not, since its opposite tells that it is of place."""
        known = {c.start for c in sure}
        found = [c for c in self.case.by_list[LOOSE[list_name]] if c.start not in known and self._counts(c, list_name)]
        by_sentence: dict[int, set[str]] = {}
        for c in [*found, *sure]:
            by_sentence.setdefault(self.case.sentence(c.start).number, set()).add(c.name)
        kept = []
        for c in found:
            number = self.case.sentence(c.start).number
            near = set().union(*(by_sentence.get(n, set()) for n in range(number - OPPOSITE, number + OPPOSITE + 1)))
            if len(near & ({"superior", "inferior"} if list_name == "surface" else {"anterior", "posterior"})) > 1:
                kept.append(Concept(list_name, c.name, c.start, c.end))
        return kept

    def _counts(self, c: Concept, list_name: str) -> bool:
        words, after = self.case.words, self.case.words[c.end : c.end + 1]
        free = not after or after[0] in FREE or c.end in self.opens or self._place_opens(c.end)
        free = free or (
            after == ["the"] and any(self._place_opens(c.end + n) for n in (1, 2))
        )  # 'behind the one above'
        if list_name == "region" and self._of_tissue(c):
            return True
        if list_name == "region":
            return free and (c.end in self.opens or after != ["in"]) and self._heads(c)
        if c.end in self.opens or (after == [":"] and c.end + 1 in self.opens):
            return True  # 'up white, down blue'
        return free and (self._behind_a_look(c.start) or words[c.start - 1] in COUNTED)

    def _of_tissue(self, c: Concept) -> bool:
        """'The rim behind received blue': right behind the word for what sutures lie in."""
        near = (t for name in TISSUES for t in self.case.within(name, c.start - 2, c.start))
        return any(t.end == c.start for t in near)

    def _heads(self, c: Concept) -> bool:
        """Whether a region stands at a pause or behind a look: '..., behind white up' or tying goes on there."""
        before = self.case.words[c.start - 1] if c.start else "."
        lead = before in FREE or before in {"first", "one", "those", "ones"}
        lead = lead or before in self.case.grammar.plain_words("turning")  # 'coming forward, green on top'
        return lead or not self.ends.isdisjoint((c.start - 1, c.start))

    def _behind_a_look(self, start: int) -> bool:
        holds = HOLDS | self.case.grammar.plain_words("before-place")
        for i in range(start, max(start - GAP - 1, 0), -1):
            if i in self.ends:
                return True
            if self.case.words[i - 1] not in holds:
                return False
        return False

    def _place_opens(self, at: int) -> bool:
        lists = ("region", "surface", *LOOSE.values(), CODE)
        return any(self.case.within(name, at, at + 1) for name in lists)


def _stacked(case: Case, looks: Sequence[Look], surfaces: list[Concept]) -> list[Concept]:
    """'White over blue' gives each of the two its surface; said of the first alone ('white above, blue below') not."""
    out, taken = list(surfaces), {c.start for c in surfaces}
    pairs = [(a, b) for a, b in zip(looks, looks[1:], strict=False) if b.start == a.end + 1]
    above, below = case.grammar.plain_words("lies-over"), case.grammar.plain_words("lies-under")
    for a, b in pairs:
        upper, lower = case.words[a.end] in above, case.words[a.end] in below
        said_of_b = {b.end, b.end + 1} & taken or not (above | below).isdisjoint(case.words[b.end : b.end + 1])
        if not (upper or lower) or said_of_b:
            continue
        out = [c for c in out if c.start != a.end]
        first, second = ("superior", "inferior") if upper else ("inferior", "superior")
        out += [Concept("surface", first, a.start, a.end), Concept("surface", second, b.start, b.end)]
    return sorted(out, key=_order)


def ordered(case: Case, list_name: str, start: int, end: int) -> Iterator[tuple[Concept, Concept]]:
    """'From back to front', 'top to bottom': the two words of a list that say an order."""
    found = case.within(list_name, start, end)
    for a, b in zip(found, found[1:], strict=False):
        if case.words[a.end : b.start] in (["to"], ["to", "the"]) and a.name != b.name:
            yield a, b
