"""Cases and their versions. Every change makes a version; none is overwritten."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, select

from extractor.review.models import Person, Sheet, State
from extractor.review.store import trail
from extractor.review.store.bodies import body_of, record_sha256, sheet_of
from extractor.review.store.clock import new_id, now
from extractor.review.store.connect import Store, StoreError, reading, writing
from extractor.review.store.tables import case_words, cases, signatures, versions


class StaleError(Exception):
    """Somebody changed the case since the writer last saw it."""


@dataclass(frozen=True)
class Row:
    """A case's line in the list."""

    id: str
    created: str
    changed: str
    state: State
    version: int
    label: str
    side: str | None
    compartment: str | None
    procedure_code: str | None
    stops: int
    questions: int
    holder: str | None


@dataclass(frozen=True)
class Case:
    """A case with its present version; `sheet` is None until something was recognized."""

    row: Row
    sheet: Sheet | None
    undo_to: int | None
    author: str | None


@dataclass(frozen=True)
class Summary:
    """What the list shows of a sheet."""

    side: str | None
    compartment: str | None
    procedure_code: str | None
    stops: int
    questions: int
    words: str


@dataclass(frozen=True)
class Change:
    """One step of a case from a version to the next."""

    sheet: Sheet
    summary: Summary
    act: str
    detail: Mapping[str, Any]
    state: State
    undo_to: int | None = None
    signs: bool = False
    author: str | None = None


ROW = [cases.c[name] for name in Row.__dataclass_fields__]


def create_case(
    connection: Connection, *, label: str, state: State, who: str, how: str, case_id: str | None = None
) -> str:
    """Make an empty case and give its id; its trail opens with how it came."""
    case_id, at = case_id or new_id(), now()
    connection.execute(
        cases.insert().values(
            id=case_id, created=at, changed=at, state=state, version=0, label=label, stops=0, questions=0,
            holder=None, trail_length=0, trail_head=trail.START,
        )
    )  # fmt: skip
    trail.append(connection, case_id, at=at, who=who, act="open", detail={"how": how}, version=0, body_sha256="")
    return case_id


def read_row(connection: Connection, case_id: str) -> Row:
    """One case's line.

    Raises:
        StoreError: where there is no such case.
    """
    row = connection.execute(select(*ROW).where(cases.c.id == case_id)).one_or_none()
    if row is None:
        raise StoreError("There is no such case in this store; look it up in the list.")
    return Row(**row._mapping)


def read_case(store: Store, case_id: str) -> Case:
    """A case as it stands.

    Raises:
        StoreError: where there is no such case.
    """
    with reading(store) as connection:
        row = read_row(connection, case_id)
        version = connection.execute(
            select(versions).where(versions.c.case_id == case_id, versions.c.version == row.version)
        ).one_or_none()
    if version is None:
        return Case(row, None, None, None)
    return Case(row, sheet_of(version.body), version.undo_to, version.author)


def read_version(store: Store, case_id: str, number: int) -> Case:
    """An earlier version, in the same form (`row` is the present one)."""
    with reading(store) as connection:
        row = read_row(connection, case_id)
        version = connection.execute(
            select(versions).where(versions.c.case_id == case_id, versions.c.version == number)
        ).one_or_none()
    if version is None:
        raise StoreError(f"The case has no version {number}.")
    return Case(row, sheet_of(version.body), version.undo_to, version.author)


def write_version(store: Store, case_id: str, seen: int, change: Change, person: Person) -> int:
    """Keep a change as the version after `seen`.

    Raises:
        StaleError: where the case is no longer at version `seen`; nothing is written then.
    """
    with writing(store) as connection:
        return write_in(connection, case_id, seen, change, person)


def write_in(connection: Connection, case_id: str, seen: int, change: Change, person: Person) -> int:
    """Do what `write_version` does, inside a transaction already open."""
    at, number = now(), seen + 1
    summary = change.summary
    values: dict[str, Any] = {
        "version": number, "changed": at, "state": change.state, "side": summary.side, "stops": summary.stops,
        "compartment": summary.compartment, "procedure_code": summary.procedure_code, "questions": summary.questions,
    }  # fmt: skip
    if person.role in ("surgeon", "scribe") and change.act != "read":
        values["holder"] = person.name
    done = connection.execute(cases.update().where(cases.c.id == case_id, cases.c.version == seen).values(**values))
    if done.rowcount != 1:
        raise StaleError
    body = body_of(change.sheet)
    digest = trail.sha256(body)
    detail = dict(change.detail)
    if change.signs:
        detail["record_sha256"] = record_sha256(change.sheet.record)
    connection.execute(
        versions.insert().values(
            case_id=case_id, version=number, undo_to=change.undo_to, author=change.author or person.name, made=at,
            act=change.act, body=body, body_sha256=digest,
        )
    )  # fmt: skip
    if change.signs:
        connection.execute(
            signatures.insert().values(
                case_id=case_id, version=number, who=person.name, role=person.role, at=at,
                record_sha256=detail["record_sha256"], reason=change.detail.get("reason"),
            )
        )  # fmt: skip
    trail.append(
        connection, case_id, at=at, who=person.name, act=change.act, detail=detail, version=number, body_sha256=digest
    )
    _keep_words(connection, case_id, summary.words, new=seen == 0)
    return number


def _keep_words(connection: Connection, case_id: str, words: str, *, new: bool) -> None:
    if not new:
        kept = connection.execute(select(case_words.c.words).where(case_words.c.case_id == case_id)).scalar_one()
        if kept == words:
            return
        connection.execute(case_words.update().where(case_words.c.case_id == case_id).values(words=words))
        return
    connection.execute(case_words.insert().values(case_id=case_id, words=words))


def set_state(connection: Connection, case_id: str, state: State) -> None:
    """Set the state of a case that has no version yet."""
    connection.execute(cases.update().where(cases.c.id == case_id).values(state=state, changed=now()))


def read_signatures(connection: Connection, case_id: str) -> list[Any]:
    """Who signed, oldest first."""
    rows = connection.execute(select(signatures).where(signatures.c.case_id == case_id).order_by(signatures.c.version))
    return list(rows)
