"""What a pack is about (`pack.toml`): the subject of the notes that it reads.

    about = ["shoulder"]

names lines of the word list `about`. A pack without this file, as `common`, reads any note.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from extractor.errors import GrammarError
from extractor.grammar.files import pack_table
from extractor.grammar.rules import Names

FILE = "pack.toml"
KEY = "about"


def read_about(folder: Path) -> frozenset[str]:
    """The names of what a pack is about, none where it reads any note.

    Raises:
        GrammarError: for a file of another form.
    """
    path = folder / FILE
    if not path.is_file():
        return frozenset()
    table = pack_table(path)
    names = table.get(KEY)
    form = isinstance(names, list) and names and all(isinstance(name, str) for name in names)
    if set(table) != {KEY} or not form:
        raise GrammarError(f'{folder.name}/{FILE}:1: holds one line, as: about = ["shoulder"]')
    return frozenset(names or ())


def check_about(folder: Path, names: Names) -> None:
    """Refuse a pack about what no line of the list `about` has.

    Raises:
        GrammarError: naming the file.
    """
    for name in sorted(read_about(folder)):
        names.resolve(f"{KEY}:{name}", f"{folder.name}/{FILE}:1")


def joined(groups: Iterable[frozenset[str]]) -> list[frozenset[str]]:
    """Make one of groups that share a name, in their order; packs that are about anything are of no group."""
    subjects: list[frozenset[str]] = []
    for group in groups:
        same = [s for s in subjects if s & group]
        if not same and group:
            subjects.append(group)
        elif group:
            subjects[subjects.index(same[0])] = group.union(*same)
            subjects = [s for s in subjects if s not in same[1:]]
    return subjects
