"""Sound to record beside plain faster-whisper on the same file with the same weights; start-up and peak memory.

Each is run in a process of its own, so that the memory is its own, in turns, so that a busy machine troubles both.
Plain means faster-whisper as it comes: its defaults, English, no hotwords, words without times, and no record at all.
"""

from __future__ import annotations

import json
import resource
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

RECORDING = Path(__file__).resolve().parents[1] / "audio_demo" / "segmental-transplant.ogg"
TURNS = 3
ROUNDS = 2
"""Times a process reads the recording; the first, with its libraries still loading, does not count."""


def plain(path: Path) -> dict[str, float]:
    """Recognize with faster-whisper alone."""
    started = time.perf_counter()
    from extractor.speech.model import load_model

    whisper = load_model().whisper
    loaded = time.perf_counter()
    for _ in range(ROUNDS):
        begun = time.perf_counter()
        segments, info = whisper.transcribe(str(path), language="en")
        words = sum(len(segment.text.split()) for segment in segments)
        took = time.perf_counter() - begun
    return _figures(loaded - started, took, info.duration, words)


def whole(path: Path) -> dict[str, float]:
    """Recognize, read and check: all that `extractor extract` does but the printing."""
    started = time.perf_counter()
    from extractor.grammar.packs import load_grammar
    from extractor.pipeline import extract
    from extractor.speech.model import load_model, words_to_expect
    from extractor.speech.recognize import recognize

    grammar = load_grammar()
    model = load_model()
    loaded = time.perf_counter()
    for _ in range(ROUNDS):
        begun = time.perf_counter()
        transcript = recognize(path, model=model, hotwords=words_to_expect(model, grammar))
        recognized = time.perf_counter()
        record = extract(transcript, grammar, case_id="bench")
        took = time.perf_counter() - begun
    figures = _figures(loaded - started, took, transcript.seconds or 0.0, len(transcript.words))
    return figures | {"reading": took - (recognized - begun), "facts": float(len(record.measurements))}


WAYS = {"plain": plain, "whole": whole}


def run(path: Path = RECORDING) -> Iterator[str]:
    """Lines to print: seconds, ratio, start-up and memory."""
    results: dict[str, list[dict[str, float]]] = {name: [] for name in WAYS}
    for _ in range(TURNS):
        for name in WAYS:
            results[name].append(_in_own_process(name, path))
    best = {name: min(found, key=lambda figures: figures["took"]) for name, found in results.items()}
    a, b = best["plain"], best["whole"]
    yield f"{path.name}, {a['sound']:.0f} s of sound; best of {TURNS} turns"
    yield f"faster-whisper, plain    {a['took']:6.2f} s   {a['took'] / a['sound']:.3f} of real time"
    yield f"sound to checked record  {b['took']:6.2f} s   {b['took'] / b['sound']:.3f} of real time"
    yield f"ratio                    {b['took'] / a['took']:6.2f}     (reading and checking take {b['reading']:.3f} s)"
    yield f"start-up                 {b['start']:6.2f} s   with grammar; recognizer alone {a['start']:.2f} s"
    yield f"peak memory              {b['memory']:6.0f} MiB plain faster-whisper {a['memory']:.0f} MiB"


def _figures(start: float, took: float, sound: float, words: int) -> dict[str, float]:
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return {"start": start, "took": took, "sound": sound, "words": float(words), "memory": memory}


def _in_own_process(name: str, path: Path) -> dict[str, float]:
    command = [sys.executable, "-m", "benchmarks.speech", name, str(path)]
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    figures: dict[str, Any] = json.loads(done.stdout)
    return figures


if __name__ == "__main__":
    print(json.dumps(WAYS[sys.argv[1]](Path(sys.argv[2]))))
