"""Phrase tables: which phrase of a word list stands at a token, longest first."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

from extractor.grammar.packs import shipped_grammars
from extractor.grammar.words import WordList, read_word_file

CONTRACTION = re.compile(r"(?<=[a-z])(?='(?:s|m|re|ll|d|ve)$)|(?<=[a-z])(?=n't$)")
_Entry = tuple[tuple[str, ...], str]


@dataclass(frozen=True)
class Phrases:
    """The phrases of one list, found from their first or their last word.

    Attributes:
        by_first: first word to (words, name), longest phrase first.
        by_last: last word to the same.
    """

    by_first: dict[str, tuple[_Entry, ...]]
    by_last: dict[str, tuple[_Entry, ...]]

    @cached_property
    def _openings(self) -> dict[tuple[str, str], tuple[_Entry, ...]]:
        """Phrases by their first two words, longest first; a few hundred may open with one word ('the')."""
        return _by_pair((own[:2], (own, name)) for entries in self.by_first.values() for own, name in entries)

    @cached_property
    def _ends(self) -> dict[tuple[str, str], tuple[_Entry, ...]]:
        """Phrases by their last two words, longest first."""
        return _by_pair((own[-2:], (own, name)) for entries in self.by_last.values() for own, name in entries)

    @cached_property
    def _alone(self) -> dict[str, str]:
        """Phrases of one word."""
        singles = ((own[0], name) for entries in self.by_first.values() for own, name in entries if len(own) == 1)
        return dict(reversed(list(singles)))  # of two the first

    def at(self, words: Sequence[str], i: int) -> tuple[str, int] | None:
        """The longest phrase that opens at token `i`: its name and the token after it."""
        if i >= len(words) or words[i] not in self.by_first:
            return None
        if i + 1 < len(words):
            for phrase, name in self._openings.get((words[i], words[i + 1]), ()):
                end = i + len(phrase)
                if tuple(words[i:end]) == phrase:
                    return name, end
        alone = self._alone.get(words[i])
        return None if alone is None else (alone, i + 1)

    def before(self, words: Sequence[str], i: int, floor: int = 0) -> tuple[str, int] | None:
        """The longest phrase that ends just before token `i`, not reaching below `floor`: name and first token."""
        if i <= floor or words[i - 1] not in self.by_last:
            return None
        if i > 1:
            for phrase, name in self._ends.get((words[i - 2], words[i - 1]), ()):
                start = i - len(phrase)
                if start >= floor and tuple(words[start:i]) == phrase:
                    return name, start
        alone = self._alone.get(words[i - 1])
        return None if alone is None else (alone, i - 1)

    def whole(self, words: Sequence[str], start: int, end: int) -> str | None:
        """The name of the phrase that is exactly `words[start:end]`, if any."""
        if start >= end:
            return None
        for phrase, name in self.by_first.get(words[start], ()):
            if len(phrase) == end - start and tuple(words[start:end]) == phrase:
                return name
        return None


def _by_pair(pairs: Iterable[tuple[tuple[str, ...], _Entry]]) -> dict[tuple[str, str], tuple[_Entry, ...]]:
    found: dict[tuple[str, str], list[_Entry]] = {}
    for key, entry in pairs:
        if len(key) == 2:
            found.setdefault((key[0], key[1]), []).append(entry)
    return {key: tuple(own) for key, own in found.items()}


def cut(phrase: str) -> tuple[tuple[str, ...], ...]:
    """The words of a phrase as the tokenizer gives them: "that's" alone, and as "that" + "'s"."""
    plain = tuple(phrase.lower().split())
    split = tuple(part for word in plain for part in CONTRACTION.sub(" ", word).split())
    return (plain,) if split == plain else (plain, split)


def phrases_of(pairs: Iterable[tuple[str, str]]) -> Phrases:
    """A table of (phrase, name) pairs."""
    first: dict[str, list[_Entry]] = {}
    last: dict[str, list[_Entry]] = {}
    for phrase, name in pairs:
        for words in cut(phrase):
            first.setdefault(words[0], []).append((words, name))
            last.setdefault(words[-1], []).append((words, name))
    return Phrases(_longest_first(first), _longest_first(last))


def _longest_first(table: dict[str, list[_Entry]]) -> dict[str, tuple[_Entry, ...]]:
    return {word: tuple(sorted(entries, key=lambda e: (-len(e[0]), e))) for word, entries in table.items()}


@lru_cache(maxsize=8)
def common_lists(file: str) -> dict[str, WordList]:
    """The lists of one word file of the common pack, by name."""
    return {word_list.name: word_list for word_list in read_word_file(shipped_grammars() / "common" / file)}


def ways(word_list: WordList) -> list[tuple[str, str]]:
    """(way of saying, concept name) of every entry of a list."""
    return [(way, entry.name) for entry in word_list.entries.values() for way in entry.spoken]
