"""Opening a store: the engine, the schema brought up to date, the folders beside it."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from alembic import command
from alembic.config import Config
from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine import make_url
from sqlalchemy.exc import ArgumentError, DBAPIError

from extractor.errors import ExtractorError

MIGRATIONS = Path(__file__).resolve().parent / "migrations"


class StoreError(ExtractorError):
    """The store cannot be opened or does not hold what was asked for."""


@dataclass(frozen=True)
class Store:
    """An open store: database and the folder that sound lies in."""

    engine: Engine
    folder: Path
    shown: str

    def close(self) -> None:
        """Let go of the database."""
        self.engine.dispose()


def default_folder() -> Path:
    """Where cases lie unless a store is named: a folder in plain sight in the user's home."""
    return Path(os.environ.get("EXTRACTOR_CASES") or Path.home() / "extractor-cases")


def open_store(url: str | None = None, *, folder: Path | None = None) -> Store:
    """Open a store, made where there is none, with its schema brought up to date.

    Args:
        url: a file path or `sqlite:///` URL, or a `postgresql://` URL; None for the default file.
        folder: where sound lies; beside the SQLite file, or the default folder, unless given.

    Raises:
        StoreError: where it cannot be opened.
    """
    target, beside = _target(url)
    folder = folder or beside or default_folder()
    try:
        for place in (folder, folder / "sound", folder / "pieces", folder / "work"):
            place.mkdir(mode=0o700, parents=True, exist_ok=True)
        engine = _engine(target)
        with engine.connect() as connection:
            connection.exec_driver_sql("select 1")
        _migrate(engine)
    except (OSError, DBAPIError, ArgumentError, ImportError) as error:
        first = str(error).splitlines()[0]
        raise StoreError(f"{_shown(target)}: the store cannot be opened ({first}); check --store") from error
    return Store(engine, folder, _shown(target))


def _target(url: str | None) -> tuple[str, Path | None]:
    if url is None:
        url = str(default_folder() / "cases.sqlite")
    if url.startswith(("postgresql://", "postgres://")):
        return "postgresql+psycopg://" + url.split("://", 1)[1], None
    if "://" in url and not url.startswith("sqlite:///"):
        if url.startswith("postgresql+psycopg://"):
            return url, None
        raise StoreError(f"{url.split('://')[0]}: no such kind of store; give a file, or a postgresql:// URL")
    file = Path(url.removeprefix("sqlite:///")).expanduser().absolute()
    return f"sqlite:///{file}", file.parent


def _shown(target: str) -> str:
    return make_url(target).render_as_string(hide_password=True).removeprefix("sqlite:///")


def _engine(target: str) -> Engine:
    if not target.startswith("sqlite"):
        return create_engine(target, pool_pre_ping=True, hide_parameters=True)
    engine = create_engine(target, connect_args={"timeout": 20}, hide_parameters=True)  # errors name no patient
    file = make_url(target).database
    if file and not Path(file).exists():
        os.close(os.open(file, os.O_CREAT | os.O_RDWR, 0o600))  # readable by its owner only, from the start

    @event.listens_for(engine, "connect")
    def _connect(dbapi: Any, _: Any) -> None:
        dbapi.isolation_level = None  # transactions are begun below, not by the driver
        for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", "busy_timeout=20000"):
            dbapi.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        writes = connection.get_execution_options().get("writes")
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def _migrate(engine: Engine) -> None:
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    with engine.connect().execution_options(writes=True) as connection, connection.begin():
        config.attributes["connection"] = connection
        command.upgrade(config, "head")


@contextmanager
def reading(store: Store) -> Iterator[Connection]:
    """Give a connection for reading: one moment's state throughout."""
    with store.engine.connect() as connection:
        yield connection


@contextmanager
def writing(store: Store) -> Iterator[Connection]:
    """Give a connection whose changes are kept together, or not at all where the block raises."""
    with store.engine.connect().execution_options(writes=True) as connection, connection.begin():
        yield connection
