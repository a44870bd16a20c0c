"""No violation of WCAG level A or AA that axe finds, on any page in any state; nothing is cut off at 200% zoom."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import axe_playwright_python
import pytest

from tests.review.driving import open_case, open_list, read_through
from tests.review.notes import CLEAN, FLAGGED
from tests.review.running import Page, add_text

pytestmark = pytest.mark.browser
SOURCE = next(Path(axe_playwright_python.__file__).parent.rglob("axe.min.js")).read_text(encoding="utf-8")
LEVELS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


def violations(window: Any) -> list[str]:
    window.evaluate(SOURCE)
    found = window.evaluate("levels => axe.run(document, {runOnly: {type: 'tag', values: levels}})", LEVELS)
    assert found["passes"], "axe looked at nothing"
    return [f"{v['id']}: {v['help']}: {[n['html'][:160] for n in v['nodes'][:3]]}" for v in found["violations"]]


@pytest.mark.parametrize("width", [1440, 720, 360], ids=["wide", "200% zoom of 1440", "phone or 400%"])
def test_every_page_is_free_of_violations_and_fits_its_width(light_page: Page, browser: Any, width: int) -> None:
    with light_page.program() as program:
        flagged, clean = add_text(program, FLAGGED, "flagged.txt"), add_text(program, CLEAN, "clean.txt")
    window = open_list(browser, light_page)
    window.set_viewport_size({"width": width, "height": 900})

    def look(what: str) -> None:
        assert not violations(window), what
        wider = window.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        assert wider <= 0, f"{what} is {wider} px wider than the window"

    look("work list")
    open_case(window, light_page, flagged)
    look("case with a question selected")
    window.locator("[data-asks]").first.click()
    look("case with an answer asking for words")
    window.keyboard.press("Escape")
    window.locator(".fact", has_text="length of the defect").locator(".line").click()
    window.keyboard.press("c")
    window.wait_for_selector("form.change")
    look("case with a form open")
    window.keyboard.press("Escape")
    window.keyboard.press("m")
    window.wait_for_selector("dialog[open]")
    window.select_option("[data-kinds]", "measurements")
    window.wait_for_selector("dialog form")
    look("adding a fact")
    window.keyboard.press("Escape")
    open_case(window, light_page, clean)
    window.locator("#f-side .line").click()
    read_through(window)
    look("case ready to sign")
    window.keyboard.press("s")
    window.wait_for_selector("[data-form=amend]")
    look("signed case")
    for path, what in ((f"/cases/{clean}/history", "history"), ("/dictate", "dictation"), ("/nowhere", "a problem")):
        window.goto(light_page.base + path)
        look(what)
    window.context.clear_cookies()
    window.goto(f"{light_page.base}/enter")
    look("the door")
    assert not window.problems
