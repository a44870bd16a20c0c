"""All packs together: every word list and rule, checked against one another."""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from extractor.errors import GrammarError
from extractor.grammar.rules import Names, Rule, read_rule_file
from extractor.grammar.words import WordEntry, WordList, read_word_file

COMMON = "common"
NOT_RULES = frozenset({"limits.toml", "order.toml", "pack.toml", "second-reading.toml"})
"""TOML files of a pack that are read by others (the checks, the second reading)."""
SHARED = "shared"
"""Option of a list whose ways of saying may mean several concepts: what 'fixed' means, a rule decides."""
NOT_CONCEPTS = ("numbers", "units", "quantities-", "sounds", "rivals")
"""Word files that are read by the number and sound layers, not as concepts (how their names open)."""
COVERS = "covers"
"""Option of a list that hides what other lists find inside its words; `covers-technique` hides that list only."""
OPTIONS = frozenset({"inside", "coordinates", COVERS, SHARED})


@dataclass(frozen=True, eq=False)
class Grammar:
    """The words and rules of all packs in force."""

    words: tuple[tuple[str, WordEntry], ...]
    """(list, entry), an entry of a later pack adding its ways of saying to an earlier one."""
    options: dict[str, frozenset[str]]
    rules: tuple[Rule, ...]
    packs: tuple[str, ...]
    folders: tuple[Path, ...]

    def keys(self, list_name: str) -> tuple[str, ...]:
        """Names of all concepts of one list."""
        return tuple(dict.fromkeys(entry.name for name, entry in self.words if name == list_name))


def shipped_grammars() -> Path:
    """The packs that come with the program: inside the installed package, or beside it in a checkout."""
    inside = Path(__file__).resolve().parent.parent / "grammars"
    return inside if inside.is_dir() else Path(__file__).resolve().parent.parent.parent / "grammars"


def pack_folders(extra: Iterable[Path] = ()) -> tuple[Path, ...]:
    """All pack folders: the shipped ones, then those of `extra`, each sorted by name, `common` first.

    Raises:
        GrammarError: where an extra folder does not exist or holds no pack.
    """
    folders: list[Path] = []
    for root in (shipped_grammars(), *extra):
        if not root.is_dir():
            raise GrammarError(f"{root}: no such folder of grammar packs")
        packs = [p for p in sorted(root.iterdir()) if p.is_dir() and _holds_pack(p)]
        if not packs and _holds_pack(root):
            packs = [root]
        if not packs:
            raise GrammarError(
                f"{root}: holds no grammar pack; a pack is a folder with *.txt word lists or *.toml rules"
            )
        folders += sorted(packs, key=lambda p: (p.name != COMMON, p.name))
    return tuple(folders)


def _holds_pack(folder: Path) -> bool:
    return any(folder.glob("*.toml")) or any(folder.glob("*.txt"))


def load_grammar(extra: Iterable[Path] = ()) -> Grammar:
    """Read every pack.

    Raises:
        GrammarError: at the first mistake, with file, line and what to do.
    """
    return _load(pack_folders(extra))


@lru_cache(maxsize=8)
def _load(folders: tuple[Path, ...]) -> Grammar:
    words: list[tuple[str, WordEntry]] = []
    options: dict[str, frozenset[str]] = {}
    names = Names()
    said: dict[tuple[str, str], WordEntry] = {}
    for folder in folders:
        for path in sorted(folder.glob("*.txt")):
            if path.name.startswith(NOT_CONCEPTS):
                continue
            for word_list in read_word_file(path):
                _add_list(word_list, folder.name, words, options, names, said)
    rules: list[Rule] = []
    seen: dict[str, Rule] = {}
    for folder in folders:
        for path in sorted(folder.glob("*.toml")):
            if path.name in NOT_RULES:
                continue
            for rule in read_rule_file(path, folder.name, names):
                if rule.name in seen:
                    raise GrammarError(
                        f"{rule.where}: rule '{rule.name}' stands in {seen[rule.name].where} already; "
                        "name it after what is special about it"
                    )
                seen[rule.name] = rule
                rules.append(rule)
    return Grammar(tuple(words), options, tuple(rules), tuple(f.name for f in folders), folders)


def _add_list(
    word_list: WordList,
    pack: str,
    words: list[tuple[str, WordEntry]],
    options: dict[str, frozenset[str]],
    names: Names,
    said: dict[tuple[str, str], WordEntry],
) -> None:
    unknown = {o for o in word_list.options - OPTIONS if not o.startswith(f"{COVERS}-")}
    if unknown:
        raise GrammarError(
            f"{pack}/{word_list.file}:{word_list.line}: unknown option {sorted(unknown)[0]!r} of list "
            f"'{word_list.name}'; options: {', '.join(sorted(OPTIONS))}"
        )
    options[word_list.name] = options.get(word_list.name, frozenset()) | word_list.options
    for entry in word_list.entries.values():
        for way in entry.spoken:
            other = said.setdefault((word_list.name, way), entry)
            if other.name != entry.name and SHARED not in options[word_list.name]:
                there = f"{other.file}:{other.line}"
                raise GrammarError(f"{pack}/{entry.file}:{entry.line}: {way!r} means '{other.name}' in {there} already")
        names.add(word_list.name, entry.name)
        words.append((word_list.name, entry))


def site_folders(option: Iterable[str]) -> tuple[Path, ...]:
    """Folders a site adds: `--grammars DIR` as given, else the environment's EXTRACTOR_GRAMMARS."""
    given = [Path(o) for o in option]
    named = given or [Path(p) for p in os.environ.get("EXTRACTOR_GRAMMARS", "").split(os.pathsep) if p]
    return tuple(folder.expanduser().resolve() for folder in named)
