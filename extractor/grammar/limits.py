"""What the packs know of sizes and order (`limits.toml`, `order.toml`): limits, elements, constants, steps.

Each file opens with its own syntax guide; the keys stand in `FORMS` below. A pack of a site may
replace an entry of a shipped pack by saying `replaces = true` in it; any other entry given twice is
refused, as are unknown keys, with file and line.
"""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache
from pathlib import Path
from typing import Any

from extractor.errors import GrammarError
from extractor.grammar.files import pack_table, pack_text
from extractor.grammar.packs import pack_folders

VERIFIED = ("SRC", "ABS", "SEC", "MEM", "none")
"""How far a source was read: itself, its abstract or table, quoted elsewhere, from memory; or no source."""
HEADING = re.compile(r'^\s*\[\s*"((?:[^"\\]|\\.)*)"\s*\]')
KEY = re.compile(r"^\s*([A-Za-z_]+)\s*=")
BEFORE = re.compile(r"([a-z-]+) before ([a-z-]+)$")

IN_CASES = " in "
"""'tunnel.diameter in osteochondral-allograft' holds instead of 'tunnel.diameter' where that procedure was done."""

COMMON_KEYS: dict[str, str] = {"source": "text", "verified": "text", "replaces": "yes-no"}
FORMS: dict[str, tuple[dict[str, str], tuple[str, ...]]] = {
    "limit": (
        {
            "called": "text", "unit": "text", "possible": "pair", "why": "text", "usual": "pair", "typical": "pair",
            "single": "yes-no", "apart": "texts", "same": "texts", "one_finding": "text", "split": "texts",
            "near": "number", "round": "number",
            "follows": "text", "less": "number", "tolerance": "number", "check": "text", "long": "number",
            "any_work": "yes-no",
        },
        ("called", "unit"),
    ),
    "element": ({"said_by": "texts", "measured": "text", "optional": "yes-no"}, ("said_by", "source")),
    "constant": ({"value": "number", "unit": "text"}, ("value", "unit", "source", "verified")),
    "before": (
        {"why": "text", "procedure": "text", "extent": "text", "further": "texts", "or_after": "texts"},
        ("why", "source"),
    ),
    "expected": (
        {"procedure": "text", "extent": "text", "steps": "texts", "identifier": "yes-no"},
        ("procedure", "steps", "source"),
    ),
    "opening": ({"steps": "texts"}, ("steps", "source")),
    "late": ({"after": "texts", "why": "text"}, ("after", "why", "source")),
}  # fmt: skip
"""Keys of each form of entry, with what their value is, and the keys it cannot do without."""


@dataclass(frozen=True)
class Entry:
    """What every entry has: its heading, where it stands, its source and how far that was read."""

    name: str
    where: str
    source: str = ""
    verified: str = "none"


@dataclass(frozen=True)
class Limit(Entry):
    """What is known of one measurement, in its canonical unit.

    Attributes:
        called: what it is called in a sentence.
        possible: outside it the value is wrong; `why` says by what.
        usual: the published usual range (`source`).
        typical: where most values lie, `round` what they are multiples of; only to rank what may have been said.
        single: there is one of it in a case, so two values conflict; facts that differ in one of
            the fields `apart` are other things, and the fields `same` must be said and equal.
        split: facts that differ in one of these fields, or of which only one says it, are other things.
        near: only values no further apart are of one thing; the others are of another of its kind.
        one_finding: it is single only where exactly one finding of this name was told.
        follows: the measurement it is made after, less `less`, within `tolerance`; `check` is raised else.
        long: a value above it is worth a word.
        any_work: it is measured in open and replacement surgery as well, where all else is another thing.
    """

    called: str = ""
    unit: str = ""
    possible: tuple[float, float] | None = None
    why: str = ""
    usual: tuple[float, float] | None = None
    typical: tuple[float, float] | None = None
    round: float | None = None
    single: bool = False
    apart: tuple[str, ...] = ()
    same: tuple[str, ...] = ()
    split: tuple[str, ...] = ()
    near: float = math.inf
    one_finding: str | None = None
    follows: str | None = None
    less: float = 0.0
    tolerance: float = 0.0
    check: str = ""
    long: float | None = None
    any_work: bool = False


@dataclass(frozen=True)
class RequiredElement(Entry):
    """An element a report needs: said by one of `said_by`, or by a measurement `measured`."""

    said_by: tuple[str, ...] = ()
    measured: str | None = None
    optional: bool = False


@dataclass(frozen=True)
class Constant(Entry):
    """A published figure that computations use."""

    value: float = 0.0
    unit: str = ""


@dataclass(frozen=True)
class StepOrder(Entry):
    """Step `after` needs step `before`, in cases of `procedure` (any, where none is named).

    One of `before` told with a word of `further` is one more of them, not the first. A step of `or_after` told before
    will do as well.
    """

    before: str = ""
    after: str = ""
    why: str = ""
    procedure: str | None = None
    extent: str | None = None
    further: tuple[str, ...] = ()
    or_after: tuple[str, ...] = ()


