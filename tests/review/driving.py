"""Small helpers that drive a page as a person would. The page's policy forbids eval, so waiting is by selector."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import axe_playwright_python

from tests.review.running import Page

PATIENCE_MS = 180_000
"""How long a step may take before it counts as never done: long, since a busy machine with two cores is slow."""

SOURCE = next(Path(axe_playwright_python.__file__).parent.rglob("axe.min.js")).read_text(encoding="utf-8")
LEVELS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


def violations(window: Any) -> list[str]:
    window.evaluate(SOURCE)
    found = window.evaluate("levels => axe.run(document, {runOnly: {type: 'tag', values: levels}})", LEVELS)
    assert found["passes"], "axe looked at nothing"
    return [f"{v['id']}: {v['help']}: {[n['html'][:160] for n in v['nodes'][:3]]}" for v in found["violations"]]


def open_list(browser: Any, running: Page, **options: Any) -> Any:
    """A fresh browser window on the work list; any script error fails the test that asks `errors_of`."""
    context = browser.new_context(viewport={"width": 1440, "height": 900}, reduced_motion="reduce", **options)
    context.set_default_timeout(PATIENCE_MS)
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


def answer(window: Any, reason: str = "not heard well") -> None:
    """Answer the question selected, by keyboard: the first choice that asks no words, else left open with a reason."""
    choices = window.locator(".question.selected [data-choice]")
    plain = [c for c in choices.all() if c.get_attribute("data-asks") is None]
    if plain:
        press(window, plain[0].get_attribute("data-choice"))
        return
    window.keyboard.press(choices.last.get_attribute("data-choice"))
    window.locator(".question.selected form input").fill(reason)
    press(window, "Enter")


def read_through(window: Any, most: int = 120) -> int:
    """Answer each question and accept each fact until the case can be signed; gives how many there were.

    Begins at what is selected; where nothing is, as after a click beside everything, that is a fault of the page.
    """
    for count in range(most):
        if window.get_attribute("#main", "data-ready") == "yes":
            return count
        if selected(window)[0] == "question":
            answer(window)
        else:
            press(window, "a")
    raise AssertionError("the case never became ready to sign")


def press_and_release(window: Any, line: Any) -> None:
    """Click as a hand does, with time between press and release; nothing may move under the pointer meanwhile."""
    line.scroll_into_view_if_needed()
    before = line.bounding_box()
    window.mouse.move(before["x"] + before["width"] / 2, before["y"] + before["height"] * 0.8)
    window.mouse.down()
    held = line.bounding_box()
    window.mouse.up()
    assert held == before


def write(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path
