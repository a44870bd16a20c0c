"""Accounts and sessions. Passwords are kept as argon2 hashes, session tokens as SHA-256."""

from __future__ import annotations

import hashlib
import hmac
import secrets
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import lru_cache

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError
from sqlalchemy import func, select

from extractor.review.models import Person, Role
from extractor.review.store.clock import now
from extractor.review.store.connect import Store, StoreError, reading, writing
from extractor.review.store.tables import people, sessions

LASTS = timedelta(hours=12)
SHORTEST = 10
"""Fewest characters of a password (NIST SP 800-63B asks for 8 at least; from memory)."""


@dataclass(frozen=True)
class Session:
    """A signed-in browser: who, and the token its changes must carry."""

    person: Person
    csrf: str


@lru_cache(maxsize=1)
def _hasher() -> PasswordHasher:
    return PasswordHasher()


@lru_cache(maxsize=1)
def _nobody() -> str:
    return _hasher().hash(secrets.token_hex(16))


def add_person(store: Store, name: str, role: Role, password: str) -> None:
    """Make an account, or give an existing one a new role and password.

    Raises:
        StoreError: for a name or password that will not do.
    """
    name = name.strip()
    if not 1 <= len(name) <= 64 or any(not c.isprintable() for c in name):
        raise StoreError("A name has 1 to 64 printable characters; choose another.")
    if len(password) < SHORTEST:
        raise StoreError(f"A password has {SHORTEST} characters or more; choose a longer one.")
    hashed = _hasher().hash(password)
    with writing(store) as connection:
        connection.execute(people.delete().where(people.c.name == name))
        connection.execute(people.insert().values(name=name, role=role, password=hashed, made=now()))
        connection.execute(sessions.delete().where(sessions.c.name == name))


def remove_person(store: Store, name: str) -> None:
    """Take an account away and end its sessions.

    Raises:
        StoreError: where there is none of this name.
    """
    with writing(store) as connection:
        gone = connection.execute(people.delete().where(people.c.name == name.strip())).rowcount
        connection.execute(sessions.delete().where(sessions.c.name == name.strip()))
    if not gone:
        raise StoreError(f"{name}: there is no account of that name; the names are as they were typed.")


def has_people(store: Store) -> bool:
    """Whether any account exists."""
    with reading(store) as connection:
        return bool(connection.execute(select(func.count()).select_from(people)).scalar_one())


def check_password(store: Store, name: str, password: str) -> Person | None:
    """The person this name and password are of; the same work is done for a name that does not exist."""
    with reading(store) as connection:
        row = connection.execute(select(people).where(people.c.name == name.strip())).one_or_none()
    try:
        _hasher().verify(row.password if row else _nobody(), password)
    except (VerificationError, InvalidHashError):
        return None
    return Person(name=row.name, role=row.role) if row else None


def open_session(store: Store, person: Person) -> str:
    """Sign a browser in; gives the token for its cookie."""
    token = secrets.token_urlsafe(32)
    ends = (datetime.now(UTC) + LASTS).isoformat(timespec="milliseconds")
    with writing(store) as connection:
        connection.execute(sessions.delete().where(sessions.c.ends < now()))
        connection.execute(
            sessions.insert().values(
                token_sha256=_hash(token), name=person.name, role=person.role, csrf=secrets.token_urlsafe(24), ends=ends
            )
        )
    return token


def find_session(store: Store, token: str) -> Session | None:
    """The session of a cookie, unless it has ended."""
    with reading(store) as connection:
        row = connection.execute(select(sessions).where(sessions.c.token_sha256 == _hash(token))).one_or_none()
    if row is None or row.ends < now():
        return None
    return Session(Person(name=row.name, role=row.role), row.csrf)


def close_session(store: Store, token: str) -> None:
    """Sign a browser out."""
    with writing(store) as connection:
        connection.execute(sessions.delete().where(sessions.c.token_sha256 == _hash(token)))


def same(a: str, b: str) -> bool:
    """Compare two secrets in the same time, whatever they are."""
    return hmac.compare_digest(a.encode(), b.encode())


def _hash(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()
