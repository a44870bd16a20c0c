"""Dictating with a demo recording as the microphone, hearing what was said, and killing the program meanwhile."""

from __future__ import annotations

import contextlib
import re
import wave
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from extractor.review.hear.listening import as_int16, seconds_of
from extractor.review.store.connect import open_store
from extractor.review.store.recordings import with_state
from extractor.speech.audio import RATE, open_sound, read_samples
from tests.review.driving import open_case, open_list, press, press_and_release, read_through, selected, violations
from tests.review.running import ROOT, Page, case_in, free_port, wait_for

pytestmark = pytest.mark.browser
DEMO = ROOT / "audio_demo" / "root-repair.ogg"


def microphone(folder: Path, seconds: float) -> str:
    """The flags that make a demo recording the browser's microphone."""
    import numpy as np

    sound = np.concatenate(list(read_samples(open_sound(DEMO))))[: int(seconds * RATE)]
    path = folder / "microphone.wav"
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes(as_int16(sound))
    return f"--use-file-for-fake-audio-capture={path}%noloop"


def clock(window: Any) -> int:
    """Seconds spoken, as the page shows them."""
    return sum(n * u for n, u in zip(map(int, window.inner_text("#clock").split(":")), (60, 1), strict=True))


def starts(fact: Any) -> float:
    """Second at which a fact's words begin."""
    return float(fact.get_attribute("data-sound").split("-")[0])


def pieces_kept(window: Any) -> set[int]:
    """Collects the numbers of the pieces that the program acknowledges from now on (told while the window is asked)."""
    kept: set[int] = set()

    def note(answer: Any) -> None:
        if found := re.search(r"/pieces/(\d+)$", answer.url):
            if answer.status == 204:
                kept.add(int(found[1]))

    window.on("response", note)
    return kept


def waiting_here(window: Any) -> int:
    """How many pieces the page holds that the program did not take."""
    found = re.search(r"(\d+) pieces wait", window.inner_text("#kept"))
    return int(found[1]) if found else 0


@contextlib.contextmanager
def dictating(running: Page, chromium: Any, folder: Path, seconds: float) -> Iterator[Any]:
    fake = ("--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream", microphone(folder, seconds))
    browser = chromium(*fake)
    window = open_list(browser, running, permissions=["microphone"])
    window.goto(f"{running.base}/dictate")
    yield window
    browser.close()


@pytest.mark.speech
def test_from_dictating_to_the_signature(hearing_page: Page, tmp_path: Path, chromium: Any) -> None:
    running = hearing_page
    with dictating(running, chromium, tmp_path, 40) as window:
        window.keyboard.press("r")
        window.wait_for_selector(".record.on")
        wait_for(lambda: float(window.get_attribute("#level", "value") or 0) > 0)
        window.wait_for_selector("#heard p:not(.hint)")  # what was understood, while still speaking
        wait_for(lambda: clock(window) >= 20)
        window.keyboard.press("p")
        assert "Go on" in window.inner_text("#record")
        window.keyboard.press("p")
        window.keyboard.press("e")
        window.wait_for_selector("#read-back:not([hidden])", timeout=600_000)
        back = window.inner_text("#read-back-list")
        window.click("#go")
        window.wait_for_selector("html[data-ready=yes]")
        case = case_in(window.url)
        with running.program() as program:
            record = program.get(f"/api/cases/{case}").json()["record"]
        assert record["source"]["kind"] == "audio" and f"side: {record['laterality']['value']}" in back
        told = [m for m in record["measurements"] if m["value"] is not None]
        assert told and all(f": {m['value']:g}" in back or f" {m['value']:g} " in back for m in told), back
        # hear a fact: the sound is sought to half a second before its words
        fact = next(f for f in window.locator(".fact[data-sound*='-']").all() if starts(f) > 1)
        press_and_release(window, fact.locator(".line"))
        wait_for(lambda: window.evaluate("document.querySelector('audio').currentTime") >= starts(fact) - 0.55)
        window.locator("#f-side .line").focus()
        read_through(window)
        press(window, "s")
        assert "Signed by Marlow" in " ".join(window.inner_text("#next").split())
        assert not window.problems


