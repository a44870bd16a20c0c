"""The audit trail: each line carries the hash of the line before it, so that no line can be altered unseen."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, select

from extractor.review.store.tables import cases, signatures, trail, versions

START = "0" * 64
"""What the first line of a case names as the line before it."""


@dataclass(frozen=True)
class Line:
    """One line of a trail."""

    case_id: str
    number: int
    at: str
    who: str
    act: str
    detail: str
    version: int
    body_sha256: str
    previous: str
    hash: str

    @property
    def right_hash(self) -> str:
        """The hash that the line's own contents give."""
        return link(self.__dict__)


def link(line: Mapping[str, Any]) -> str:
    """SHA-256 of a line's contents, the hash before it among them, as canonical JSON."""
    keys = ("case_id", "number", "at", "who", "act", "detail", "version", "body_sha256", "previous")
    return sha256(json.dumps([line[key] for key in keys], ensure_ascii=False, separators=(",", ":")).encode())


def sha256(data: bytes) -> str:
    """Hexadecimal SHA-256."""
    return hashlib.sha256(data).hexdigest()


def append(
    connection: Connection, case_id: str, *, at: str, who: str, act: str, detail: Mapping[str, Any], version: int,
    body_sha256: str,
) -> None:  # fmt: skip
    """Add a line to a case's trail, in the transaction that makes the change it tells of."""
    row = connection.execute(select(cases.c.trail_length, cases.c.trail_head).where(cases.c.id == case_id)).one()
    line: dict[str, Any] = {
        "case_id": case_id,
        "number": row.trail_length + 1,
        "at": at,
        "who": who,
        "act": act,
        "detail": json.dumps(detail, ensure_ascii=False, sort_keys=True),
        "version": version,
        "body_sha256": body_sha256,
        "previous": row.trail_head,
    }
    line["hash"] = link(line)
    connection.execute(trail.insert().values(**line))
    connection.execute(
        cases.update().where(cases.c.id == case_id).values(trail_length=line["number"], trail_head=line["hash"])
    )


def read_trail(connection: Connection, case_id: str) -> list[Line]:
    """Every line of a case, first to last."""
    rows = connection.execute(select(trail).where(trail.c.case_id == case_id).order_by(trail.c.number))
    return [Line(**row._mapping) for row in rows]


def verify(connection: Connection, case_id: str) -> str | None:
    """Look for the first thing in a case's history that was altered.

    Returns:
        None where every link holds; else one sentence naming the first broken link.
    """
    lines = read_trail(connection, case_id)
    bodies = {row.version: row for row in connection.execute(select(versions).where(versions.c.case_id == case_id))}
    before = START
    for count, line in enumerate(lines, 1):
        if line.number != count:
            return f"line {count} is missing; the next one kept is line {line.number}"
        if line.previous != before or line.hash != line.right_hash:
            return f"line {count} ({line.at}, {line.act}) was altered; its hash does not follow from its contents"
        body = bodies.get(line.version)
        if line.body_sha256 and (body is None or sha256(body.body) != line.body_sha256):
            gone = "is gone" if body is None else "was altered"
            return f"line {count} ({line.at}, {line.act}): version {line.version} of the record {gone} since"
        before = line.hash
    return _verify_ends(connection, case_id, lines, before)


def _verify_ends(connection: Connection, case_id: str, lines: list[Line], head: str) -> str | None:
    row = connection.execute(select(cases).where(cases.c.id == case_id)).one()
    if row.trail_length != len(lines) or row.trail_head != head:
        return f"the trail ends at line {len(lines)}, but {row.trail_length} lines were written"
    signed = {line.version: json.loads(line.detail).get("record_sha256") for line in lines if line.act == "sign"}
    for signature in connection.execute(select(signatures).where(signatures.c.case_id == case_id)):
        if signed.get(signature.version) != signature.record_sha256:
            return f"the signature of version {signature.version} is not the one the trail tells of"
    return None
