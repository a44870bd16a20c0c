"""How well records agree with annotated notes (gold files, record contract, section 9).

Written for these tests from the contract alone: facts are paired one to one where everything an annotation says of a
kind's telling fields is the same in the record; what it leaves out is not scored.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from extractor.record import CaseRecord

Fact = Mapping[str, Any]

TELLING: dict[str, tuple[str, ...]] = {
    "procedures": ("code", "side", "compartment", "extent"),
    "measurements": ("what", "value", "low", "high", "unit", "site"),
    "sutures": ("tissue", "region", "surface", "color", "pattern", "form", "configuration", "technique"),
    "ties": ("between",),
    "steps": ("code",),
    "findings": ("structure", "finding", "pattern", "region"),
    "devices": ("kind", "size"),
    "plan": ("item", "value", "low", "high"),
}
"""The fields by which a fact of each kind is known again."""
PRIMARY = ("laterality", "measurements", "sutures", "ties")
NUMBERS = ("value", "low", "high")
CLOSE = 0.05
"""Half a tenth of a millimeter: what rounding in an annotation may leave (common practice, no source)."""


@dataclass
class Score:
    """Counts over some notes.

    Attributes:
        right: facts of each kind found; `extra`: those nobody annotated; `missed`: those not found.
        bad: taken traps, steps told as done that were not, false alarms; `of`: how many there were.
        flags: planted flags raised and not raised.
        errors: one line each, for the message of a failing test.
    """

    right: Counter[str] = field(default_factory=Counter)
    extra: Counter[str] = field(default_factory=Counter)
    missed: Counter[str] = field(default_factory=Counter)
    bad: Counter[str] = field(default_factory=Counter)
    of: Counter[str] = field(default_factory=Counter)
    notes: int = 0
    errors: list[str] = field(default_factory=list)

    def f1(self, *kinds: str) -> float:
        """Harmonic mean of precision and recall over some kinds taken together."""
        right, extra, missed = (sum(c[k] for k in kinds) for c in (self.right, self.extra, self.missed))
        return 2 * right / (2 * right + extra + missed)

    def share_bad(self, name: str) -> float:
        """Share of the traps (or of another thing counted in `of`) that went wrong."""
        return self.bad[name] / self.of[name]


def read_gold(path: Path) -> dict[str, Any]:
    """One annotated note."""
    gold: dict[str, Any] = yaml.safe_load(path.read_text(encoding="utf-8"))
    return gold


def score(pairs: Iterable[tuple[Mapping[str, Any], CaseRecord]]) -> Score:
    """Score the records of some annotated notes."""
    total = Score()
    for gold, record in pairs:
        total.notes += 1
        read = told(record)
        facts = gold.get("facts") or {}
        _score_side(gold, record, total)
        for kind, fields in TELLING.items():
            if kind in facts:
                optional = _entries(kind, (gold.get("optional") or {}).get(kind))
                _score_kind(str(gold["id"]), kind, read[kind], _entries(kind, facts[kind]), optional, fields, total)
        _score_traps(gold, read, record, total)
        _score_flags(gold, record, total)
    return total


def told(record: CaseRecord) -> dict[str, list[Fact]]:
    """What a record tells as done and seen: no references, no prior or absent facts, a step once."""
    data = record.model_dump(mode="json")
    performed = list(dict.fromkeys(s["code"] for s in data["steps"] if s["status"] == "performed"))
    return {
        "procedures": [p for p in data["procedures"] if p["status"] == "performed"],
        "measurements": [m for m in data["measurements"] if m["role"] != "reference"],
        "sutures": data["sutures"],
        "ties": [{"between": sorted(t["between"])} for t in data["ties"]],
        "steps": [{"code": code} for code in performed],
        "findings": [f for f in data["findings"] if f["status"] == "present"],
        "devices": data["devices"],
        "plan": data["plan"],
    }


def _entries(kind: str, annotated: Sequence[Any] | None) -> list[Fact]:
    """Annotated facts in the form of the record's; steps and ties are written short in the annotation."""
    out: list[Fact] = []
    for entry in annotated or ():
        if kind == "ties":
            entry = {"between": sorted(entry)}
        elif kind == "steps" and isinstance(entry, str):
            entry = {"code": entry}
        if entry.get("role") != "reference" and entry.get("status") not in ("prior", "planned", "absent"):
            if kind != "steps" or entry not in out:
                out.append(entry)
    return out


