"""From a transcript to the annotated note, the one thing the facts are read from."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache

from extractor.grammar.inflect import spellings
from extractor.grammar.packs import COVERS, Grammar
from extractor.language.assertion import Assertion, assert_clauses
from extractor.language.clauses import SENTENCE_END, Segmentation, segment
from extractor.language.commands import apply_commands
from extractor.language.concepts import Concept, ConceptFinder
from extractor.language.pauses import without_stray_pauses
from extractor.language.quantities import Quantity, read_quantities
from extractor.language.repair import Repair, repair
from extractor.language.tokens import Tokens, tokenize


@dataclass(frozen=True)
class Note:
    """A note as the later steps see it: tokens with their characters, and what was laid over them."""

    tokens: Tokens
    quantities: tuple[Quantity, ...]
    concepts: tuple[Concept, ...]
    segments: Segmentation
    assertions: tuple[Assertion, ...]
    repairs: tuple[Repair, ...] = ()

    @property
    def words(self) -> list[str]:
        """The reading tokens."""
        return self.tokens.words


@dataclass(frozen=True)
class Lexicon:
    """A grammar's words made ready: built once, used for every note."""

    finder: ConceptFinder
    coordinating: frozenset[str]
    punctuation: dict[tuple[str, ...], str]


@lru_cache(maxsize=8)
def lexicon_of(grammar: Grammar) -> Lexicon:
    """The lexicon of a grammar (a few tenths of a second the first time)."""
    phrases = [
        (entry.pack, list_name, entry.name, words)
        for list_name, entry in grammar.words
        for way in entry.spoken
        for words in _cut(spellings(way))
    ]
    options = grammar.options
    return Lexicon(
        ConceptFinder(phrases, _covered(options), _marked(options, "inside"), _marked(options, "shared")),
        _marked(options, "coordinates"),
        {words: name for _, list_name, name, words in phrases if list_name == "punctuation"},
    )


def _covered(options: Mapping[str, frozenset[str]]) -> dict[str, frozenset[str]]:
    """What each list hides inside its own words: all other lists for `covers`, one for `covers-technique`."""
    marks = {name: {o for o in own if o.startswith(COVERS)} for name, own in options.items()}
    return {name: frozenset(o[len(COVERS) + 1 :] or "*" for o in own) for name, own in marks.items() if own}


def _marked(options: Mapping[str, frozenset[str]], option: str) -> frozenset[str]:
    return frozenset(name for name, own in options.items() if option in own)


def _cut(ways: Iterable[str]) -> Iterable[tuple[str, ...]]:
    for way in ways:
        yield tuple(token for word in way.split() for token in _cut_word(word))


@cache
def _cut_word(word: str) -> tuple[str, ...]:
    """A word as the tokenizer cuts it; one of a dozen thousand ways of saying is made of few words."""
    return tuple(tokenize(word).words)


def _outside(concepts: list[Concept], quantities: list[Quantity]) -> list[Concept]:
    """Concepts that are not a number's own words: the 'mm' of '9 mm' is no medial meniscus.

    What was measured stays, where it stands before a correction: 'twelve long, no, fourteen'.
    """
    inside = {i for q in quantities if q.dimension for i in range(q.start, q.end)}
    last = {i for q in quantities if q.dimension for i in range(q.number_start if q.earlier else q.start, q.end)}
    return [
        c for c in concepts if not all(i in (last if c.list == "dimension" else inside) for i in range(c.start, c.end))
    ]


def _opens(words: list[str], q: Quantity) -> int:
    """Where a number opens: 'Cut at twenty two. No. Nineteen.' is one thought, its last value stands alone."""
    last = q.end >= len(words) or words[q.end] in SENTENCE_END
    return q.start if q.earlier and last else q.number_start


def annotate(text: str, grammar: Grammar) -> Note:
    """Read a note's words: quantities, concepts, sentences, clauses and what each asserts."""
    lexicon = lexicon_of(grammar)
    repaired, repairs = repair(tokenize(text), grammar)
    tokens = without_stray_pauses(apply_commands(repaired, lexicon.punctuation))
    words = tokens.words
    quantities = read_quantities(words)
    concepts = _outside(lexicon.finder.find(words), quantities)
    segments = segment(words, concepts, lexicon.coordinating, [(_opens(words, q), q.end) for q in quantities])
    years = frozenset(q.start for q in quantities if q.kind == "year")
    assertions = assert_clauses(segments, concepts, words, years)
    return Note(tokens, tuple(quantities), tuple(concepts), segments, assertions, repairs)
