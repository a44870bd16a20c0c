from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from extractor.review.act.reading import Reader, load_reader
from extractor.review.models import Person
from extractor.review.store.connect import Store, open_store
from tests.review.running import FLAGS, Page, free_port, need_chromium, postgres

SURGEON = Person(name="Marlow", role="surgeon")
SCRIBE = Person(name="Tansy", role="scribe")
RESEARCHER = Person(name="Quill", role="researcher")


@pytest.fixture(scope="session")
def reader() -> Reader:
    return load_reader()


@pytest.fixture(scope="session")
def pg_url() -> Iterator[str]:
    with postgres() as url:
        yield url


@pytest.fixture(params=["sqlite", "postgresql"])
def store(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Store]:
    """Every test of the store runs on both kinds; each test on PostgreSQL has a schema of its own."""
    if request.param == "sqlite":
        made = open_store(str(tmp_path / "cases.sqlite"))
    else:
        made = open_store(own_schema(request.getfixturevalue("pg_url"), tmp_path.name), folder=tmp_path)
    yield made
    made.close()


def own_schema(url: str, name: str) -> str:
    import re

    import psycopg

    schema = "t_" + re.sub(r"\W", "_", name).lower()
    with psycopg.connect(url, autocommit=True) as connection:
        connection.execute(f"create schema if not exists {schema}")
    return f"{url}?options=-csearch_path%3D{schema}"


@pytest.fixture(params=["sqlite", "postgresql"])
def page(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Page]:
    """A running page on each kind of store; what it would hear is given."""
    running = Page(store_url(request, tmp_path), free_port(), says=tmp_path / "says.txt")
    running.start()
    yield running
    running.kill()


@pytest.fixture(params=["sqlite", "postgresql"])
def hearing_page(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Page]:
    """A running page on each kind of store, with the real recognizer."""
    running = Page(store_url(request, tmp_path), free_port(), fake=False)
    running.start()
    yield running
    running.kill()


def store_url(request: pytest.FixtureRequest, folder: Path) -> str:
    """A new store of the kind that the fixture's parameter names; its files lie in `folder`."""
    if request.param == "sqlite":
        return str(folder / "cases.sqlite")
    request.getfixturevalue("monkeypatch").setenv("EXTRACTOR_CASES", str(folder / "files"))
    return own_schema(request.getfixturevalue("pg_url"), folder.name)


@pytest.fixture(scope="session")
def light_page(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    """A running page on SQLite, shared by tests that each look only at cases of their own."""
    running = Page(str(tmp_path_factory.mktemp("page") / "cases.sqlite"), free_port())
    running.start()
    yield running
    running.kill()


@pytest.fixture(scope="session")
def chromium() -> Iterator[Callable[..., Any]]:
    """Opens browsers: `chromium(*flags)` gives one, closed at the end."""
    from playwright.sync_api import sync_playwright

    path = need_chromium()
    opened = []
    with sync_playwright() as playwright:

        def open_browser(*flags: str) -> Any:
            browser = playwright.chromium.launch(executable_path=path, args=[*FLAGS, *flags])
            opened.append(browser)
            return browser

        yield open_browser
        for browser in opened:
            browser.close()


@pytest.fixture(scope="session")
def browser(chromium: Callable[..., Any]) -> Any:
    return chromium()
