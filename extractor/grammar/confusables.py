"""Word files named `sounds*.txt`: words that the recognizer is known to mishear, and where the repair reads.

    [root]
    heard = route | roof
    where = anterior/posterior _ | from (the) _
    near  = tunnel | button
    never = the _ of the

The heading is what to read, a hyphen standing for a space (a second list for the same words is headed `[root-2]`);
the next lines say what comes out of the recognizer and
where it is repaired (`_` is the place of the words heard, `<color>` any way of saying that list has). A list with
none of `where`, `near` and `note` is repaired anywhere in a note about the knee. grammars/README.md has the rest.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache

from extractor.errors import GrammarError
from extractor.grammar.hotwords import LIST as HOTWORDS
from extractor.grammar.hotwords import sound_lists
from extractor.grammar.inflect import spellings
from extractor.grammar.packs import Grammar
from extractor.grammar.words import WordEntry, WordList

SLOT = "_"
NUMBER = "<number>"
"""Stands for any number in figures or words, as one token."""
KEYS = ("heard", "where", "near", "note", "doubt", "never")
AS_HEARD = "as-heard"
"""The list of words that are right as they are, though they sound like others and no word list has them."""
LIST = re.compile(r"<([a-z][a-z0-9-]*)>")
MARK = re.compile(r"(?<=[a-z])(?='(?:s|m|re|ll|d|ve)$)|(?<=[a-z])(?=n't$)")
Phrase = tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Ways:
    """Ways of saying one part of a pattern: a word as it stands, or all that a word list has."""

    phrases: frozenset[Phrase]

    @cached_property
    def sizes(self) -> frozenset[int]:
        """How many words they have."""
        return frozenset(map(len, self.phrases))


class Lists:
    """The grammar's word lists, as patterns name them; each is laid out once, when it is first asked for."""

    def __init__(self, entries: Mapping[str, list[WordEntry]]) -> None:
        """Take the entries of each list."""
        self.entries = entries
        self._ways: dict[str, Ways] = {}

    def ways(self, word: str) -> Ways:
        """The ways of saying a word of a pattern."""
        match = LIST.fullmatch(word) if word != NUMBER else None
        if not match:
            return Ways(frozenset({(word,)}))
        if word not in self._ways:
            phrases = (phrase for entry in self.entries[match[1]] for phrase in _phrases(entry.spoken))
            self._ways[word] = Ways(frozenset(phrases))
        return self._ways[word]


@dataclass(frozen=True, eq=False)
class Pattern:
    """What stands before a slot, and what after it, in the order of the text."""

    before: tuple[Ways, ...]
    after: tuple[Ways, ...]

    def reach(self, words: list[str], start: int, end: int) -> tuple[int, int] | None:
        """First token and token after the last of the longest match around `words[start:end]`."""
        firsts, lasts = {start}, {end}
        for ways in reversed(self.before):
            firsts = {p - n for p in firsts for n in ways.sizes if n <= p and tuple(words[p - n : p]) in ways.phrases}
            if not firsts:
                return None
        for ways in self.after:
            lasts = {p + n for p in lasts for n in ways.sizes if tuple(words[p : p + n]) in ways.phrases}
            if not lasts:
                return None
        return min(firsts), max(lasts)


@dataclass(frozen=True, eq=False)
class Surroundings:
    """Patterns around a slot. They are laid out when first asked for, and what their lists say is never multiplied out.

    Attributes:
        entry: the line that says them; none where nothing is asked for.
        lists: the grammar's word lists, for those that the line names.
    """

    entry: WordEntry | None
    lists: Lists

    def __bool__(self) -> bool:
        """Whether any are asked for."""
        return self.entry is not None

    @cached_property
    def numbered(self) -> bool:
        """Whether a pattern takes any number."""
        return self.entry is not None and any(NUMBER in way for way in self.entry.spoken)

    @cached_property
    def patterns(self) -> tuple[Pattern, ...]:
        """All patterns of the line."""
        found: list[Pattern] = []
        for phrase in dict.fromkeys(_phrases(self.entry.spoken)) if self.entry else ():
            at = phrase.index(SLOT)
            before, after = (tuple(map(self.lists.ways, side)) for side in (phrase[:at], phrase[at + 1 :]))
            found.append(Pattern(before, after))
        return tuple(found)

    @cached_property
    def by_last(self) -> dict[str, list[Pattern]]:
        """Patterns with words before the slot, by the last of these words."""
        return _by_word((p, {phrase[-1] for phrase in p.before[-1].phrases}) for p in self.patterns if p.before)

    @cached_property
    def by_first(self) -> dict[str, list[Pattern]]:
        """Patterns with words after the slot alone, by the first of these words."""
        after = (p for p in self.patterns if p.after and not p.before)
        return _by_word((p, {phrase[0] for phrase in p.after[0].phrases}) for p in after)

    @cached_property
    def anywhere(self) -> bool:
        """Whether a pattern is the slot alone."""
        return any(not p.before and not p.after for p in self.patterns)

    def hold(self, words: list[str], start: int, end: int) -> str | None:
        """The longest phrase around `words[start:end]`, as one text with the slot, or None."""
        likely = self.by_last.get(words[start - 1], []) if start else []
        if end < len(words) and (behind := self.by_first.get(words[end])):
            likely = [*likely, *behind]
        spans = [span for pattern in likely if (span := pattern.reach(words, start, end))]
        if not spans:
            return SLOT if self.anywhere else None
        first, last = max(spans, key=lambda span: (span[1] - span[0], span[0]))
        return " ".join((*words[first:start], SLOT, *words[end:last]))