def test_the_whole_way_from_dictating_to_a_signed_addendum_with_a_kill_in_the_middle(
    page: Page, chromium: Any, tmp_path: Path
) -> None:
    """On each kind of store, without the recognizer: what it would hear is given."""
    assert page.says
    with dictating(page, chromium, tmp_path, 30) as window:
        kept = pieces_kept(window)
        window.keyboard.press("r")
        window.wait_for_selector("#facts dd:has-text('12 mm')")  # first facts while still speaking, the side first
        assert window.inner_text("#side").lower() == "right" and window.locator(".record.on").count()
        assert not violations(window)
        page.kill()
        wait_for(lambda: waiting_here(window) >= 1)
        before = max(kept)
        page.start()
        wait_for(lambda: max(kept) > before or window.wait_for_timeout(100))
        window.keyboard.press("e")
        window.wait_for_selector("#read-back:not([hidden])")
        assert "length of the tear: 12 mm" in window.inner_text("#read-back-list")
        assert not violations(window)
        window.keyboard.press("Enter")  # the way to the case has the focus
        window.wait_for_selector("html[data-ready=yes]")
        case = case_in(window.url)
        read_through(window)
        press(window, "s")
        page.says.write_text("Correction, the tear is thirteen millimeters long.", encoding="utf-8")
        window.click("text=Dictate an addendum")
        window.fill("#reason", "heard again")
        kept.clear()
        window.click("#record")
        wait_for(lambda: len(kept) >= 2 or window.wait_for_timeout(100))
        window.click("#end")
        window.wait_for_selector("#read-back:not([hidden])")
        window.click("#go")
        window.wait_for_selector("html[data-ready=yes]")
        tear = window.locator(".fact", has_text="length of the tear")
        assert "13 mm" in tear.inner_text() and "12 mm" in tear.locator("del").inner_text()
        assert "changed by the addendum" in tear.inner_text()
        assert window.locator("audio").count() == 2
        read_through(window)
        press(window, "s")
        assert "amended: heard again" in " ".join(window.inner_text("#next").split())
        assert not window.problems
    with page.program() as program:
        trail = program.get(f"/api/cases/{case}/trail").json()
    acts = [line["act"] for line in trail["lines"]]
    assert trail["broken"] is None and acts[:2] == ["open", "read"] and acts.count("sign") == 2
    assert acts.index("sign") < acts.index("amend") < acts.index("addendum")


def test_a_press_below_an_opened_fact_lands_where_it_was_made_and_is_heard(light_page: Page, browser: Any) -> None:
    with light_page.program() as program:
        case = program.post("/api/cases", files={"file": ("a.ogg", DEMO.read_bytes())}).json()["case"]
        wait_for(lambda: program.get(f"/api/cases/{case}").json()["state"] == "new")
    window = open_list(browser, light_page)
    window.set_viewport_size({"width": 800, "height": 480})  # little room: whatever opens or closes moves the rest
    open_case(window, light_page, case)
    window.locator("#f-side .line").focus()
    assert window.locator("#f-side .acts").is_visible()  # the keyboard's focus opens what it comes to
    tear = window.locator(".fact", has_text="length of the tear")
    press_and_release(window, tear.locator(".line"))
    assert tear.locator(".acts").is_visible() and not window.locator("#f-side .acts").is_visible()
    assert starts(tear) > 1
    wait_for(lambda: window.evaluate("document.querySelector('audio').currentTime") >= starts(tear) - 0.55)
    window.locator("#f-side .line").focus()
    assert selected(window) == ("fact", "side")  # after a press the keyboard leads again
    for line in window.locator(".fact .line").all():  # whatever is open, and wherever the page was scrolled to
        press_and_release(window, line)


