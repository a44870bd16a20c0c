"""The page in real Chromium: the whole way by keyboard, changing, adding, undoing, two people at once."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from extractor.review.command import account, audit
from tests.review.driving import (
    PATIENCE_MS,
    open_case,
    open_list,
    press,
    read_through,
    selected,
    version,
    violations,
    write,
)
from tests.review.notes import CLEAN, FLAGGED
from tests.review.running import Page, add_text, case_in, wait_for

pytestmark = pytest.mark.browser
DROP = """([name, text]) => {
  const held = new DataTransfer();
  held.items.add(new File([text], name, { type: "text/plain" }));
  for (const kind of ["dragenter", "dragover", "drop"])
    document.body.dispatchEvent(new DragEvent(kind, { dataTransfer: held, bubbles: true, cancelable: true }));
}"""
"""Drops a file on the page, as a person does from a folder."""


def test_from_a_dropped_note_to_the_signature_by_keyboard_alone(page: Page, browser: Any, tmp_path: Path) -> None:
    window = open_list(browser, page)
    window.set_input_files("#files", write(tmp_path, "flagged.txt", FLAGGED))
    window.wait_for_selector("text=flagged.txt")
    window.evaluate(DROP, ["dropped.txt", CLEAN])
    window.wait_for_selector("text=dropped.txt")
    assert "1 before signing" in window.inner_text("tbody")
    window.keyboard.press("j")
    window.keyboard.press("Enter")
    window.wait_for_selector("html[data-ready=yes]")
    case = case_in(window.url)
    assert selected(window)[0] == "question"  # the page opens on what it doubts
    assert "answer the question" in window.inner_text("#next")
    for what in ("#next", "#caution", "#f-side", ".question.selected .choices"):  # all in sight without scrolling
        box = window.locator(what).bounding_box()
        assert box["y"] >= 0 and box["y"] + min(box["height"], 60) <= window.locator(".keys").bounding_box()["y"], what
    assert "Not a medical device" in window.inner_text("#caution")
    labels = window.locator(".question.selected [data-choice]").all_inner_texts()
    fits = next(n for n, label in enumerate(labels, 1) if "graft is 19 mm" in label)
    press(window, str(fits))
    assert "before signing" not in window.inner_text("#next")
    assert selected(window) == ("fact", "side")  # and goes on to the first fact not yet read
    primary = window.locator('[data-primary="yes"]').count()
    answered = window.locator('[data-primary="yes"]:not([data-state="unreviewed"])').count()
    assert read_through(window) == primary - answered  # one key each
    press(window, "Enter")  # the button to sign has the focus
    assert "Signed by Marlow (surgeon)" in " ".join(window.inner_text("#next").split())
    window.click("text=Everything that happened")
    window.wait_for_selector("text=The trail holds")
    assert not window.problems
    page.stop()
    said: list[str] = []
    assert audit(case, say=said.append, store=page.store), said[-1]
    page.start()


def test_a_clean_case_of_fifteen_facts_costs_one_key_each_and_one_to_sign(light_page: Page, browser: Any) -> None:
    sutures = " ".join(
        f"{end} {side} is {color}."
        for end, side, color in [
            ("Posterior", "superior", "blue"), ("Posterior", "inferior", "white"), ("Anterior", "superior", "green"),
            ("Anterior", "inferior", "purple"),
        ]
    )  # fmt: skip
    note = (
        "Right knee, segmental lateral meniscal transplant. The time out was done. The rim was rasped. "
        "The defect measured twenty millimeters along the rim. From the rim to the free edge it was nine millimeters. "
        "The near edge was ten millimeters from the posterior root. "
        f"Four shuttle sutures went through the native meniscus. {sutures} "
        "On the back table the graft was thawed. The tissue number is three three one eight. "
        "The graft was cut at nineteen millimeters long by nine millimeters wide, starting ten millimeters from the "
        "posterior root of the graft. I tied posterior superior to posterior inferior and anterior superior to "
        "anterior inferior."
    )
    with light_page.program() as program:
        case = add_text(program, note)
        flags = program.get(f"/api/cases/{case}").json()["record"]["flags"]
    window = open_list(browser, light_page)
    open_case(window, light_page, case)
    stops = [f for f in flags if f["severity"] == "stop"]
    assert not stops, stops
    primary = window.locator('[data-primary="yes"]').count()
    assert primary >= 13
    if selected(window)[0] == "question":  # remarks do not stop: the sheet is read past them
        window.click("[data-do=read]")
    assert read_through(window) == primary
    press(window, "Enter")
    assert window.locator("text=Signed").count()


def test_a_value_is_checked_while_it_is_typed_changed_and_taken_back(light_page: Page, browser: Any) -> None:
    with light_page.program() as program:
        case = add_text(program, CLEAN)
    window = open_list(browser, light_page)
    open_case(window, light_page, case)
    tear = window.locator(".fact", has_text="length of the tear")
    tear.locator(".line").click()
    window.keyboard.press("c")
    field = tear.locator("input[name=value]")
    field.wait_for()
    assert field.input_value() == "12 mm"
    for typed, told in (("twelve", "Type a number"), ("900", "cannot be"), ("1.4 cm", "14 mm")):
        field.fill(typed)
        window.locator(".verdict", has_text=told).wait_for()
    press(window, "Enter")
    assert "14 mm" in tear.locator(".value").inner_text() and "12 mm" in tear.locator("del").inner_text()
    assert "changed" in tear.locator(".state").inner_text()
    press(window, "u")
    assert "14 mm" not in tear.inner_text() and "not yet read" in tear.inner_text()
    tear.locator(".line").click()
    press(window, "x")
    assert "rejected" in tear.locator(".state").inner_text()
    press(window, "u")
    assert "not yet read" in tear.locator(".state").inner_text()
    assert not window.problems


def test_selecting_a_fact_marks_its_words_and_selecting_a_word_shows_the_fact(light_page: Page, browser: Any) -> None:
    with light_page.program() as program:
        case = add_text(program, CLEAN)
    window = open_list(browser, light_page)
    open_case(window, light_page, case)
    window.locator(".fact", has_text="length of the tear").locator(".line").click()
    assert "twelve millimeters" in " ".join(window.locator(".w.mark").all_inner_texts())
    window.locator(".w", has_text="forty").click()
    assert "tourniquet" in window.locator(".fact.selected .name").inner_text()


def test_a_missed_fact_is_added_from_a_sentence_and_the_keys_can_be_turned_off(light_page: Page, browser: Any) -> None:
    with light_page.program() as program:
        case = add_text(program, CLEAN)
    window = open_list(browser, light_page)
    open_case(window, light_page, case)
    window.locator(".said-line", has_text="rasped both sides").locator(".clock").click()
    window.keyboard.press("m")
    window.wait_for_selector("dialog[open]")
    assert "rasped both sides" in window.inner_text("dialog blockquote")
    window.select_option("[data-kinds]", "steps")
    window.locator("dialog input[name=code]").fill("trephination")
    press(window, "Enter")
    fact = window.locator(".fact", has_text="trephination")
    assert "added by hand" in fact.inner_text() and "rasped both sides" in fact.locator(".rests").inner_text()
    window.uncheck("#keys-on")
    window.keyboard.press("x")
    window.check("#keys-on")
    press(window, "u")
    assert fact.count() == 0  # what is taken back is the adding: the key pressed while keys were off did nothing
    assert not window.problems


def test_the_later_of_two_reviewers_is_told_and_neither_change_is_lost(page: Page, chromium: Any) -> None:
    account("Tansy", "scribe", "a long enough one", store=page.store)
    with page.program() as program:
        case = add_text(program, CLEAN)
    first = open_list(chromium(), page)
    second = chromium().new_context().new_page()
    second.set_default_timeout(PATIENCE_MS)
    second.goto(page.base)
    second.fill("[name=name]", "Tansy")
    second.fill("[name=password]", "a long enough one")
    second.click("button.strong")
    second.wait_for_selector("#rows")
    open_case(first, page, case)
    open_case(second, page, case)
    first.locator("#f-side .line").click()
    press(first, "a")
    second.locator("#f-p1 .line").click()
    second.keyboard.press("a")
    told = second.locator("#told", has_text="Marlow accepted side (left)")
    told.wait_for()
    assert "accepted" in second.locator("#f-side .state").inner_text()  # already shown as it now is
    assert "not yet read" in second.locator("#f-p1 .state").inner_text()
    before = version(second)
    second.click("text=Do it all the same")
    second.wait_for_selector(f'#main:not([data-version="{before}"])')
    with page.program() as program:
        review = program.get(f"/api/cases/{case}").json()["record"]["review"]
    assert {fact: entry["who"] for fact, entry in review.items()} == {"side": "Marlow", "p1": "Tansy"}


def test_a_signed_case_is_changed_only_by_an_amendment_with_its_reason(light_page: Page, browser: Any) -> None:
    with light_page.program() as program:
        case = add_text(program, CLEAN)
    window = open_list(browser, light_page)
    open_case(window, light_page, case)
    window.locator("#f-side .line").click()
    read_through(window)
    press(window, "s")
    assert window.locator(".acts >> text=Accept").count() == 0
    window.fill("[data-form=amend] input", "a value was heard again")
    press(window, "Enter")
    assert "a value was heard again" in window.inner_text("#questions")
    window.locator(".fact", has_text="length of the tear").locator(".line").click()
    window.keyboard.press("c")
    window.locator("input[name=value]").fill("13")
    press(window, "Enter")
    press(window, "s")
    assert "amended: a value was heard again" in " ".join(window.inner_text("#next").split())


def test_a_case_is_settled_and_signed_by_touch_on_a_tablet(light_page: Page, chromium: Any) -> None:
    with light_page.program() as program:
        case = add_text(program, FLAGGED)
    window = open_list(chromium(), light_page, has_touch=True, is_mobile=True)
    window.set_viewport_size({"width": 820, "height": 1180})
    open_case(window, light_page, case)
    assert not window.locator(".keys .map").is_visible()  # keys are for those who have them
    for _ in range(60):
        if window.get_attribute("#main", "data-ready") == "yes":
            break
        before = version(window)
        kind, _id = selected(window)
        on = (
            ".question.selected [data-choice]:not([data-asks])"
            if kind == "question"
            else ".fact.selected .acts >> text=Accept"
        )
        window.locator(on).first.tap()
        window.wait_for_selector(f'#main:not([data-version="{before}"])')
    assert not violations(window)
    window.locator("#sign").tap()
    window.wait_for_selector("text=Open an amendment")
    assert "Signed by Marlow" in " ".join(window.inner_text("#next").split())


def test_search_and_filter_by_keyboard(light_page: Page, browser: Any) -> None:
    with light_page.program() as program:
        add_text(program, CLEAN + " Wetherby pattern.", "searched.txt")
        add_text(program, FLAGGED, "other.txt")
    window = open_list(browser, light_page)
    window.keyboard.press("/")
    window.keyboard.type("radial wetherby")
    wait_for(lambda: window.locator("tbody a").all_inner_texts() == ["searched.txt"])  # it searches while one types
    assert "radial" not in window.url
    window.fill("#query", "nothing like it")
    window.wait_for_selector("text=No case fits that")


def test_the_sheet_prints_alone_and_says_that_it_is_a_draft(light_page: Page, browser: Any) -> None:
    with light_page.program() as program:
        case = add_text(program, FLAGGED)
    window = open_list(browser, light_page)
    open_case(window, light_page, case)
    window.emulate_media(media="print")
    assert window.locator(".status").is_visible() and "DRAFT" in window.inner_text(".status")
    assert not window.locator("#questions").is_visible() and not window.locator("#said").is_visible()
    assert window.locator("#f-side .value").is_visible()