def agrees(read: Fact, annotated: Fact, fields: Iterable[str]) -> bool:
    """Whether everything annotated is the same in the fact read. A number annotated at all is annotated whole."""
    numbers = any(name in annotated for name in NUMBERS)
    for name in fields:
        if name not in annotated and not (numbers and name in NUMBERS and name in read):
            continue
        here, there = read.get(name), annotated.get(name)
        if isinstance(here, (int, float)) and isinstance(there, (int, float)):
            if abs(here - there) > CLOSE:
                return False
        elif here != there:
            return False
    return True


def _score_kind(
    note: str,
    kind: str,
    read: Sequence[Fact],
    wanted: Sequence[Fact],
    optional: Sequence[Fact],
    fields: tuple[str, ...],
    total: Score,
) -> None:
    left = list(read)
    for entry in sorted(wanted, key=len, reverse=True):  # those told most exactly choose first
        hit = next((fact for fact in left if agrees(fact, entry, fields)), None)
        if hit is None:
            total.missed[kind] += 1
            total.errors.append(f"{note}: missed {kind} {dict(entry)}")
        else:
            left.remove(hit)
            total.right[kind] += 1
    for fact in left:
        if not any(agrees(fact, entry, fields) for entry in optional):
            total.extra[kind] += 1
            total.errors.append(f"{note}: extra {kind} { {name: fact.get(name) for name in fields} }")


def _score_side(gold: Mapping[str, Any], record: CaseRecord, total: Score) -> None:
    facts = gold.get("facts") or {}
    if "laterality" not in facts:
        return
    side = record.laterality.value if record.laterality else None
    if side == facts["laterality"]:
        total.right["laterality"] += 1
        return
    total.missed["laterality"] += 1
    total.extra["laterality"] += side is not None
    total.errors.append(f"{gold['id']}: side {side}, not {facts['laterality']}")


def _score_traps(gold: Mapping[str, Any], read: Mapping[str, list[Fact]], record: CaseRecord, total: Score) -> None:
    facts = gold.get("facts") or {}
    done = {fact["code"] for fact in read["steps"]}
    for code in facts.get("not_performed") or ():
        wrong = code in done and code not in (facts.get("steps") or ())
        _count(total, "not_performed", wrong, f"{gold['id']}: {code} told as performed")
    for kind, traps in (gold.get("not_facts") or {}).items():
        for trap in traps if isinstance(traps, list) else [traps]:
            _count(total, "traps", _taken(kind, trap, read, record), f"{gold['id']}: took the trap {kind} {trap}")


def _taken(kind: str, trap: Any, read: Mapping[str, list[Fact]], record: CaseRecord) -> bool:
    if kind == "laterality":
        return record.laterality is not None and record.laterality.value == trap
    if kind == "ties":
        return {"between": sorted(trap)} in read["ties"]
    if not isinstance(trap, Mapping):
        return {"code": trap} in read["steps"]
    return any(all(_equal(fact.get(name), value) for name, value in trap.items()) for fact in read[kind])


def _equal(here: object, there: object) -> bool:
    if isinstance(here, (int, float)) and isinstance(there, (int, float)):
        return abs(here - there) <= CLOSE
    return here == there


def _score_flags(gold: Mapping[str, Any], record: CaseRecord, total: Score) -> None:
    raised = {flag.check for flag in record.flags}
    loud = {flag.check for flag in record.flags if flag.severity != "note"}
    for check in gold.get("flags") or ():
        _count(total, "flags", check not in raised, f"{gold['id']}: {check} not raised")
    for check in gold.get("no_flags") or ():
        _count(total, "false_alarms", check in loud, f"{gold['id']}: false alarm {check}")


def _count(total: Score, name: str, wrong: bool, error: str) -> None:
    total.of[name] += 1
    total.bad[name] += wrong
    if wrong:
        total.errors.append(error)
