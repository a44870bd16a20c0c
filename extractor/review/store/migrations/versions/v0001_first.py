"""The first schema; its trail and versions can be added to and never changed."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None

APPEND_ONLY = ("trail", "versions", "signatures")


def upgrade() -> None:
    """Make every table."""
    op.create_table(
        "cases",
        sa.Column("id", sa.String(32), primary_key=True),
        sa.Column("created", sa.String(32), nullable=False),
        sa.Column("changed", sa.String(32), nullable=False),
        sa.Column("state", sa.String(16), nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("label", sa.Text, nullable=False),
        sa.Column("side", sa.String(16)),
        sa.Column("compartment", sa.String(32)),
        sa.Column("procedure_code", sa.String(64)),
        sa.Column("stops", sa.Integer, nullable=False),
        sa.Column("questions", sa.Integer, nullable=False),
        sa.Column("holder", sa.Text),
        sa.Column("trail_length", sa.Integer, nullable=False),
        sa.Column("trail_head", sa.String(64), nullable=False),
    )
    op.create_index("cases_by_state", "cases", ["state", "created"])
    op.create_index("cases_by_time", "cases", ["created"])
    op.create_table(
        "case_words", _case_id(), sa.Column("words", sa.Text, nullable=False), sa.PrimaryKeyConstraint("case_id")
    )
    op.create_table(
        "versions",
        _case_id(),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("undo_to", sa.Integer),
        sa.Column("author", sa.Text, nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("act", sa.String(32), nullable=False),
        sa.Column("body", sa.LargeBinary, nullable=False),
        sa.Column("body_sha256", sa.String(64), nullable=False),
        sa.PrimaryKeyConstraint("case_id", "version"),
    )
    op.create_table(
        "trail",
        _case_id(),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("at", sa.String(32), nullable=False),
        sa.Column("who", sa.Text, nullable=False),
        sa.Column("act", sa.String(32), nullable=False),
        sa.Column("detail", sa.Text, nullable=False),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("body_sha256", sa.String(64), nullable=False),
        sa.Column("previous", sa.String(64), nullable=False),
        sa.Column("hash", sa.String(64), nullable=False),
        sa.PrimaryKeyConstraint("case_id", "number"),
    )
    op.create_table(
        "signatures",
        _case_id(),
        sa.Column("version", sa.Integer, nullable=False),
        sa.Column("who", sa.Text, nullable=False),
        sa.Column("role", sa.String(16), nullable=False),
        sa.Column("at", sa.String(32), nullable=False),
        sa.Column("record_sha256", sa.String(64), nullable=False),
        sa.Column("reason", sa.Text),
        sa.PrimaryKeyConstraint("case_id", "version"),
    )
    _recordings()
    _people()
    _append_only()


def _case_id() -> sa.Column[str]:
    return sa.Column("case_id", sa.String(32), sa.ForeignKey("cases.id"), nullable=False)


def _recordings() -> None:
    op.create_table(
        "recordings",
        sa.Column("id", sa.String(32), primary_key=True),
        _case_id(),
        sa.Column("kind", sa.String(16), nullable=False),
        sa.Column("addendum", sa.Integer, nullable=False),
        sa.Column("state", sa.String(16), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("touched", sa.String(32), nullable=False),
        sa.Column("who", sa.Text, nullable=False),
        sa.Column("file_name", sa.Text),
        sa.Column("media_type", sa.String(64)),
        sa.Column("sound", sa.String(64)),
        sa.Column("done_s", sa.Float, nullable=False),
        sa.Column("total_s", sa.Float),
        sa.Column("heard", sa.Text, nullable=False),
        sa.Column("problem", sa.Text),
    )
    op.create_index("recordings_by_state", "recordings", ["state", "made"])
    op.create_index("recordings_by_case", "recordings", ["case_id"])
    op.create_table(
        "pieces",
        sa.Column("recording_id", sa.String(32), sa.ForeignKey("recordings.id"), nullable=False),
        sa.Column("number", sa.Integer, nullable=False),
        sa.Column("sha256", sa.String(64), nullable=False),
        sa.Column("size", sa.Integer, nullable=False),
        sa.PrimaryKeyConstraint("recording_id", "number"),
    )


def _people() -> None:
    op.create_table(
        "people",
        sa.Column("name", sa.String(64), primary_key=True),
        sa.Column("role", sa.String(16), nullable=False),
        sa.Column("password", sa.Text, nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
    )
    op.create_table(
        "sessions",
        sa.Column("token_sha256", sa.String(64), primary_key=True),
        sa.Column("name", sa.String(64), nullable=False),
        sa.Column("role", sa.String(16), nullable=False),
        sa.Column("csrf", sa.String(64), nullable=False),
        sa.Column("ends", sa.String(32), nullable=False),
    )


def _append_only() -> None:
    """The database itself refuses to change or remove what was written into the trail."""
    if op.get_bind().dialect.name == "sqlite":
        for table in APPEND_ONLY:
            for verb in ("update", "delete"):
                op.execute(
                    f"create trigger {table}_no_{verb} before {verb} on {table} "
                    f"begin select raise(abort, '{table} is append-only'); end"
                )
        return
    op.execute(
        "create function append_only() returns trigger language plpgsql as "
        "$$ begin raise exception '% is append-only', tg_table_name; end $$"
    )
    for table in APPEND_ONLY:
        op.execute(
            f"create trigger {table}_append_only before update or delete on {table} "
            "for each row execute function append_only()"
        )
