"""Times and names as the store writes them."""

from __future__ import annotations

import secrets
from datetime import UTC, datetime


def now() -> str:
    """This moment in UTC, ISO 8601, to the millisecond."""
    return datetime.now(UTC).isoformat(timespec="milliseconds")


def new_id() -> str:
    """A name that tells nothing: random, fit for URLs."""
    return secrets.token_hex(8)