def _by_word(pairs: Iterable[tuple[Pattern, set[str]]]) -> dict[str, list[Pattern]]:
    found: dict[str, list[Pattern]] = {}
    for pattern, words in pairs:
        for word in words:
            found.setdefault(word, []).append(pattern)
    return found


@dataclass(frozen=True)
class Confusable:
    """One way of mishearing.

    Attributes:
        read: the words to read.
        heard: word sequences that come out of the recognizer.
        where: what must stand around them for the reading to be settled.
        near: words one of which, in the sentence, settles it as well.
        note: words one of which, anywhere in the note, settles it as well.
        doubt: surroundings in which it is read, but remains in doubt.
        never: surroundings in which the words heard stand as they are.
        file: file and line where it is written.
    """

    read: Phrase
    heard: tuple[Phrase, ...]
    where: Surroundings
    near: frozenset[str]
    note: frozenset[str]
    doubt: Surroundings
    never: Surroundings
    file: str

    @property
    def anywhere(self) -> bool:
        """Whether no surroundings are asked for."""
        return not (self.where or self.near or self.note or self.doubt)


@lru_cache(maxsize=8)
def confusables_of(grammar: Grammar) -> tuple[Confusable, ...]:
    """All confusables of the packs in force, in the order of folders, files and lines.

    Raises:
        GrammarError: naming file and line, for an entry that is none of `heard`, `where`, ..., a list without
            `heard`, a pattern without its one `_`, or a `<list>` that no pack has.
    """
    lists: dict[str, list[WordEntry]] = {}
    for name, entry in grammar.words:
        lists.setdefault(name, []).append(entry)
    named = Lists(lists)
    return tuple(_read(own, named) for own in sound_lists(grammar) if own.name not in (AS_HEARD, HOTWORDS))


@lru_cache(maxsize=8)
def as_heard(grammar: Grammar) -> frozenset[str]:
    """The words that are never repaired by their sound."""
    entries = (entry for own in sound_lists(grammar) if own.name == AS_HEARD for entry in own.entries.values())
    return frozenset(word for entry in entries for phrase in _phrases(entry.spoken) for word in phrase)


def _read(word_list: WordList, lists: Lists) -> Confusable:
    entries = word_list.entries
    for key, entry in entries.items():
        if key not in KEYS:
            raise GrammarError(f"{entry.file}:{entry.line}: {key!r} is none of {', '.join(KEYS)}")
    if "heard" not in entries:
        raise GrammarError(f"{word_list.file}:{word_list.line}: [{word_list.name}] has no line 'heard = ...'")
    return Confusable(
        tuple(part for part in word_list.name.split("-") if not part.isdigit()),
        tuple(dict.fromkeys(_phrases(entries["heard"].spoken))),
        _surroundings(entries.get("where"), lists),
        _single(entries.get("near")),
        _single(entries.get("note")),
        _surroundings(entries.get("doubt"), lists),
        _surroundings(entries.get("never"), lists),
        _place(word_list),
    )


def _place(word_list: WordList) -> str:
    return f"{word_list.file}:{word_list.line}"


def _phrases(spoken: Iterable[str]) -> Iterable[Phrase]:
    for way in spoken:
        plain = "-" not in way and "'" not in way
        for form in spellings(way):
            if plain:
                yield tuple(form.split())
            else:  # words as the tokenizer gives them: no hyphens, "that's" in two
                yield tuple(part for word in form.replace("-", " ").split() for part in MARK.sub(" ", word).split())


def _single(entry: WordEntry | None) -> frozenset[str]:
    words: set[str] = set()
    for phrase in _phrases(entry.spoken) if entry else ():
        if len(phrase) != 1 and entry is not None:
            words_said = " ".join(phrase)
            raise GrammarError(
                f"{entry.file}:{entry.line}: '{words_said}' is more than one word; 'near' and 'note' take single words"
            )
        words.update(phrase)
    return frozenset(words)


def _surroundings(entry: WordEntry | None, lists: Lists) -> Surroundings:
    """What a line asks for, checked now."""
    for way in entry.spoken if entry else ():
        if entry is not None and way.split().count(SLOT) != 1:
            raise GrammarError(f"{entry.file}:{entry.line}: {way!r} needs one '_', where the words heard stand")
        for name in LIST.findall(way.replace(NUMBER, "")):
            if name not in lists.entries and entry is not None:
                raise GrammarError(f"{entry.file}:{entry.line}: {way!r}: no pack has a list '{name}'")
    return Surroundings(entry if entry and entry.spoken else None, lists)
