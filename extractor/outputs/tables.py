"""Records as tidy tables: one row a fact, one table a kind of fact, every row with its case and its evidence.

The columns are those of the record's models, whatever the records hold, so that tables of different days fit together.
Units are UCUM codes. A cell that was not said is empty. Lists in one cell are parted by '; '.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from extractor.errors import InputError
from extractor.record import vocabulary as v
from extractor.record.facts import Element, Known, Laterality
from extractor.record.models import LISTS, CaseRecord, Flag, Repair

Row = dict[str, Any]
EVIDENCE = ("text", "rule", "start", "end", "start_s", "end_s", "places")
"""Of the first place a fact was said at; `places` is how many there are."""
KNOWN = ("id", "certainty", "evidence")
SOURCE = ("kind", "file_name", "sha256", "seconds", "speech_model", "language")
CASE = ("case_id", "side", *SOURCE, "procedures", "facts", "flags_stop", "flags_review", "flags_note", "repairs")


def tables(records: Sequence[CaseRecord]) -> dict[str, str]:
    """Give each table's name and its CSV text.

    Raises:
        InputError: where two records have the same case id.
    """
    _distinct(records)
    out = {"cases": _csv(CASE, (_case(r) for r in records))}
    out["laterality"] = _table("laterality", Laterality, records)
    for kind, (_, model) in LISTS.items():
        out[kind] = _table(kind, model, records)
    out["elements"] = _table("elements", Element, records)
    flag_columns = [name for name in Flag.model_fields if name not in ("evidence",)]
    out["flags"] = _csv(
        ("case_id", *flag_columns, "text", "start", "end", "start_s", "end_s"),
        (_flat(r, f, flag_columns) for r in records for f in r.flags),
    )
    repair_columns = [name for name in Repair.model_fields if name != "evidence"]
    out["repairs"] = _csv(
        ("case_id", *repair_columns, "text", "start", "end", "start_s", "end_s"),
        (_flat(r, p, repair_columns) for r in records for p in r.repairs),
    )
    return out


def _distinct(records: Sequence[CaseRecord]) -> None:
    seen: set[str] = set()
    for record in records:
        if record.case_id in seen:
            raise InputError(f"two records have the case id '{record.case_id}'; rename one, or leave one out")
        seen.add(record.case_id)


def _facts(record: CaseRecord, kind: str) -> tuple[Known, ...]:
    if kind == "laterality":
        return (record.laterality,) if record.laterality else ()
    if kind == "elements":
        return tuple(e for name in v.ELEMENTS if (e := getattr(record.elements, name)))
    found: tuple[Known, ...] = getattr(record, kind)
    return found


def _table(kind: str, model: type[Known], records: Sequence[CaseRecord]) -> str:
    names = [column for name in model.model_fields if name not in KNOWN for column in _columns(name)]
    columns = ("case_id", "id", *names, "certainty", *EVIDENCE, "review")
    return _csv(columns, (_row(record, fact) for record in records for fact in _facts(record, kind)))


def _columns(name: str) -> tuple[str, ...]:
    """A field's columns; a grade and a tie have two."""
    return {"grade": ("grade_system", "grade_value"), "between": ("between_1", "between_2")}.get(name, (name,))


def _row(record: CaseRecord, fact: Known) -> Row:
    row: Row = {"case_id": record.case_id, "id": fact.id, "certainty": fact.certainty}
    for name in type(fact).model_fields:
        if name in KNOWN:
            continue
        value = getattr(fact, name)
        if name == "grade":
            row |= {"grade_system": value.system if value else None, "grade_value": value.value if value else None}
        elif name == "between":
            row |= {"between_1": value[0], "between_2": value[1]}
        elif name in ("others", "compartment_others"):
            row[name] = [other.value for other in value]
        else:
            row[name] = value
    first = fact.evidence[0]
    row |= {name: getattr(first, name) for name in EVIDENCE if name != "places"}
    row |= {"places": len(fact.evidence)}
    row["review"] = record.review[fact.id].state if fact.id in record.review else "unreviewed"
    return row


def _flat(record: CaseRecord, entry: Flag | Repair, columns: Iterable[str]) -> Row:
    row: Row = {"case_id": record.case_id, **{name: getattr(entry, name) for name in columns}}
    if entry.evidence:
        first = entry.evidence[0]
        row |= {name: getattr(first, name) for name in ("text", "start", "end", "start_s", "end_s")}
    return row


def _case(record: CaseRecord) -> Row:
    severities = [flag.severity for flag in record.flags]
    return {
        "case_id": record.case_id,
        "side": record.laterality.value if record.laterality else None,
        **{name: getattr(record.source, name) for name in SOURCE},
        "procedures": [p.code for p in record.procedures if p.status == "performed"],
        "facts": sum(len(_facts(record, kind)) for kind in ("laterality", "elements", *LISTS)),
        **{f"flags_{name}": severities.count(name) for name in ("stop", "review", "note")},
        "repairs": len(record.repairs),
    }


def _csv(columns: Sequence[str], rows: Iterable[Row]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(columns)
    writer.writerows(_cells(columns, rows))
    return out.getvalue()


def _cells(columns: Sequence[str], rows: Iterable[Row]) -> Iterator[list[str]]:
    for row in rows:
        yield [_cell(row.get(column)) for column in columns]


def _cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return f"{value:.10g}"
    if isinstance(value, (tuple, list)):
        return "; ".join(_cell(part) for part in value)
    return str(value)
