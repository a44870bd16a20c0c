"""Small helpers that drive a page as a person would. The page's policy forbids eval, so waiting is by selector."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from tests.review.running import Page


def open_list(browser: Any, running: Page, **options: Any) -> Any:
    """A fresh browser window on the work list; any script error fails the test that asks `errors_of`."""
    context = browser.new_context(viewport={"width": 1440, "height": 900}, **options)
    window = context.new_page()
    window.problems = []
    window.on("pageerror", lambda error: window.problems.append(str(error)))
    window.goto(running.door)
    window.wait_for_selector("#rows")
    return window


def open_case(window: Any, running: Page, case: str) -> None:
    window.goto(f"{running.base}/cases/{case}")
    window.wait_for_selector("html[data-ready=yes]")


def version(window: Any) -> str:
    return str(window.get_attribute("#main", "data-version"))


def press(window: Any, key: str) -> None:
    """Press a key that changes the case, and wait until the page shows it."""
    before = version(window)
    window.keyboard.press(key)
    window.wait_for_selector(f'#main:not([data-version="{before}"])')


def selected(window: Any) -> tuple[str, str]:
    """Kind and id of what is selected."""
    item = window.locator("[data-item].selected")
    if item.count() == 0:
        return "", ""
    kind = item.get_attribute("data-item")
    return kind, item.get_attribute("data-fact" if kind == "fact" else "data-flag")


def read_through(window: Any, most: int = 120) -> int:
    """Press the first choice of each question and accept each fact until the case can be signed; gives the keys."""
    for count in range(most):
        if window.get_attribute("#main", "data-ready") == "yes":
            return count
        press(window, "1" if selected(window)[0] == "question" else "a")
    raise AssertionError("the case never became ready to sign")


def write(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path
