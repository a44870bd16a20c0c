"""All packs together: every word list and rule, checked against one another.

A pack for other work than the knee says so in its `pack.toml` (`about = ["shoulder"]`). Then there are several
subjects, and a note is read by the packs of the one it is about as if no others were there: packs of two subjects
never meet, so that a pack added for one joint changes nothing in the notes about another.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path

from extractor.errors import GrammarError
from extractor.grammar.about import check_about, joined, read_about
from extractor.grammar.inflect import spellings
from extractor.grammar.rules import Names, Rule, read_rule_file
from extractor.grammar.words import WordEntry, WordList, read_word_file

COMMON = "common"
NOTHING: frozenset[str] = frozenset()
ABOUT, ELSEWHERE, JOINT = "about", "elsewhere", "joint"
"""Lists of what notes may be about, of what else they may be about, and of what a side is said of."""
NOT_RULES = frozenset({"limits.toml", "order.toml", "pack.toml", "second-reading.toml"})
"""TOML files of a pack that are read by others (the checks, the second reading)."""
SHARED = "shared"
"""Option of a list whose ways of saying may mean several concepts: what 'fixed' means, a rule decides."""
NOT_CONCEPTS = ("numbers", "units", "quantities-", "sounds", "rivals")
"""Word files that are read by the number and sound layers, not as concepts (how their names open)."""
COVERS = "covers"
"""Option of a list that hides what other lists find inside its words; `covers-technique` hides that list only."""
INSTEAD = "instead"
"""Option of a pack's list whose ways of saying no longer mean what an earlier pack says."""
PLAIN = "plain"
"""Option of a list of single words that the program itself looks for beside others; no rule can ask for them."""
CONCEPTS = "concepts"
"""Option of a list of concepts of other lists (`device:screw`) that the program itself takes for a kind."""
ASIDE = frozenset({PLAIN, CONCEPTS})
"""Options of lists whose entries are no concepts themselves."""
OPTIONS = frozenset({"inside", "coordinates", COVERS, SHARED, INSTEAD, *ASIDE})


@dataclass(frozen=True, eq=False)
class Grammar:
    """The words and rules of all packs in force."""

    words: tuple[tuple[str, WordEntry], ...]
    """(list, entry), an entry of a later pack adding its ways of saying to an earlier one."""
    options: dict[str, frozenset[str]]
    rules: tuple[Rule, ...]
    packs: tuple[str, ...]
    folders: tuple[Path, ...]
    subjects: tuple[Grammar, ...] = ()
    """Where the packs are about several subjects: the grammar that reads notes about each, in the order of packs."""
    plain: Mapping[str, frozenset[str]] = field(default_factory=dict)
    """The words of each list marked `plain`, and the keys of each marked `concepts`; they stand in `words` no more."""

    def keys(self, list_name: str) -> tuple[str, ...]:
        """Names of all concepts of one list."""
        return tuple(dict.fromkeys(entry.name for name, entry in self.words if name == list_name))

    def plain_words(self, list_name: str) -> frozenset[str]:
        """The words of a list marked `plain`."""
        return self.plain.get(list_name, NOTHING)

    def concepts_in(self, list_name: str) -> frozenset[str]:
        """The keys (`list:name`) of a list marked `concepts`."""
        return self.plain.get(list_name, NOTHING)


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


def load_grammar(extra: Iterable[Path] = (), *, checked: bool = False) -> Grammar:
    """Read every pack.

    Args:
        extra: folders of a site's own packs.
        checked: look for words given twice in the shipped packs, too. It takes a sixth of a short command's time, so it
            is left to `extractor grammar test` where the shipped packs stand alone.

    Raises:
        GrammarError: at the first mistake, with file, line and what to do.
    """
    extra = tuple(extra)
    return _load(pack_folders(extra), checked or bool(extra))


@lru_cache(maxsize=8)
def _load(folders: tuple[Path, ...], checked: bool) -> Grammar:
    about = {folder: read_about(folder) for folder in folders}
    subjects = joined(about.values())
    if len(subjects) < 2:
        return _read(folders, (), frozenset().union(*subjects), frozenset(), checked=checked)
    parts = []
    for subject in subjects:
        own = tuple(folder for folder in folders if not about[folder] or about[folder] & subject)
        rest = tuple(folder for folder in folders if folder not in own)
        parts.append(_read(own, rest, subject, frozenset().union(*subjects) - subject, checked=checked))
    return _together(folders, parts)


def _read(
    folders: tuple[Path, ...],
    rest: tuple[Path, ...],
    subject: frozenset[str],
    others: frozenset[str],
    *,
    checked: bool,
) -> Grammar:
    """The packs that read notes about a subject; those of `rest` are about `others`."""
    words: list[tuple[str, WordEntry]] = []
    options: dict[str, frozenset[str]] = {}
    aside = Names()
    names = Names(aside=aside)
    said: dict[tuple[str, str], WordEntry] = {}
    shipped = names
    for folder in folders:
        if names is shipped and folder.parent != shipped_grammars():
            names = shipped.extended()  # a site's concept never makes a shipped rule mean another
        for word_list in _word_lists(folder, checked):
            _add_list(word_list, words, options, names, said if checked else None)
    for word_list in (own for folder in rest for own in _word_lists(folder, checked)):
        for name in word_list.entries:
            aside.add(word_list.name, name)
    for folder in folders:
        check_about(folder, names)
    rules: dict[str, Rule] = {}
    for folder in folders:
        for path in sorted(folder.glob("*.toml")):
            if path.name not in NOT_RULES:
                known = shipped if folder.parent == shipped_grammars() else names
                _add_rules(read_rule_file(path, folder.name, known), rules)
    marked = {name for name, own in options.items() if own & ASIDE}
    return Grammar(
        tuple(_weighed((item for item in words if item[0] not in marked), subject, others)),
        options,
        tuple(rule for rule in rules.values() if not rule.about or not subject or rule.about & subject),
        tuple(f.name for f in folders),
        folders,
        plain=_plain([item for item in words if item[0] in marked], options, names),
    )


