"""Rules (`*.toml`): what a sentence must hold for a fact to be read, beside examples of it.

    ["the rim is abraded"]
    gives    = "step rim-abrasion"
    meets    = ["abrade"]
    examples = ["The rim was rasped until it bled.", "Then I abrade the rim."]
    never    = ["The rim was not rasped."]

The heading is the rule's name, in plain words; it is the reason a reviewer sees. grammars/README.md
explains every key. Files are flat on purpose: in a nested table a stray key would attach itself to
the wrong rule without a word.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

from extractor.errors import GrammarError
from extractor.grammar.files import pack_table, pack_text

KINDS = {"step", "measurement", "range", "known", "finding", "procedure", "plan", "claim", "element"}
KEYS: dict[str, type] = {
    "gives": str, "meets": list, "beside": list, "near": list, "note": list, "lately": list, "unless": list,
    "unless_near": list, "unless_lately": list, "unless_note": list, "max_words": int, "takes": str, "words": list,
    "also": list, "of": str, "reach": str, "part": int, "bare": bool, "bare_within": str, "within": str, "single": bool,
    "lasting": bool, "reached": bool, "counted": bool, "from_fact": list, "without_fact": list, "fields": list,
    "negation": str, "about": list, "examples": list, "never": list,
}  # fmt: skip
REACHES = ("next", "clause", "sentence", "before", "note")
DIMENSIONS = (
    "length", "angle", "time", "volume", "pressure", "force", "torque", "area", "share", "plan_time", "mass",
    "temperature", "years",
)  # fmt: skip
ONE_OF: dict[str, tuple[object, ...]] = {
    "reach": REACHES, "takes": DIMENSIONS, "negation": ("keeps", "declines", "asks"), "part": (0, 1, 2),
}  # fmt: skip
"""What the value of a key may be; `takes` names what the units measure."""
HEADING = re.compile(r'^\s*\[\s*"((?:[^"\\]|\\.)*)"\s*\]')
FIELD = re.compile(r"([a-z_]+)\s*=\s*(.+)$")
WITHIN = re.compile(r"(\d+(?:\.\d+)?) to (\d+(?:\.\d+)?)$")


@dataclass(frozen=True)
class Rule:
    """One rule of a pack. Requirements are sets of concept keys (`list:name`), one of which must stand.

    Attributes:
        name: the heading, in plain words.
        kind: what sort of fact it gives.
        value: the fact's main value (a step code, what is measured, ...).
        meets: each must stand in the clause.
        note: each must stand somewhere in the note.
        beside: each must stand in the sentence.
        near: each must stand in the sentence or the one before.
        lately: each must be the value last said of its list before the clause.
        unless_lately: none may be the value last said of its list.
        unless: none may stand in the clause; `unless_near`: nor in the sentence; `unless_note`: nor in the note.
        takes: dimension of the quantity it takes.
        words: dimension words that must stand among the quantity's own words.
        also: dimension words that may stand there too.
        of: things the quantity may belong to (empty: any).
        reach: how far away the thing may have been named.
        part: which part of an "A by B" product, 0 for the first or an only number.
        bare: also takes a number said without unit; left out, that is so where dimension words are asked for.
        bare_within: takes only a number said without unit that lies between these two; the unit is understood.
        within: takes only a number that lies between these two, in the canonical unit.
        single: takes one value only, no range and no bound.
        lasting: a finding that still holds when told of another time.
        fields: further fields, a value or `<list>`.
        max_words: the clause has no more words than this.
        reached: an upper bound ('up to ninety') is the value reached.
        counted: takes only a number counted up to along a ruler ('five, ten, fifteen, and nineteen').
        negation: 'declines' (default) or 'keeps' (a "no" in the clause is part of the finding) or 'asks' (a step
            that is read only where the clause says that it was not done, or not yet).
        about: names of the list `about`; the rule reads only notes about one of these (empty: any).
    """

    name: str
    pack: str
    file: str
    line: int
    kind: str
    value: str
    meets: tuple[frozenset[str], ...] = ()
    near: tuple[frozenset[str], ...] = ()
    lately: tuple[frozenset[str], ...] = ()
    unless: frozenset[str] = frozenset()
    unless_near: frozenset[str] = frozenset()
    takes: str | None = None
    words: tuple[frozenset[str], ...] = ()
    of: frozenset[str] = frozenset()
    reach: str = "sentence"
    part: int | None = None
    bare: bool | None = None
    fields: tuple[tuple[str, str], ...] = ()
    examples: tuple[str, ...] = ()
    never: tuple[str, ...] = ()
    negation: str = "declines"
    from_fact: tuple[str, ...] = ()
    without_fact: tuple[str, ...] = ()
    beside: tuple[frozenset[str], ...] = ()
    note: tuple[frozenset[str], ...] = ()
    unless_lately: frozenset[str] = frozenset()
    unless_note: frozenset[str] = frozenset()
    bare_within: tuple[float, float] | None = None
    within: tuple[float, float] | None = None
    single: bool = False
    lasting: bool = False
    also: frozenset[str] = frozenset()
    max_words: int | None = None
    reached: bool = False
    counted: bool = False
    about: frozenset[str] = frozenset()

    @property
    def where(self) -> str:
        """File and line, for messages."""
        return f"{self.file}:{self.line}"

    @cached_property
    def dimensions(self) -> frozenset[str]:
        """The words of measuring that may stand by the rule's number."""
        return self.also.union(*self.words)

    @cached_property
    def weight(self) -> int:
        """How much the rule asks for: of two rules that read the same words the more specific wins."""
        return (
            len(self.meets)
            + len(self.near)
            + len(self.beside)
            + len(self.lately)
            + len(self.words)
            + bool(self.of)
            + bool(self.unless)
            + (self.part is not None)
        )


