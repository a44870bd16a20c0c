"""From a transcript to the annotated note, the one thing the facts are read from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

from extractor.grammar.packs import Grammar
from extractor.language.asserted import Assertion
from extractor.language.assertion import assert_clauses
from extractor.language.clause_words import SENTENCE_END
from extractor.language.clauses import Segmentation, segment
from extractor.language.commands import apply_commands
from extractor.language.concepts import Concept
from extractor.language.fragments import stops_within
from extractor.language.interjections import without_interjections
from extractor.language.lexicon import THINGS, Lexicon, lexicon_of, openers_of, subject_of
from extractor.language.numbers import atom_at
from extractor.language.pauses import with_lost_stops, without_stray_pauses
from extractor.language.quantities import Quantity, read_quantities
from extractor.language.repair import Repair, repair
from extractor.language.tokens import Tokens, tokenize
from extractor.language.un_words import with_un_parted


@dataclass(frozen=True)
class Note:
    """A note as the later steps see it: tokens with their characters, and what was laid over them.

    `grammar` are the packs that read it: of all in force, those about the note's subject.
    """

    tokens: Tokens
    quantities: tuple[Quantity, ...]
    concepts: tuple[Concept, ...]
    segments: Segmentation
    assertions: tuple[Assertion, ...]
    grammar: Grammar
    repairs: tuple[Repair, ...] = ()

    @property
    def words(self) -> list[str]:
        """The reading tokens."""
        return self.tokens.words


IDENTIFIER = "identifier"
"""The letters of one are no words: the W of 'tissue number W three eight zero five' is no width."""
SPAN = "span"
"""The list that is found in the units of numbers, too."""


def _outside(concepts: list[Concept], quantities: list[Quantity], words: list[str]) -> list[Concept]:
    """Concepts that are not a number's own words: the 'mm' of '9 mm' is no medial meniscus.

    What was measured stays, where it stands before a correction: 'twelve long, no, fourteen', or before a second
    thought: 'three millimeters wide, maybe four'; so does the list `span`, which tells how long something holds: the
    'weeks' of 'six weeks'.
    """
    if not quantities:
        return concepts
    inside = {i for q in quantities if q.dimension or q.kind == IDENTIFIER for i in range(q.start, q.end)}
    last = {i for q in quantities if q.dimension for i in range(q.number_start if q.earlier else q.start, q.end)}
    last |= {i for q in quantities if q.kind == IDENTIFIER for i in range(q.start, q.end)}
    last -= {i for q in quantities if q.is_hedged_length for i in range(q.start, q.end - 1) if words[i + 1] == PAUSE}
    units = {i for q in quantities if q.dimension for i in range(q.number_end, q.end)}
    return [
        c
        for c in concepts
        if c.start
        not in (last if c.list == "dimension" else inside)  # as nearly all; only their ends may be a number's
        or not (last if c.list == "dimension" else inside).issuperset(range(c.start, c.end))
        or (c.list == SPAN and c.start in units)
    ]


PAUSE = ","
AT_ONCE = 4
"""Tokens of a number put right as it is said, at most: 'measured eight, no, eight and a half, and ...'."""


def _opens(words: list[str], q: Quantity) -> int:
    """Where a number opens: 'Cut at twenty two. No. Nineteen.' and 'Made nine. No, 8 wide.' are one thought each."""
    last = q.end >= len(words) or words[q.end] in SENTENCE_END
    stops = (i for i in range(q.start, q.number_start) if words[i] in SENTENCE_END)
    over = any(atom_at(words, i + 1) is None for i in stops)  # a word of correction, not the number said again
    at_once = q.dimension is not None and q.number_start - q.start <= AT_ONCE
    at_once = at_once and SENTENCE_END.isdisjoint(words[q.start : q.number_start])
    return q.start if q.earlier and (last or over or at_once) else q.number_start


def _found(words: list[str], lexicon: Lexicon) -> tuple[list[Quantity], list[Concept]]:
    quantities = read_quantities(words)
    return quantities, _outside(lexicon.finder.find(words), quantities, words)


def annotate(text: str, grammar: Grammar, repairs: Sequence[Repair] = ()) -> Note:
    """Read a note's words: quantities, concepts, sentences, clauses and what each asserts.

    `repairs` are readings of misheard words that were decided by the sound (`extractor.second_reading`).
    """
    heard = with_lost_stops(tokenize(text), partial(openers_of, grammar), partial(openers_of, grammar, THINGS))
    grammar = subject_of(heard.words, grammar)
    lexicon = lexicon_of(grammar)
    heard = with_un_parted(heard, grammar)
    repaired, found = repair(heard, grammar, repairs)
    tokens = without_interjections(without_stray_pauses(apply_commands(repaired, lexicon.punctuation)))
    quantities, concepts = _found(tokens.words, lexicon)
    if within := stops_within(tokens.words, concepts, quantities, grammar):
        tokens = tokens.replaced(within, PAUSE)
        quantities, concepts = _found(tokens.words, lexicon)
    words = tokens.words
    segments = segment(words, concepts, lexicon.coordinating, [(_opens(words, q), q.end) for q in quantities], grammar)
    years = frozenset(q.start for q in quantities if q.kind == "year")
    assertions = assert_clauses(segments, concepts, words, grammar, years)
    return Note(tokens, tuple(quantities), tuple(concepts), segments, assertions, grammar, found)
