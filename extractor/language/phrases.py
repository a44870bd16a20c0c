"""Phrase tables: which phrase of a word list stands at a token, longest first."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from functools import lru_cache

from extractor.grammar.inflect import closings, openings, spellings
from extractor.grammar.packs import shipped_grammars
from extractor.grammar.words import WordList, read_word_file

CONTRACTION = re.compile(r"(?<=[a-z])(?='(?:s|m|re|ll|d|ve)$)|(?<=[a-z])(?=n't$)")
_Entry = tuple[tuple[str, ...], str]


class _Outermost:
    """The phrases that open, or end, with one word.

    Attributes:
        entries: all of them, longest first.
        alone: what the word means alone, if anything.
        beside: those of more words by the word next to it, longest first; a few hundred may open with one word ('the').
    """

    __slots__ = ("alone", "beside", "entries")

    def __init__(self, entries: Iterable[_Entry], next_at: int) -> None:
        self.entries = tuple(sorted(set(entries), key=lambda e: (-len(e[0]), e)))
        self.alone = next((name for own, name in self.entries if len(own) == 1), None)
        self.beside: dict[str, list[_Entry]] = {}
        for own, name in self.entries:
            if len(own) > 1:
                self.beside.setdefault(own[next_at], []).append((own, name))


class Phrases:
    """The phrases of one list, found from their first or their last word.

    The ways of saying of a list may stand for tens of thousands of phrases, of which a note says few: they are made
    when a word is met that they open or end with.
    """

    def __init__(self, pairs: Iterable[tuple[str, str]], *, chosen: Callable[[str], bool]) -> None:
        """Take (way of saying, name) pairs; those that are `chosen` have choices that are to be written out."""
        self._chosen = chosen
        self._firsts: dict[str, list[tuple[str, str]]] = {}
        self._lasts: dict[str, list[tuple[str, str]]] = {}
        for way, name in pairs:
            firsts, lasts = (openings(way), closings(way)) if chosen(way) else ((way,), (way,))
            for word in {own[0] for first in firsts for own in cut(first)}:
                self._firsts.setdefault(word, []).append((way, name))
            for word in {own[-1] for last in lasts for own in cut(last)}:
                self._lasts.setdefault(word, []).append((way, name))
        self._opening: dict[str, _Outermost] = {}
        self._ending: dict[str, _Outermost] = {}

    @property
    def first_words(self) -> Collection[str]:
        """The words that phrases open with."""
        return self._firsts.keys()

    def _entries(self, pairs: Iterable[tuple[str, str]]) -> Iterator[_Entry]:
        for way, name in pairs:
            for form in spellings(way) if self._chosen(way) else (way,):
                for own in cut(form):
                    yield own, name

    def _opening_with(self, word: str) -> _Outermost:
        if word not in self._opening:
            own = (entry for entry in self._entries(self._firsts[word]) if entry[0][0] == word)
            self._opening[word] = _Outermost(own, 1)
        return self._opening[word]

    def _ending_with(self, word: str) -> _Outermost:
        if word not in self._ending:
            own = (entry for entry in self._entries(self._lasts[word]) if entry[0][-1] == word)
            self._ending[word] = _Outermost(own, -2)
        return self._ending[word]

    def may_stand(self, words: Iterable[str]) -> bool:
        """Whether a phrase opens with any of some words; where none does, none need be looked for."""
        return not self._firsts.keys().isdisjoint(words)

    def at(self, words: Sequence[str], i: int) -> tuple[str, int] | None:
        """The longest phrase that opens at token `i`: its name and the token after it."""
        if i >= len(words) or words[i] not in self._firsts:
            return None
        found = self._opening.get(words[i]) or self._opening_with(words[i])
        if i + 1 < len(words):
            for phrase, name in found.beside.get(words[i + 1], ()):
                end = i + len(phrase)
                if tuple(words[i:end]) == phrase:
                    return name, end
        return None if found.alone is None else (found.alone, i + 1)

    def before(self, words: Sequence[str], i: int, floor: int = 0) -> tuple[str, int] | None:
        """The longest phrase that ends just before token `i`, not reaching below `floor`: name and first token."""
        if i <= floor or words[i - 1] not in self._lasts:
            return None
        found = self._ending.get(words[i - 1]) or self._ending_with(words[i - 1])
        if i > 1:
            for phrase, name in found.beside.get(words[i - 2], ()):
                start = i - len(phrase)
                if start >= floor and tuple(words[start:i]) == phrase:
                    return name, start
        return None if found.alone is None else (found.alone, i - 1)

    def whole(self, words: Sequence[str], start: int, end: int) -> str | None:
        """The name of the phrase that is exactly `words[start:end]`, if any."""
        if start >= end or words[start] not in self._firsts:
            return None
        for phrase, name in self._opening_with(words[start]).entries:
            if len(phrase) == end - start and tuple(words[start:end]) == phrase:
                return name
        return None


def cut(phrase: str) -> tuple[tuple[str, ...], ...]:
    """The words of a phrase as the tokenizer gives them: "that's" alone, and as "that" + "'s"."""
    plain = tuple(phrase.lower().split())
    if "'" not in phrase:
        return (plain,)
    split = tuple(part for word in plain for part in CONTRACTION.sub(" ", word).split())
    return (plain,) if split == plain else (plain, split)


def phrases_of(pairs: Iterable[tuple[str, str]], *, chosen: Callable[[str], bool] = lambda way: False) -> Phrases:
    """A table of (way of saying, name) pairs; only those `chosen` have choices to be written out, if any are."""
    return Phrases(pairs, chosen=chosen)


@lru_cache(maxsize=8)
def common_lists(file: str) -> dict[str, WordList]:
    """The lists of one word file of the common pack, by name."""
    path = shipped_grammars() / "common" / file
    return {word_list.name: word_list for word_list in read_word_file(path, checked=False)}


def ways(word_list: WordList) -> list[tuple[str, str]]:
    """(way of saying, concept name) of every entry of a list."""
    return [(way, entry.name) for entry in word_list.entries.values() for way in entry.spoken]
