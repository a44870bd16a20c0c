"""The note as the rules see it: concepts by clause and sentence, and what was last said of each list.

This is the small running context: a clause that leaves the tissue, the structure or the compartment
unsaid takes the one last named, and the evidence says so.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable

from extractor.facts.draft import Span
from extractor.grammar.packs import Grammar
from extractor.language.annotate import Note
from extractor.language.assertion import Assertion
from extractor.language.clauses import Span as Stretch
from extractor.language.concepts import Concept

OTHER_KNEE = Assertion("history")
UNREAL = frozenset({"history", "habit"})
"""Moods whose words do not move the running context."""


class Case:
    """One note with its indexes. Built once a note, then only read."""

    def __init__(self, note: Note, grammar: Grammar) -> None:
        """Index the note's concepts by list and by clause."""
        self.note = note
        self.grammar = grammar
        self.by_list: dict[str, list[Concept]] = defaultdict(list)
        self.in_clause: list[list[Concept]] = [[] for _ in note.segments.clauses]
        for c in note.concepts:
            self.by_list[c.list].append(c)
            self.in_clause[note.segments.clause_at(c.start).number].append(c)
        self._starts = {name: [c.start for c in found] for name, found in self.by_list.items()}
        self._elsewhere = self._other_knee()
        self.keys = frozenset(c.key for c in note.concepts)
        self.clause_keys = [frozenset(c.key for c in own) for own in self.in_clause]

    def _other_knee(self) -> frozenset[int]:
        """Clauses about the knee that is not operated on: a side, its joint, and a word that it is not this one."""
        found = set()
        for side in self.by_list["side"]:
            clause = self.clause(side.start)
            listed = {c.list for c in self.in_clause[clause.number]}
            if "uninvolved" in listed:
                found.add(clause.number)
        return frozenset(found)

    @property
    def words(self) -> list[str]:
        """The reading tokens."""
        return self.note.words

    def clause(self, token: int) -> Stretch:
        """The clause a token lies in."""
        return self.note.segments.clause_at(token)

    def sentence(self, token: int) -> Stretch:
        """The sentence a token lies in."""
        return self.note.segments.sentence_at(token)

    def assertion(self, token: int) -> Assertion:
        """What the clause around a token asserts."""
        number = self.clause(token).number
        return OTHER_KNEE if number in self._elsewhere else self.note.assertions[number]

    def within(self, list_name: str, start: int, end: int) -> list[Concept]:
        """Concepts of one list that open in the tokens `[start, end)`."""
        starts = self._starts.get(list_name)
        if not starts:
            return []
        return self.by_list[list_name][bisect_left(starts, start) : bisect_left(starts, end)]

    def first(self, keys: frozenset[str], start: int, end: int) -> Concept | None:
        """The first concept with one of these keys in the tokens `[start, end)`; of two there the longer."""
        found = [
            c for name in {k.split(":", 1)[0] for k in keys} for c in self.within(name, start, end) if c.key in keys
        ]
        return min(found, key=lambda c: (c.start, -c.end, c.key), default=None)

    def last(self, list_name: str, before: int, floor: int = 0) -> Concept | None:
        """The concept of a list last said before a token, in a clause that is about this operation."""
        starts = self._starts.get(list_name, [])
        for i in range(bisect_left(starts, before) - 1, -1, -1):
            c = self.by_list[list_name][i]
            if c.start < floor:
                return None
            if self.assertion(c.start).mood not in UNREAL:
                return c
        return None

    def nearest(self, list_name: str, token: int, start: int, end: int) -> Concept | None:
        """The concept of a list nearest to a token within `[start, end)`; of two as near the one before."""
        found = self.within(list_name, start, end)
        return min(found, key=lambda c: (distance(c, token), c.start > token), default=None)

    def span(self, start: int, end: int, rule: str) -> Span:
        """Characters of the tokens `[start, end)`, as evidence."""
        tokens = self.note.tokens
        end = max(end, start + 1)
        return Span(tokens.starts[start], tokens.ends[end - 1], rule)

    def spans(self, pieces: Iterable[tuple[int, int]], rule: str) -> tuple[Span, ...]:
        """Several stretches as evidence, the first being the place itself."""
        return tuple(dict.fromkeys(self.span(a, b, rule) for a, b in pieces))


def distance(concept: Concept, token: int) -> int:
    """Tokens between a concept and a token, 0 inside it."""
    if concept.start <= token < concept.end:
        return 0
    return concept.start - token if concept.start > token else token - concept.end + 1