@dataclass
class Names:
    """Every concept name of the packs, to resolve what rules refer to.

    `aside` are names of packs about another subject: a rule of `common` may refer to them, and they are never said.
    """

    by_name: dict[str, list[str]] = field(default_factory=dict)
    lists: dict[str, list[str]] = field(default_factory=dict)
    aside: Names | None = None

    def add(self, list_name: str, name: str) -> None:
        """Enter one concept."""
        key = f"{list_name}:{name}"
        if key not in self.lists.setdefault(list_name, []):
            self.lists[list_name].append(key)
            self.by_name.setdefault(name, []).append(key)

    def extended(self) -> Names:
        """Names to which a site adds its own: its lists are these lists, and these do not learn its names."""
        return Names({name: list(keys) for name, keys in self.by_name.items()}, self.lists, self.aside)

    def resolve(self, text: str, where: str) -> frozenset[str]:
        """Keys for 'a | list:b | <list>'.

        Raises:
            GrammarError: for a name no list has, or that two lists have.
        """
        keys: set[str] = set()
        for part in (p.strip() for p in text.split("|")):
            hits = self._hits(part) or (self.aside._hits(part) if self.aside else [])
            is_list = part.startswith("<") and part.endswith(">")
            if not hits and is_list:
                raise GrammarError(f"{where}: no word list is called {part}{_meant(part[1:-1], self.lists)}")
            if not hits:
                name = part.rpartition(":")[2]
                raise GrammarError(f"{where}: no word list has {part!r}{_meant(name, self.by_name)}")
            if len(hits) > 1 and not is_list:
                raise GrammarError(f"{where}: {part!r} stands in several lists; write one of {', '.join(sorted(hits))}")
            keys.update(hits)
        return frozenset(keys)

    def _hits(self, part: str) -> list[str]:
        if part.startswith("<") and part.endswith(">"):
            return self.lists.get(part[1:-1], [])
        _, colon, name = part.rpartition(":")
        return [key for key in self.by_name.get(name, []) if not colon or key == part]


def _meant(word: str, known: Mapping[str, object]) -> str:
    close = difflib.get_close_matches(word, known, 1)
    return f", did you mean {close[0]!r}?" if close else ""


def read_rule_file(path: Path, pack: str, names: Names) -> list[Rule]:
    """Read one rule file.

    Raises:
        GrammarError: with file and line, for broken TOML, an unknown key, a value of another type, a name no
            list has, a rule without two examples and one sentence it must never read.
    """
    table = pack_table(path)
    shown = f"{pack}/{path.name}"
    lines = {m[1]: n for n, raw in enumerate(pack_text(path).splitlines(), 1) if (m := HEADING.match(raw))}
    return [_rule(name, body, pack, shown, lines.get(name, 1), names) for name, body in table.items()]


