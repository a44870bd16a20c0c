"""A grammar's words made ready for reading, and the choice of the packs that read a note."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import chain

from extractor.grammar.inflect import ENDING, head, openings, spellings
from extractor.grammar.packs import ABOUT, COVERS, Grammar
from extractor.grammar.words import WordEntry
from extractor.language.concepts import ConceptFinder, Phrase, opening
from extractor.language.pieces import plain_pieces
from extractor.language.tokens import is_whole, tokenize

DEEDS = frozenset({"action", "verb"})
"""Lists of what is done, which is said not to be done by a 'not' inside its words: 'the lesion was not prepared'."""
BEFORE_NOT = frozenset({"was", "were", "is", "are"})
NOTS = ("not", "n't")


@dataclass(frozen=True)
class Lexicon:
    """A grammar's words made ready: built once, used for every note."""

    finder: ConceptFinder
    coordinating: frozenset[str]
    punctuation: dict[tuple[str, ...], str]


@lru_cache(maxsize=8)
def lexicon_of(grammar: Grammar) -> Lexicon:
    """The lexicon of a grammar."""
    ways = _Ways(grammar)
    options = grammar.options
    return Lexicon(
        ConceptFinder(
            ways.opening_with,
            _covered(options),
            _marked(options, "inside"),
            _marked(options, "shared"),
            _endings(grammar),
        ),
        _marked(options, "coordinates"),
        {words: name for list_name, name, words in ways.all_of(frozenset({"punctuation"}))},
    )


class _Ways:
    """Every way of saying, but for those that a later pack takes `instead`.

    There are some two hundred thousand, of which a note says few: they are made when their first word is met.
    """

    def __init__(self, grammar: Grammar) -> None:
        """Find the first words of all ways of saying."""
        self._grammar = grammar
        self._taken = {(name, words) for name, entry in grammar.words if entry.instead for words in _said(entry)}
        self._by_head: dict[str, list[tuple[int, str, WordEntry, str]]] = {}
        spoken = ((list_name, entry, way) for list_name, entry in grammar.words for way in entry.spoken)
        for i, (list_name, entry, way) in enumerate(spoken):
            self._by_head.setdefault(head(way), []).append((i, list_name, entry, way))
        self._heads: dict[str, list[str]] = {}
        self._odd: dict[str, set[str]] = {}
        for opens in self._by_head:
            said = {word: _easily_cut(word) for word in openings(opens)}
            for first in {cut[0] for cut in said.values() if cut}:
                self._heads.setdefault(first, []).append(opens)
            for word in (word for word, cut in said.items() if not cut):
                self._odd.setdefault(word, set()).add(opens)

    def _heads_with(self, word: str) -> set[str]:
        """The heads that open with a word; an odd one is cut where it may, as it opens with its first piece."""
        odd = (said for said in self._odd if said.startswith(word) or said.replace(".", "").startswith(word))
        return set(self._heads.get(word, ())).union(*(self._odd[said] for said in odd if _cut_word(said)[0] == word))

    def opening_with(self, word: str) -> Iterator[Phrase]:
        """Pack, list, concept and words of those that open with a word, in the order of the lists."""
        own = (said for opens in self._heads_with(word) for said in self._by_head[opens])
        for _, list_name, entry, way in sorted(own, key=lambda said: said[0]):
            for words in _cut(spellings(way)):
                if words[0] == word and (entry.instead or (list_name, words) not in self._taken):
                    yield entry.pack, list_name, entry.name, words
                    if list_name in DEEDS and not BEFORE_NOT.isdisjoint(words[:-1]):
                        yield from ((entry.pack, list_name, entry.name, denied) for denied in _denied(words))

    def all_of(self, lists: frozenset[str]) -> Iterator[tuple[str, str, tuple[str, ...]]]:
        """List, concept and words of all that some lists hold."""
        for list_name, entry in self._grammar.words:
            if list_name in lists:
                yield from (
                    (list_name, entry.name, words)
                    for words in _said(entry)
                    if entry.instead or (list_name, words) not in self._taken
                )


def _endings(grammar: Grammar) -> dict[str, tuple[str, str, str]]:
    """What a longer word means that ends so: list, concept and pack."""
    return {
        form: (list_name, entry.name, entry.pack)
        for list_name, entry in grammar.words
        for way in entry.spoken
        if way.startswith(ENDING)
        for form in spellings(way)
    }


def _said(entry: WordEntry) -> Iterator[tuple[str, ...]]:
    for way in entry.spoken:
        yield from _cut(spellings(way))


def _denied(words: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """A way of saying with a 'not' behind its first 'was'."""
    at = next(i for i, word in enumerate(words) if word in BEFORE_NOT) + 1
    if words[at] not in NOTS:
        yield from ((*words[:at], no, *words[at:]) for no in NOTS)


def _covered(options: Mapping[str, frozenset[str]]) -> dict[str, frozenset[str]]:
    """What each list hides inside its own words: all other lists for `covers`, one for `covers-technique`."""
    marks = {name: {o for o in own if o.startswith(COVERS)} for name, own in options.items()}
    return {name: frozenset(o[len(COVERS) + 1 :] or "*" for o in own) for name, own in marks.items() if own}


def _marked(options: Mapping[str, frozenset[str]], option: str) -> frozenset[str]:
    return frozenset(name for name, own in options.items() if option in own)


def _cut(ways: Iterable[str]) -> Iterator[tuple[str, ...]]:
    for way in ways:
        yield tuple(chain.from_iterable(map(_cut_word, way.split())))


@cache
def _cut_word(word: str) -> tuple[str, ...]:
    """A word as the tokenizer cuts it; one of a dozen thousand ways of saying is made of few words."""
    return (word,) if is_whole(word) else tuple(tokenize(word).words)


def _easily_cut(word: str) -> tuple[str, ...]:
    """A word cut where that can be told without spaCy, or where it opens with a sign; else nothing."""
    if is_whole(word):
        return (word,)
    return () if word[0].isalnum() and plain_pieces(word) is None else _cut_word(word)


def subject_of(words: list[str], grammar: Grammar) -> Grammar:
    """The packs that read a note: of several subjects the one most is said of, the first of two that are even."""
    said = [len(_about(own).find(words)) for own in grammar.subjects]
    return grammar.subjects[said.index(max(said))] if said else grammar


@lru_cache(maxsize=8)
def _about(grammar: Grammar) -> ConceptFinder:
    """Finds only the words of what the packs are about."""
    found = _Ways(grammar).all_of(frozenset({ABOUT}))
    return ConceptFinder(opening(("", *said) for said in found), {}, frozenset(), frozenset())


OPENERS = frozenset({"action", "verb", "dimension"})
"""Lists of what is done and measured: with a word of theirs a sentence may open, and none of them is a name."""


THINGS = frozenset({"thing", "structure", "tissue", "device", "compartment", "finding"})
"""Lists of what is there: with a word of theirs a sentence may open behind a size."""


@lru_cache(maxsize=8)
def openers_of(grammar: Grammar, lists: frozenset[str] = OPENERS) -> frozenset[str]:
    """First words of all ways to say what some lists hold, those of what is done and measured if none are named."""
    ways = (way for name, entry in grammar.words if name in lists for way in entry.spoken)
    return frozenset(word.rstrip("~") for way in ways for word in way.split()[0].strip("()").split("/"))
