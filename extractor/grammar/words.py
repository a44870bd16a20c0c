"""Word lists (`*.txt`): what a concept is called, one line a concept.

    # a comment
    [color]
    white  = white
    purple = purple | violet
    blue   = blue | navy

A heading opens a list; a line gives a concept and the ways it is said. `rasp~` stands for
the word and its regular inflections (rasps, rasped, rasping). A word in capitals up to five
letters (ACL) is also read spelt out (A C L). `(the)` may be left out and `from/off` is either word:
`from/off (the) root` stands for four ways of saying. `~bone` is also what ends so: fishbone.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from pathlib import Path

from extractor.errors import GrammarError
from extractor.grammar.files import pack_text
from extractor.grammar.inflect import ENDING, spellings

HEADING = re.compile(r"\[([a-z][a-z0-9-]*)((?:\s+[a-z-]+)*)\]$")
NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9.+/#_-]*$")

LEAST_ENDING = 5
"""Letters that a word has, at least, to be known by them where a longer one ends so."""


@dataclass(frozen=True)
class WordEntry:
    """One concept of a list: its name, the ways it is said, and where that is written.

    `instead`: what an earlier pack means by the same words is not meant.
    """

    name: str
    spoken: tuple[str, ...]
    file: str
    line: int
    pack: str = ""
    instead: bool = False


@dataclass
class WordList:
    """A list under one heading. `options` are the words after its name in the heading."""

    name: str
    options: frozenset[str]
    file: str
    line: int
    entries: dict[str, WordEntry] = field(default_factory=dict)


def read_word_file(path: Path, *, checked: bool = True) -> list[WordList]:
    """Read one word file.

    Args:
        path: the file.
        checked: look for ways of saying that are given twice.

    Raises:
        GrammarError: naming file and line, for a line of another form, a list or concept
            given twice, or a way of saying given twice in one list.
    """
    lists: dict[str, WordList] = {}
    current: WordList | None = None
    said: dict[str, int] = {}
    shown = f"{path.parent.name}/{path.name}"
    for number, raw in enumerate(pack_text(path).splitlines(), 1):
        line = raw.split("#", 1)[0].strip() if not raw.lstrip().startswith("#") else ""
        where = f"{shown}:{number}"
        if not line:
            continue
        if line.startswith("["):
            match = HEADING.match(line)
            if not match:
                raise GrammarError(
                    f"{where}: a heading reads '[name]' or '[name option]' in small letters, not {line!r}"
                )
            if match[1] in lists:
                raise GrammarError(
                    f"{where}: list '{match[1]}' was opened in line {lists[match[1]].line} already; put its words there"
                )
            current = lists[match[1]] = WordList(match[1], frozenset(match[2].split()), shown, number)
            said = {}
            continue
        if current is None:
            raise GrammarError(f"{where}: a word before any [heading]; name the list first")
        entry = _entry(line, path.parent.name, where, current)
        if checked:
            _check_new(entry, current, said, where)
        current.entries[entry.name] = entry
    return list(lists.values())


def _entry(line: str, pack: str, where: str, current: WordList) -> WordEntry:
    name, equals, rest = line.partition("=")
    name = name.strip()
    spoken = tuple(s for s in (" ".join(p.split()) for p in rest.split("|")) if s)
    if not equals or not spoken:
        raise GrammarError(f"{where}: a line reads 'concept = way of saying | another', not {line!r}")
    if not NAME.match(name):
        raise GrammarError(f"{where}: {name!r} is no concept name; use letters, digits and '-'")
    if name in current.entries:
        raise GrammarError(f"{where}: '{name}' stands in line {current.entries[name].line} already; add to that line")
    for way in spoken:
        if way.startswith(ENDING) and (" " in way or len(way.strip(ENDING)) < LEAST_ENDING):
            raise GrammarError(f"{where}: {way!r}: only one word of at least {LEAST_ENDING} letters may open with '~'")
    file, _, number = where.rpartition(":")
    return WordEntry(name, spoken, file, int(number), pack)


def _check_new(entry: WordEntry, current: WordList, said: dict[str, int], where: str) -> None:
    for way in entry.spoken:
        for form in spellings(way):
            if said.get(form, entry.line) != entry.line and "shared" not in current.options:
                raise GrammarError(
                    f"{where}: {form!r} is in line {said[form]} of this list already; one way of saying is one concept"
                )
            said[form] = entry.line
