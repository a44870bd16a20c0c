"""The recognizer, loaded when it is first needed and kept."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path

from extractor.speech.transcript import Transcript

Recognizer = Callable[[Path], Transcript]
"""Takes a sound file, gives its words."""


def lazy_recognizer(model: str | None = None, *, hotwords: str | None = None, threads: int = 0) -> Recognizer:
    """A recognizer that loads its weights at the first call.

    Args:
        model: as for `extractor.speech.model.load_model`.
        hotwords: words of the trade to expect.
        threads: processor threads; 0 takes what there is.
    """
    lock = threading.Lock()
    loaded: list[Recognizer] = []

    def load() -> Recognizer:
        from extractor.speech.model import load_model  # here: the page opens before the recognizer is in memory
        from extractor.speech.recognize import recognize

        ready = load_model(model, threads=threads)
        return lambda path: recognize(path, model=ready, hotwords=hotwords)

    def hear(path: Path) -> Transcript:
        with lock:
            if not loaded:
                loaded.append(load())
            return loaded[0](path)

    return hear