@dataclass(frozen=True)
class Expected(Entry):
    """Steps a procedure has; `identifier` says that its graft carries a tissue identifier."""

    procedure: str = ""
    steps: tuple[str, ...] = ()
    extent: str | None = None
    identifier: bool = False


@dataclass(frozen=True)
class Opening(Entry):
    """Steps with which an operation begins: what is told before them sums up."""

    steps: tuple[str, ...] = ()


@dataclass(frozen=True)
class Late(Entry):
    """A step that, told several times, has its place at the first telling after any of the steps `after`."""

    step: str = ""
    after: tuple[str, ...] = ()
    why: str = ""


@dataclass(frozen=True)
class Limits:
    """Everything the packs in force know of sizes and order, by name."""

    measurements: Mapping[str, Limit] = field(default_factory=dict)
    special: Mapping[str, Limit] = field(default_factory=dict)
    elements: Mapping[str, RequiredElement] = field(default_factory=dict)
    constants: Mapping[str, Constant] = field(default_factory=dict)
    orders: Mapping[str, StepOrder] = field(default_factory=dict)
    expected: Mapping[str, Expected] = field(default_factory=dict)
    openings: Mapping[str, Opening] = field(default_factory=dict)
    lates: Mapping[str, Late] = field(default_factory=dict)

    @cached_property
    def needs(self) -> Mapping[str, frozenset[str]]:
        """The steps that each step needs before it."""
        return _grouped((pair.after, pair.before) for pair in self.orders.values())

    @cached_property
    def needed_by(self) -> Mapping[str, frozenset[str]]:
        """The steps that need each step before them."""
        return _grouped((pair.before, pair.after) for pair in self.orders.values())

    @cached_property
    def opening(self) -> frozenset[str]:
        """The steps with which an operation begins."""
        return frozenset(code for entry in self.openings.values() for code in entry.steps)


def _grouped(pairs: Iterable[tuple[str, str]]) -> dict[str, frozenset[str]]:
    found: dict[str, set[str]] = {}
    for key, value in pairs:
        found.setdefault(key, set()).add(value)
    return {key: frozenset(values) for key, values in found.items()}


def load_limits(extra: Iterable[Path] = ()) -> Limits:
    """Read the limits and step orders of the shipped packs and of those in the folders `extra`.

    Raises:
        GrammarError: at the first mistake, with file, line and what to do.
    """
    return read_limits(pack_folders(extra))


def read_limits(folders: Iterable[Path]) -> Limits:
    """Read `limits.toml` and `order.toml` of each pack folder, in the order given.

    Raises:
        GrammarError: see `load_limits`.
    """
    entries: dict[str, Entry] = {}
    for folder in folders:
        for path in (folder / "limits.toml", folder / "order.toml"):
            if path.is_file():
                _read(path, entries)
    limits = Limits(
        {name: limit for name, limit in _only(entries, Limit).items() if IN_CASES not in name},
        {
            name: replace(limit, name=name.partition(IN_CASES)[0])
            for name, limit in _only(entries, Limit).items()
            if IN_CASES in name
        },
        _only(entries, RequiredElement),
        _only(entries, Constant),
        _only(entries, StepOrder),
        _only(entries, Expected),
        _only(entries, Opening),
        _only(entries, Late),
    )
    for name, limit in limits.special.items():
        if limit.name not in limits.measurements:
            near = _meant(limit.name, limits.measurements)
            raise GrammarError(f"{limit.where}: '{name}': {limit.name!r} has no entry{near}")
    for limit in limits.measurements.values():
        if limit.follows and limit.follows not in limits.measurements:
            near = _meant(limit.follows, limits.measurements)
            raise GrammarError(f"{limit.where}: 'follows' names {limit.follows!r}, which has no entry{near}")
    return limits


@lru_cache(maxsize=8)
def limits_of(folders: tuple[Path, ...]) -> Limits:
    """Give what `read_limits` reads, read once a process: for callers that take one note after another."""
    return read_limits(folders)


def _only(entries: Mapping[str, Entry], form: type[Any]) -> dict[str, Any]:
    return {name.partition(".")[2] if form in (RequiredElement, Constant) else name: entry
            for name, entry in entries.items() if isinstance(entry, form)}  # fmt: skip


def _read(path: Path, entries: dict[str, Entry]) -> None:
    shown = f"{path.parent.name}/{path.name}"
    table = pack_table(path)
    lines = _lines(pack_text(path))
    for name, body in table.items():
        where = f"{shown}:{lines.get((name, ''), 1)}"
        if not isinstance(body, dict):
            raise GrammarError(f'{where}: {name!r} stands outside any entry; open one with ["name"]')
        form = _form(name, path.name, where)
        _known_keys(body, form, name, shown, lines)
        if name in entries and not body.get("replaces"):
            raise GrammarError(
                f"{where}: '{name}' stands in {entries[name].where} already; change it there, "
                "or write 'replaces = true' to put this one in its place"
            )
        if body.get("replaces") and name not in entries:
            raise GrammarError(f"{where}: 'replaces', but no earlier pack has '{name}'{_meant(name, entries)}")
        entries[name] = _entry(form, name, body, where)