def test_sound_is_given_in_ranges_so_that_any_second_is_found(light_page: Page) -> None:
    with light_page.program() as program:
        case = program.post("/api/cases", files={"file": ("a.ogg", DEMO.read_bytes())}).json()["case"]
        wait_for(lambda: program.get(f"/api/cases/{case}").json()["state"] == "new")
        part = program.get(f"/cases/{case}/sound/0", headers={"range": "bytes=1000-1999"})
        whole = program.get(f"/cases/{case}/sound/0").content
    assert part.status_code == 206 and part.content == whole[1000:2000]
    assert part.headers["content-range"] == f"bytes 1000-1999/{len(whole)}"


def test_a_kill_while_recording_loses_nothing_that_was_said(tmp_path: Path, chromium: Any) -> None:
    running = Page(str(tmp_path / "cases.sqlite"), free_port())
    running.start()
    with contextlib.ExitStack() as ends:
        ends.callback(running.kill)
        window = ends.enter_context(dictating(running, chromium, tmp_path, 30))
        kept = pieces_kept(window)
        window.click("#record")
        wait_for(lambda: len(kept) >= 2 or window.wait_for_timeout(100))
        running.kill()
        wait_for(lambda: waiting_here(window) >= 3)
        before = max(kept)
        running.start()  # the same store: the browser is still signed in
        wait_for(lambda: max(kept) >= before + 3 or window.wait_for_timeout(100))
        window.click("#end")
        window.wait_for_selector("#read-back:not([hidden])")
        assert kept == set(range(max(kept) + 1))  # what was spoken while the program was dead is there too, in order
        (copy,) = (tmp_path / "sound").glob("*.wav")
        assert seconds_of(copy) > before
        assert not list((tmp_path / "pieces").iterdir())


def test_a_page_closed_while_recording_leaves_what_it_recorded(tmp_path: Path, chromium: Any) -> None:
    running = Page(str(tmp_path / "cases.sqlite"), free_port())
    running.start()
    with contextlib.ExitStack() as ends:
        ends.callback(running.kill)
        window = ends.enter_context(dictating(running, chromium, tmp_path, 30))
        kept = pieces_kept(window)
        window.click("#record")
        wait_for(lambda: len(kept) >= 3 or window.wait_for_timeout(100))
        other = window.context.new_page()
        window.close()
        other.goto(running.base)
        other.click("tbody a")
        other.click("text=Recognize what was kept")
        other.wait_for_selector("html[data-ready=yes]")
        (copy,) = (tmp_path / "sound").glob("*.wav")
        assert seconds_of(copy) > 1.5


def test_a_kill_while_recognizing_is_taken_up_again_and_reviewing_goes_on(
    tmp_path: Path, browser: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("REVIEW_FAKE_S", "2")  # long enough to be caught in the middle
    running = Page(str(tmp_path / "cases.sqlite"), free_port())
    running.start()
    with contextlib.ExitStack() as ends:
        ends.callback(running.kill)
        long_sound = tmp_path / "long.wav"
        with wave.open(str(long_sound), "wb") as file:
            file.setnchannels(1)
            file.setsampwidth(2)
            file.setframerate(RATE)
            for _ in range(4):  # some pieces of the recognizer's work
                file.writeframes(as_int16(next(iter(read_samples(open_sound(DEMO))))) + b"\0\0" * (60 * RATE))
        window = open_list(browser, running)
        window.set_input_files("#files", long_sound)
        window.wait_for_selector("progress")
        store = open_store(running.store)
        wait_for(lambda: any(r.done_s > 0 for r in with_state(store, "waiting")))
        running.kill()
        (half,) = with_state(store, "waiting")
        assert half.total_s and 0 < half.done_s < half.total_s
        running.start()
        wait_for(lambda: with_state(store, "done"))
        (done,) = with_state(store, "done")
        assert done.heard.startswith(half.heard[:-1])  # what was recognized before the kill was not done again
        store.close()
        open_case(window, running, done.case_id)
        window.locator("#f-side .line").click()
        press(window, "a")
        running.kill()
        running.start()
        open_case(window, running, done.case_id)
        assert "accepted" in window.locator("#f-side .state").inner_text()  # what was acknowledged is kept
        press(window, "u")
        assert "not yet read" in window.locator("#f-side .state").inner_text()
