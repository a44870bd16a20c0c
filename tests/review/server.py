"""A review page as a program of its own, so that tests can kill it. Usage: server.py STORE PORT FAKE [FILE...]"""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path

from extractor.review.command import Door, serve
from extractor.review.hear.listening import seconds_of
from extractor.speech.transcript import Transcript, Word

SAYS = os.environ.get("REVIEW_FAKE_SAYS", "")
"""File that holds what is heard from now on; the sentence below where there is none."""
HEARD = "Right knee, medial meniscus repair. The tear is twelve millimeters long. I probed it and it is stable."


def fake_hear(path: Path) -> Transcript:
    """Hear the same words in any sound, spread evenly over it, after a while."""
    time.sleep(float(os.environ.get("REVIEW_FAKE_S", "0.4")))
    seconds = seconds_of(path)
    text = Path(SAYS).read_text(encoding="utf-8") if SAYS and Path(SAYS).exists() else HEARD
    words, at = [], 0
    parts = text.split(" ")
    for number, part in enumerate(parts):
        start = text.index(part, at)
        at = start + len(part)
        place = seconds * number / len(parts)
        words.append(Word(start=start, end=at, start_s=place, end_s=place + seconds / len(parts), probability=0.9))
    return Transcript(text=text, words=tuple(words), kind="audio", seconds=seconds, speech_model="fake", language="en")


if __name__ == "__main__":
    store, port, fake, *files = sys.argv[1:]
    serve(
        [Path(file) for file in files],
        say=lambda line: print(line, flush=True),
        store=store,
        door=Door(port=int(port)),
        name="Marlow",
        recognizer=fake_hear if fake == "fake" else None,
    )
