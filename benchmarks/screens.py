"""Make the screenshots that the README shows, from the demo: work list, case, dictation.

Run `python -m benchmarks.screens [--out docs/screens]`. Needs Debian's chromium; the recognizer runs for real.
"""

from __future__ import annotations

import argparse
import re
import shutil
import socket
import sys
import tempfile
import threading
import time
import wave
from dataclasses import replace
from pathlib import Path
from typing import Any

import uvicorn

from extractor.review.command import Door, make_site
from extractor.review.hear.arrive import take_sound, take_text
from extractor.review.hear.engine import lazy_recognizer
from extractor.review.hear.listening import as_int16
from extractor.review.models import Person
from extractor.review.store.connect import open_store
from extractor.review.store.recordings import with_state
from extractor.review.web.app import make_app
from extractor.speech.audio import RATE, open_sound, read_samples

ROOT = Path(__file__).resolve().parent.parent
DEMO = ROOT / "audio_demo"
FLAGS = (
    "--no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking "
    "--disable-component-update --disable-sync --use-fake-ui-for-media-stream --use-fake-device-for-media-stream"
).split()
SURGEON = Person(name="Dr. Fennimore", role="surgeon")
SPOKEN_S = 24


def main() -> int:
    """Run a page on a store of its own and photograph it."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=Path, default=ROOT / "docs" / "screens")
    out = parser.parse_args().out
    chromium = shutil.which("chromium")
    if not chromium:
        sys.exit("chromium is not on this machine; install Debian's package of that name")
    out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, socket.socket(socket.AF_INET, socket.SOCK_STREAM, 6) as listener:
        listener.bind(("127.0.0.1", 0))
        listener.listen(16)
        port = listener.getsockname()[1]
        store = replace(open_store(str(Path(folder) / "cases.sqlite")), shown="~/extractor-cases/cases.sqlite")
        site = make_site(store, port, Door(port=port), recognizer=lazy_recognizer(), name=SURGEON.name)
        server = uvicorn.Server(uvicorn.Config(make_app(site), log_level="error", access_log=False))
        thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
        thread.start()
        for name in ("corrected-transplant", "formal-repair", "narrated-transplant"):
            text = (DEMO / f"{name}.txt").read_text(encoding="utf-8")
            take_text(store, site.reader, text, label=f"{name}.txt", person=SURGEON, how="demo")
        sound = (DEMO / "segmental-transplant.ogg").read_bytes()
        case = take_sound(store, [sound], label="segmental-transplant.ogg", person=SURGEON, how="demo")
        while with_state(store, "waiting"):
            time.sleep(0.3)
        door = f"http://127.0.0.1:{port}/enter?token={site.launch_token}"
        _photograph(chromium, door, case, Path(folder), out)
        server.should_exit = True
        thread.join(10)
        site.worker.join(60)  # it ends after its present piece
        store.close()
    return 0


def _photograph(chromium: str, door: str, case: str, folder: Path, out: Path) -> None:
    from playwright.sync_api import sync_playwright

    base = re.sub(r"/enter.*", "", door)
    microphone = f"--use-file-for-fake-audio-capture={_microphone(folder)}%noloop"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=[*FLAGS, microphone])
        context = browser.new_context(viewport={"width": 1440, "height": 920}, permissions=["microphone"])
        window: Any = context.new_page()
        window.goto(door)
        window.goto(f"{base}/cases/{case}")
        window.wait_for_selector("html[data-ready=yes]")
        window.wait_for_timeout(400)
        window.screenshot(path=out / "case.png")
        window.goto(f"{base}/dictate")
        window.keyboard.press("r")
        window.wait_for_timeout(SPOKEN_S * 1000)
        window.wait_for_selector("#heard p:not(.hint)")
        window.screenshot(path=out / "dictate.png")
        window.goto(base)
        window.wait_for_selector("tbody")
        window.screenshot(path=out / "list.png")
        browser.close()


def _microphone(folder: Path) -> Path:
    import numpy as np

    path = folder / "microphone.wav"
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes(as_int16(np.concatenate(list(read_samples(open_sound(DEMO / "root-repair.ogg"))))))
    return path


if __name__ == "__main__":
    sys.exit(main())