def _rule(name: str, body: object, pack: str, file: str, line: int, names: Names) -> Rule:
    where = f"{file}:{line}: rule '{name}'"
    if not isinstance(body, dict):
        raise GrammarError(f'{file}:{line}: {name!r} stands outside any rule; open one with ["what it reads"]')
    _check_keys(body, where)
    kind, value = _gives(body, where)
    _check_sense(body, where)

    def sets(key: str) -> tuple[frozenset[str], ...]:
        return tuple(names.resolve(entry, f"{where}, '{key}'") for entry in body.get(key, []))

    def about(name: str) -> frozenset[str]:
        return names.resolve(f"about:{name}", f"{where}, 'about'")

    def union(key: str) -> frozenset[str]:
        return frozenset().union(*sets(key))

    return Rule(
        name=name,
        pack=pack,
        file=file,
        line=line,
        kind=kind,
        value=value,
        meets=sets("meets"),
        beside=sets("beside"),
        near=sets("near"),
        note=sets("note"),
        lately=sets("lately"),
        unless=union("unless"),
        unless_near=union("unless_near"),
        unless_lately=union("unless_lately"),
        unless_note=union("unless_note"),
        max_words=body.get("max_words"),
        takes=body.get("takes"),
        words=sets("words"),
        also=union("also"),
        of=names.resolve(body["of"], f"{where}, 'of'") if "of" in body else frozenset(),
        reach=body.get("reach", "sentence"),
        part=body.get("part"),
        bare=body.get("bare"),
        bare_within=_within("bare_within", body, where),
        within=_within("within", body, where),
        single=body.get("single", False),
        lasting=body.get("lasting", False),
        reached=body.get("reached", False),
        counted=body.get("counted", False),
        from_fact=tuple(body.get("from_fact", ())),
        without_fact=tuple(body.get("without_fact", ())),
        fields=_fields(body, where, names),
        negation=body.get("negation", "declines"),
        about=frozenset(key.split(":", 1)[1] for name in body.get("about", ()) for key in about(name)),
        examples=tuple(body["examples"]),
        never=tuple(body["never"]),
    )


def _check_keys(body: Mapping[str, object], where: str) -> None:
    for key, value in body.items():
        if key not in KEYS:
            raise GrammarError(f"{where}: unknown key {key!r}{_meant(key, KEYS)}")
        fits = isinstance(value, KEYS[key]) and (KEYS[key] is bool or not isinstance(value, bool))
        if not fits or (isinstance(value, list) and not all(isinstance(v, str) for v in value)):
            raise GrammarError(f"{where}: '{key}' must be {_described(KEYS[key])}")


def _gives(body: Mapping[str, object], where: str) -> tuple[str, str]:
    kind, _, value = str(body.get("gives", "")).partition(" ")
    if kind not in KINDS or not value.strip():
        kinds = ", ".join(sorted(KINDS))
        raise GrammarError(f"{where}: 'gives' must name a kind and a value, as \"step rim-abrasion\"; kinds: {kinds}")
    return kind, value.strip()


def _check_sense(body: Mapping[str, object], where: str) -> None:
    examples = body.get("examples", [])
    if not isinstance(examples, list) or len(examples) < 2 or not body.get("never"):
        raise GrammarError(
            f"{where}: needs at least two 'examples' it must read and one sentence under 'never' that it must not"
        )
    if not (body.get("takes") or body.get("meets") or body.get("from_fact")):
        raise GrammarError(f"{where}: says nothing that must be said; give 'meets', 'takes' or 'from_fact'")
    for key, allowed in ONE_OF.items():
        if key in body and body[key] not in allowed:
            names = ", ".join(map(str, allowed))
            meant = _meant(str(body[key]), dict.fromkeys(map(str, allowed)))
            raise GrammarError(f"{where}: '{key}' is one of {names}, not {body[key]!r}{meant}")


def _within(key: str, body: Mapping[str, Any], where: str) -> tuple[float, float] | None:
    text = body.get(key)
    if text is None:
        return None
    match = WITHIN.match(text)
    if not match:
        raise GrammarError(f"{where}: '{key}' reads \"100 to 450\", not {text!r}")
    return float(match[1]), float(match[2])


def _fields(body: Mapping[str, Any], where: str, names: Names) -> tuple[tuple[str, str], ...]:
    fields = []
    for entry in body.get("fields", []):
        match = FIELD.match(entry)
        if not match:
            raise GrammarError(f"{where}: a field reads 'name = value' or 'name = <list>', not {entry!r}")
        if match[2].startswith("<"):
            names.resolve(match[2].rstrip("!"), f"{where}, 'fields'")
        fields.append((match[1], match[2].strip()))
    return tuple(fields)


def _described(kind: type) -> str:
    return {str: "text in quotes", list: "a list of texts", int: "a whole number", bool: "true or false"}[kind]
