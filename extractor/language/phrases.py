"""Phrase tables: which phrase of a word list stands at a token, longest first."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

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

    def at(self, words: Sequence[str], i: int) -> tuple[str, int] | None:
        """The longest phrase that opens at token `i`: its name and the token after it."""
        if i >= len(words):
            return None
        following = words[i + 1] if i + 1 < len(words) else None
        for phrase, name in self.by_first.get(words[i], ()):
            end = i + len(phrase)
            if len(phrase) == 1 or (phrase[1] == following and tuple(words[i:end]) == phrase):
                return name, end
        return None

    def before(self, words: Sequence[str], i: int, floor: int = 0) -> tuple[str, int] | None:
        """The longest phrase that ends just before token `i`, not reaching below `floor`: name and first token."""
        if i <= floor:
            return None
        ahead = words[i - 2] if i > 1 else None
        for phrase, name in self.by_last.get(words[i - 1], ()):
            start = i - len(phrase)
            if start >= floor and (len(phrase) == 1 or (phrase[-2] == ahead and tuple(words[start:i]) == phrase)):
                return name, start
        return None

    def whole(self, words: Sequence[str], start: int, end: int) -> str | None:
        """The name of the phrase that is exactly `words[start:end]`, if any."""
        if start >= end:
            return None
        for phrase, name in self.by_first.get(words[start], ()):
            if len(phrase) == end - start and tuple(words[start:end]) == phrase:
                return name
        return None


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
