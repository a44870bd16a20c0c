"""Recordings and dropped files on their way to words: what waits, what runs, how far it is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, select

from extractor.review.store.clock import new_id, now
from extractor.review.store.connect import Store, StoreError, reading, writing
from extractor.review.store.tables import pieces, recordings


@dataclass(frozen=True)
class Recording:
    """A dictation or a dropped file. State: recording, waiting, done or failed."""

    id: str
    case_id: str
    kind: str
    addendum: int
    state: str
    made: str
    touched: str
    who: str
    file_name: str | None
    media_type: str | None
    sound: str | None
    done_s: float
    total_s: float | None
    heard: str
    problem: str | None


def add_recording(connection: Connection, case_id: str, *, name: str | None = None, **values: Any) -> str:
    """Note a recording or file that came for a case; gives its id."""
    name, at = name or new_id(), now()
    row = {"addendum": 0, "done_s": 0.0, "heard": "", "made": at, "touched": at, **values}
    connection.execute(recordings.insert().values(id=name, case_id=case_id, **row))
    return name


def change_recording(store: Store, name: str, **values: Any) -> None:
    """Set fields of a recording."""
    with writing(store) as connection:
        connection.execute(recordings.update().where(recordings.c.id == name).values(touched=now(), **values))


def mark_done(connection: Connection, name: str) -> None:
    """Note, in the transaction that keeps its words, that a recording is done."""
    connection.execute(recordings.update().where(recordings.c.id == name).values(state="done", touched=now()))


def read_recording(store: Store, name: str) -> Recording:
    """One recording.

    Raises:
        StoreError: where there is none of this id.
    """
    with reading(store) as connection:
        row = connection.execute(select(recordings).where(recordings.c.id == name)).one_or_none()
    if row is None:
        raise StoreError("There is no such recording.")
    return Recording(**row._mapping)


def with_state(store: Store, state: str, *, of_case: str | None = None) -> list[Recording]:
    """Recordings in a state, oldest first."""
    statement = select(recordings).where(recordings.c.state == state).order_by(recordings.c.made, recordings.c.id)
    if of_case:
        statement = statement.where(recordings.c.case_id == of_case)
    with reading(store) as connection:
        return [Recording(**row._mapping) for row in connection.execute(statement)]


def of_cases(connection: Connection, ids: list[str]) -> dict[str, Recording]:
    """The recording of each of these cases that is not done, where there is one."""
    rows = connection.execute(
        select(recordings)
        .where(recordings.c.case_id.in_(ids), recordings.c.state != "done")
        .order_by(recordings.c.made)
    )
    return {row.case_id: Recording(**row._mapping) for row in rows}


def note_piece(store: Store, name: str, number: int, sha256: str, size: int) -> None:
    """Note that a piece lies on the disk. The same number may come again, when an answer was lost on the way."""
    with writing(store) as connection:
        connection.execute(pieces.delete().where(pieces.c.recording_id == name, pieces.c.number == number))
        connection.execute(pieces.insert().values(recording_id=name, number=number, sha256=sha256, size=size))
        connection.execute(recordings.update().where(recordings.c.id == name).values(touched=now()))
