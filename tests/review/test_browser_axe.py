"""No violation of WCAG level A or AA that axe finds, on any page in any state; nothing is cut off at 200% zoom."""

from __future__ import annotations

from typing import Any

import pytest

from extractor.review.command import account
from tests.review.driving import open_case, open_list, read_through, violations
from tests.review.notes import CLEAN, FLAGGED
from tests.review.running import Page, add_text

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("width", [1440, 820, 720, 360], ids=["wide", "tablet", "200% zoom of 1440", "phone or 400%"])
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
    with light_page.program() as program:
        begun = program.post("/dictations", json={}).json()["case"]
    window.goto(f"{light_page.base}/cases/{begun}")
    look("a dictation cut off")
    window.goto(f"{light_page.base}/cases/{clean}/dictate")
    window.keyboard.press("r")
    window.wait_for_selector("#told:not([hidden])")
    look("an addendum that asks for its reason")
    open_case(window, light_page, flagged)
    with light_page.program() as program:
        step = {"version": int(window.get_attribute("#main", "data-version")), "act": {"do": "accept", "fact": "p1"}}
        assert program.post(f"/api/cases/{flagged}/acts", json=step).status_code == 200
    window.locator("#f-side .line").focus()
    window.keyboard.press("a")
    window.wait_for_selector("#told button")
    look("the later of two writers is told")
    account("Tansy", "scribe", "a long enough one", store=light_page.store)
    window.context.clear_cookies()
    window.goto(f"{light_page.base}/enter")
    look("signing in")
    window.fill("[name=name]", "Tansy")
    window.fill("[name=password]", "not the one")
    window.keyboard.press("Enter")
    window.wait_for_selector(".problem")
    look("a wrong password")
    assert not window.problems
