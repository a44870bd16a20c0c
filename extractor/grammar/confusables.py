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
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import product

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
class Surroundings:
    """Phrases around a slot: the words just before and just after it. They are laid out when first asked for.

    Attributes:
        entry: the line that says them; none where nothing is asked for.
        lists: the grammar's word lists, for those that the line names.
    """

    entry: WordEntry | None
    lists: Mapping[str, list[WordEntry]]

    def __bool__(self) -> bool:
        """Whether any are asked for."""
        return self.entry is not None

    @cached_property
    def pairs(self) -> frozenset[tuple[Phrase, Phrase]]:
        """The words before and those after, one pair a phrase."""
        return frozenset(_pairs(self.entry, self.lists)) if self.entry else frozenset()

    @cached_property
    def sizes(self) -> tuple[tuple[int, int], ...]:
        """How many words of both occur, longest first."""
        sizes = {(len(before), len(after)) for before, after in self.pairs}
        return tuple(sorted(sorted(sizes), key=lambda s: -sum(s)))

    @cached_property
    def before(self) -> frozenset[str]:
        """The last words before the slot."""
        return frozenset(before[-1] for before, _ in self.pairs if before)

    @cached_property
    def after(self) -> frozenset[str]:
        """The first words after the slot."""
        return frozenset(after[0] for _, after in self.pairs if after)

    def hold(self, words: list[str], start: int, end: int) -> str | None:
        """The phrase around `words[start:end]`, as one text with the slot, or None."""
        opened = start > 0 and words[start - 1] in self.before
        closed = end < len(words) and words[end] in self.after
        for before, after in self.sizes if opened or closed else self.sizes[-1:]:
            if (before and not opened) or (after and not closed) or start < before or end + after > len(words):
                continue
            pair = (tuple(words[start - before : start]), tuple(words[end : end + after]))
            if pair in self.pairs:
                return " ".join((*pair[0], SLOT, *pair[1]))
        return None


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
    return tuple(_read(own, lists) for own in sound_lists(grammar) if own.name not in (AS_HEARD, HOTWORDS))


@lru_cache(maxsize=8)
def as_heard(grammar: Grammar) -> frozenset[str]:
    """The words that are never repaired by their sound."""
    entries = (entry for own in sound_lists(grammar) if own.name == AS_HEARD for entry in own.entries.values())
    return frozenset(word for entry in entries for phrase in _phrases(entry.spoken) for word in phrase)


def _read(word_list: WordList, lists: Mapping[str, list[WordEntry]]) -> Confusable:
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


def _surroundings(entry: WordEntry | None, lists: Mapping[str, list[WordEntry]]) -> Surroundings:
    """What a line asks for, checked now."""
    for way in entry.spoken if entry else ():
        if entry is not None and way.split().count(SLOT) != 1:
            raise GrammarError(f"{entry.file}:{entry.line}: {way!r} needs one '_', where the words heard stand")
        for name in LIST.findall(way.replace(NUMBER, "")):
            if name not in lists and entry is not None:
                raise GrammarError(f"{entry.file}:{entry.line}: {way!r}: no pack has a list '{name}'")
    return Surroundings(entry if entry and entry.spoken else None, lists)


def _pairs(entry: WordEntry, lists: Mapping[str, list[WordEntry]]) -> Iterator[tuple[Phrase, Phrase]]:
    for way in entry.spoken:
        named = LIST.search(way.replace(NUMBER, ""))
        for phrase in _phrases((way,)):
            for filled in _filled(phrase, lists) if named else (phrase,):
                at = filled.index(SLOT)
                yield filled[:at], filled[at + 1 :]


def _filled(phrase: Phrase, lists: Mapping[str, list[WordEntry]]) -> Iterable[Phrase]:
    """The phrase with every way of saying of the lists that it names."""
    options: list[list[Phrase]] = []
    for word in phrase:
        match = LIST.fullmatch(word) if word != NUMBER else None
        options.append([p for own in lists[match[1]] for p in _phrases(own.spoken)] if match else [(word,)])
    for choice in product(*options):
        yield tuple(word for part in choice for word in part)