def _plain(
    words: Iterable[tuple[str, WordEntry]], options: Mapping[str, frozenset[str]], names: Names
) -> dict[str, frozenset[str]]:
    found: dict[str, set[str]] = {}
    for list_name, entry in words:
        if CONCEPTS in options[list_name]:
            keys = (names.resolve(key, f"{entry.file}:{entry.line}") for key in entry.spoken)
            found.setdefault(list_name, set()).update(*keys)
            continue
        for form in (form for way in entry.spoken for form in spellings(way)):
            if " " in form:
                raise GrammarError(
                    f"{entry.file}:{entry.line}: {form!r} has more than one word; '{list_name}' is a plain list, "
                    "of single words"
                )
            found.setdefault(list_name, set()).add(form)
    return {name: frozenset(own) for name, own in found.items()}


def _word_lists(folder: Path, checked: bool) -> Iterator[WordList]:
    """A pack's lists of concepts. The other word files are looked through here only where words given twice are."""
    for path in sorted(folder.glob("*.txt")):
        if not path.name.startswith(NOT_CONCEPTS):
            yield from read_word_file(path, checked=checked)
        elif checked:
            read_word_file(path)


def _weighed(
    words: Iterable[tuple[str, WordEntry]], subject: frozenset[str], others: frozenset[str]
) -> Iterator[tuple[str, WordEntry]]:
    """The words as they weigh in a note about a subject: what other packs are about lies elsewhere, and it does not.

    A side said of their joint is no operated side.
    """
    for list_name, entry in words:
        if list_name == ABOUT and entry.name in others:
            yield ELSEWHERE, entry
        elif list_name == JOINT and entry.name in others:
            continue
        elif list_name != ELSEWHERE or not others or entry.name not in subject:
            yield list_name, entry


def _add_rules(new: Iterable[Rule], rules: dict[str, Rule]) -> None:
    for rule in new:
        other = rules.setdefault(rule.name, rule)
        if other.where != rule.where:
            raise GrammarError(
                f"{rule.where}: rule '{rule.name}' stands in {other.where} already; "
                "name it after what is special about it"
            )


def _together(folders: tuple[Path, ...], parts: Sequence[Grammar]) -> Grammar:
    """All words and rules of all subjects, to be listed and tested; notes are read by one of the parts."""
    rules: dict[str, Rule] = {}
    options: dict[str, frozenset[str]] = {}
    for part in parts:
        _add_rules(part.rules, rules)
        for name, own in part.options.items():
            options[name] = options.get(name, frozenset()) | own
    words = tuple(dict.fromkeys(item for part in parts for item in part.words))
    plain: dict[str, frozenset[str]] = {}
    for part in parts:
        for name, own in part.plain.items():
            plain[name] = plain.get(name, frozenset()) | own
    packs = tuple(f.name for f in folders)
    return Grammar(words, options, tuple(rules.values()), packs, folders, tuple(parts), plain)


def _compare(entry: WordEntry, list_name: str, said: dict[tuple[str, str], WordEntry], *, several: bool) -> None:
    for form in (form for way in entry.spoken for form in spellings(way)):
        other = said.setdefault((list_name, form), entry)
        if other.name != entry.name and not several:
            there = f"{other.file}:{other.line}"
            raise GrammarError(f"{entry.file}:{entry.line}: {form!r} means '{other.name}' in {there} already")


def _add_list(
    word_list: WordList,
    words: list[tuple[str, WordEntry]],
    options: dict[str, frozenset[str]],
    names: Names,
    said: dict[tuple[str, str], WordEntry] | None,
) -> None:
    """Take a list's words in; `said` holds those of the lists before, None where they are not compared."""
    unknown = {o for o in word_list.options - OPTIONS if not o.startswith(f"{COVERS}-")}
    if unknown:
        raise GrammarError(
            f"{word_list.file}:{word_list.line}: unknown option {sorted(unknown)[0]!r} of list "
            f"'{word_list.name}'; options: {', '.join(sorted(OPTIONS))}"
        )
    new = word_list.options & ASIDE - options.get(word_list.name, word_list.options)
    if new:
        raise GrammarError(
            f"{word_list.file}:{word_list.line}: list '{word_list.name}' is not marked {min(new)!r} by an earlier "
            "pack, whose rules may ask for its words; give this one another name"
        )
    options[word_list.name] = options.get(word_list.name, frozenset()) | word_list.options - {INSTEAD}
    instead = INSTEAD in word_list.options
    for entry in word_list.entries.values():
        if said is not None:
            _compare(entry, word_list.name, said, several=instead or SHARED in options[word_list.name])
        if not options[word_list.name] & ASIDE:
            names.add(word_list.name, entry.name)
        words.append((word_list.name, replace(entry, instead=True) if instead else entry))


def site_folders(option: Iterable[str]) -> tuple[Path, ...]:
    """Folders a site adds: `--grammars DIR` as given, else the environment's EXTRACTOR_GRAMMARS."""
    given = [Path(o) for o in option]
    named = given or [Path(p) for p in os.environ.get("EXTRACTOR_GRAMMARS", "").split(os.pathsep) if p]
    return tuple(folder.expanduser().resolve() for folder in named)
