"""The schema. `migrations/` makes it; a test compares the two."""

from __future__ import annotations

from sqlalchemy import (
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    PrimaryKeyConstraint,
    String,
    Table,
    Text,
)

metadata = MetaData()


def _case_id() -> Column[str]:
    return Column("case_id", String(32), ForeignKey("cases.id"), nullable=False)


cases = Table(
    "cases",
    metadata,
    Column("id", String(32), primary_key=True),
    Column("created", String(32), nullable=False),
    Column("changed", String(32), nullable=False),
    Column("state", String(16), nullable=False),
    Column("version", Integer, nullable=False),
    Column("label", Text, nullable=False),
    Column("side", String(16)),
    Column("compartment", String(32)),
    Column("procedure_code", String(64)),
    Column("stops", Integer, nullable=False),
    Column("questions", Integer, nullable=False),
    Column("holder", Text),
    Column("trail_length", Integer, nullable=False),
    Column("trail_head", String(64), nullable=False),
    Index("cases_by_state", "state", "created"),
    Index("cases_by_time", "created"),
)

case_words = Table("case_words", metadata, _case_id(), Column("words", Text, nullable=False),
                   PrimaryKeyConstraint("case_id"))  # fmt: skip

versions = Table(
    "versions",
    metadata,
    _case_id(),
    Column("version", Integer, nullable=False),
    Column("undo_to", Integer),
    Column("author", Text, nullable=False),
    Column("made", String(32), nullable=False),
    Column("act", String(32), nullable=False),
    Column("body", LargeBinary, nullable=False),
    Column("body_sha256", String(64), nullable=False),
    PrimaryKeyConstraint("case_id", "version"),
)

trail = Table(
    "trail",
    metadata,
    _case_id(),
    Column("number", Integer, nullable=False),
    Column("at", String(32), nullable=False),
    Column("who", Text, nullable=False),
    Column("act", String(32), nullable=False),
    Column("detail", Text, nullable=False),
    Column("version", Integer, nullable=False),
    Column("body_sha256", String(64), nullable=False),
    Column("previous", String(64), nullable=False),
    Column("hash", String(64), nullable=False),
    PrimaryKeyConstraint("case_id", "number"),
)

signatures = Table(
    "signatures",
    metadata,
    _case_id(),
    Column("version", Integer, nullable=False),
    Column("who", Text, nullable=False),
    Column("role", String(16), nullable=False),
    Column("at", String(32), nullable=False),
    Column("record_sha256", String(64), nullable=False),
    Column("reason", Text),
    PrimaryKeyConstraint("case_id", "version"),
)

recordings = Table(
    "recordings",
    metadata,
    Column("id", String(32), primary_key=True),
    _case_id(),
    Column("kind", String(16), nullable=False),
    Column("addendum", Integer, nullable=False),
    Column("state", String(16), nullable=False),
    Column("made", String(32), nullable=False),
    Column("touched", String(32), nullable=False),
    Column("who", Text, nullable=False),
    Column("file_name", Text),
    Column("media_type", String(64)),
    Column("sound", String(64)),
    Column("done_s", Float, nullable=False),
    Column("total_s", Float),
    Column("heard", Text, nullable=False),
    Column("problem", Text),
    Index("recordings_by_state", "state", "made"),
    Index("recordings_by_case", "case_id"),
)

pieces = Table(
    "pieces",
    metadata,
    Column("recording_id", String(32), ForeignKey("recordings.id"), nullable=False),
    Column("number", Integer, nullable=False),
    Column("sha256", String(64), nullable=False),
    Column("size", Integer, nullable=False),
    PrimaryKeyConstraint("recording_id", "number"),
)

people = Table(
    "people",
    metadata,
    Column("name", String(64), primary_key=True),
    Column("role", String(16), nullable=False),
    Column("password", Text, nullable=False),
    Column("made", String(32), nullable=False),
)

sessions = Table(
    "sessions",
    metadata,
    Column("token_sha256", String(64), primary_key=True),
    Column("name", String(64), nullable=False),
    Column("role", String(16), nullable=False),
    Column("csrf", String(64), nullable=False),
    Column("ends", String(32), nullable=False),
)
