"""${message}."""

from __future__ import annotations

revision = ${repr(up_revision)}
down_revision = ${repr(down_revision)}


def upgrade() -> None:
    """Change the schema."""