def _lines(text: str) -> dict[tuple[str, str], int]:
    """Give the line of each heading (key "") and of each key under it."""
    out: dict[tuple[str, str], int] = {}
    heading = ""
    for number, raw in enumerate(text.splitlines(), 1):
        if match := HEADING.match(raw):
            heading = match[1]
            out[(heading, "")] = number
        elif match := KEY.match(raw):
            out.setdefault((heading, match[1]) if heading else (match[1], ""), number)
    return out


def _form(name: str, file: str, where: str) -> str:
    if file == "order.toml":
        if BEFORE.match(name):
            return "before"
        form = name.partition(": ")[0]
        if form in ("expected", "opening", "late"):
            return form
        raise GrammarError(
            f"{where}: '{name}' is neither 'one-step before another-step' nor 'expected: a procedure', "
            "'opening: a name' or 'late: a-step'"
        )
    head, dot, rest = name.partition(".")
    if not dot or not rest:
        raise GrammarError(f"{where}: '{name}' reads neither 'thing.dimension' nor 'element.name' nor 'constant.name'")
    return head if head in ("element", "constant") else "limit"


def _meant(word: str, known: Iterable[str]) -> str:
    near = difflib.get_close_matches(word, list(known), n=1)
    return f", did you mean {near[0]!r}?" if near else ""


def _known_keys(
    body: Mapping[str, object], form: str, name: str, shown: str, lines: Mapping[tuple[str, str], int]
) -> None:
    own, needed = FORMS[form]
    keys = {**own, **COMMON_KEYS}
    for key, value in body.items():
        where = f"{shown}:{lines.get((name, key), lines.get((name, ''), 1))}: '{name}'"
        if key not in keys:
            raise GrammarError(f"{where}: unknown key {key!r}{_meant(key, keys)} (known: {', '.join(keys)})")
        if not _fits(value, keys[key]):
            raise GrammarError(f"{where}: '{key}' must be {DESCRIBED[keys[key]]}, not {value!r}")
        if key == "verified" and value not in VERIFIED:
            raise GrammarError(f"{where}: 'verified' is one of {', '.join(VERIFIED)}, not {value!r}")
    for key in needed:
        if key not in body:
            raise GrammarError(f"{shown}:{lines.get((name, ''), 1)}: '{name}' needs '{key}'")


DESCRIBED = {
    "text": "text in quotes",
    "texts": "a list of texts",
    "number": "a number",
    "pair": "a list of two numbers, low then high",
    "yes-no": "true or false",
}


def _fits(value: object, kind: str) -> bool:
    match kind:
        case "text":
            return isinstance(value, str) and bool(value.strip())
        case "texts":
            return isinstance(value, list) and bool(value) and all(isinstance(v, str) and v for v in value)
        case "number":
            return _is_number(value)
        case "pair":
            return isinstance(value, list) and len(value) == 2 and all(map(_is_number, value)) and value[0] < value[1]
        case _:
            return isinstance(value, bool)


def _is_number(value: object) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool) and abs(value) < 1e9


CLASSES: dict[str, type[Any]] = {
    "limit": Limit, "element": RequiredElement, "constant": Constant, "before": StepOrder, "expected": Expected,
    "opening": Opening, "late": Late,
}  # fmt: skip


def _entry(form: str, name: str, body: Mapping[str, Any], where: str) -> Entry:
    values: dict[str, Any] = {k: tuple(v) if isinstance(v, list) else v for k, v in body.items() if k != "replaces"}
    if form == "limit":
        _limit_makes_sense(name, values, where)
    if form == "before":
        match = BEFORE.match(name)
        assert match  # _form saw it
        values |= {"before": match[1], "after": match[2]}
    if form == "late":
        values["step"] = name.partition(": ")[2]
    entry: Entry = CLASSES[form](name=name, where=where, **values)
    return entry


def _limit_makes_sense(name: str, values: Mapping[str, Any], where: str) -> None:
    possible, usual = values.get("possible"), values.get("usual")
    if possible and "why" not in values:
        raise GrammarError(f"{where}: '{name}' has 'possible' but not 'why'; say what forbids a value outside it")
    if usual and not {"source", "verified"} <= set(values):
        raise GrammarError(f"{where}: '{name}' has 'usual' but not 'source' and 'verified'; say where it is from")
    if usual and possible and not possible[0] <= usual[0] <= usual[1] <= possible[1]:
        raise GrammarError(f"{where}: the usual range of '{name}' reaches outside the possible one; mend one of them")
    if "follows" in values and not {"check", "tolerance"} <= set(values):
        raise GrammarError(f"{where}: '{name}' has 'follows' but not 'check' and 'tolerance'")
    for key in ("apart", "same", "split", "near", "one_finding"):
        if key in values and not values.get("single"):
            raise GrammarError(f"{where}: '{name}' has '{key}', which means something only beside 'single = true'")
