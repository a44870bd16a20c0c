"""Dictating with a demo recording as the microphone, hearing what was said, and killing the program meanwhile."""

from __future__ import annotations

import contextlib
import wave
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from extractor.review.hear.listening import as_int16, seconds_of
from extractor.review.store.connect import open_store
from extractor.review.store.recordings import with_state
from extractor.speech.audio import RATE, open_sound, read_samples
from tests.review.driving import open_case, open_list, press, read_through
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


@contextlib.contextmanager
def dictating(running: Page, chromium: Any, folder: Path, seconds: float) -> Iterator[Any]:
    fake = ("--use-fake-ui-for-media-stream", "--use-fake-device-for-media-stream", microphone(folder, seconds))
    browser = chromium(*fake)
    window = open_list(browser, running, permissions=["microphone"])
    window.goto(f"{running.base}/dictate")
    yield window
    browser.close()


@pytest.mark.speech
def test_from_dictating_to_the_signature(tmp_path: Path, chromium: Any) -> None:
    running = Page(str(tmp_path / "cases.sqlite"), free_port(), fake=False)
    running.start()
    with contextlib.ExitStack() as ends:
        ends.callback(running.kill)
        window = ends.enter_context(dictating(running, chromium, tmp_path, 40))
        window.keyboard.press("r")
        window.wait_for_selector(".record.on")
        wait_for(lambda: float(window.get_attribute("#level", "value") or 0) >= 0)
        window.wait_for_selector("#heard p:not(.hint)", timeout=120_000)  # what was understood, while still speaking
        window.wait_for_timeout(12_000)
        window.keyboard.press("p")
        assert "Go on" in window.inner_text("#record")
        window.keyboard.press("p")
        window.keyboard.press("e")
        window.wait_for_selector("#read-back:not([hidden])", timeout=180_000)
        back = window.inner_text("#read-back-list")
        assert "side:" in back and "extrusion of the meniscus: 4 mm" in back  # said as "four millimeters of extrusion"
        window.click("#go")
        window.wait_for_selector("html[data-ready=yes]")
        case = case_in(window.url)
        with running.program() as program:
            state = program.get(f"/api/cases/{case}").json()
        assert state["record"]["source"]["kind"] == "audio"
        # hear a fact: the sound is sought to half a second before its words
        fact = window.locator(".fact", has_text="extrusion of the meniscus")
        start = float(fact.get_attribute("data-sound").split("-")[0])
        fact.locator(".line").click()
        wait_for(lambda: window.evaluate("document.querySelector('audio').currentTime") >= max(0.0, start - 0.55))
        assert window.evaluate("document.querySelector('audio').currentTime") < start + 4
        window.locator("#f-side .line, .question").first.click()
        read_through(window)
        press(window, "s")
        assert "Signed by Marlow" in " ".join(window.inner_text("#next").split())
        assert not window.problems


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
        window.click("#record")
        window.wait_for_selector("#kept:has-text('kept as you speak')")
        window.wait_for_timeout(2500)
        running.kill()
        window.wait_for_selector("#kept:has-text('does not answer')")
        window.wait_for_timeout(2500)
        running.start()  # the same store: the browser is still signed in
        window.wait_for_selector("#kept:has-text('kept as you speak')")
        window.wait_for_timeout(1500)
        window.click("#end")
        window.wait_for_selector("#read-back:not([hidden])", timeout=60_000)
        spoken = sum(n * u for n, u in zip(map(int, window.inner_text("#clock").split(":")), (60, 1), strict=True))
        (copy,) = (tmp_path / "sound").glob("*.wav")
        assert abs(seconds_of(copy) - spoken) < 2.0  # what was spoken while the program was dead is there
        assert not list((tmp_path / "pieces").iterdir())


def test_a_page_closed_while_recording_leaves_what_it_recorded(tmp_path: Path, chromium: Any) -> None:
    running = Page(str(tmp_path / "cases.sqlite"), free_port())
    running.start()
    with contextlib.ExitStack() as ends:
        ends.callback(running.kill)
        window = ends.enter_context(dictating(running, chromium, tmp_path, 30))
        window.click("#record")
        window.wait_for_selector("#kept:has-text('kept as you speak')")
        window.wait_for_timeout(3000)
        other = window.context.new_page()
        window.close()
        other.goto(running.base)
        other.click("tbody a")
        other.click("text=Recognize what was kept")
        other.wait_for_selector("html[data-ready=yes]", timeout=60_000)
        (copy,) = (tmp_path / "sound").glob("*.wav")
        assert seconds_of(copy) > 2.0


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
