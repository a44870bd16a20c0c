"""What the second reading costs by the clock: recordings one by one, and many as `extractor extract` reads them.

    python -m benchmarks.beside RECORDING... [--device cuda] [--processes 2]

One by one, its seconds are held against recognition's. Of many at once, it is held how much longer they take with it
than without, beginning when everything is loaded: on a card other processes listen to what was recognized before.
`benchmarks.speech_set` gives the same in processor time.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

from extractor.batch.inputs import NoteFile
from extractor.batch.read import Job, Settings, make_ready, write_one
from extractor.batch.recordings import LISTENERS, read_recordings
from extractor.grammar.packs import Grammar, load_grammar
from extractor.pipeline import extract
from extractor.record import CaseRecord
from extractor.second_reading import second_reading
from extractor.speech.model import SpeechModel, load_model
from extractor.speech.recognize import recognize
from extractor.speech.transcript import Transcript

ROUNDS = 2


def one_by_one(sounds: Sequence[Path], model: SpeechModel, grammar: Grammar) -> tuple[float, float, float]:
    """Seconds of recognition, of reading and of the second reading, over all recordings."""
    recognizing = reading = listening = 0.0
    for sound in sounds:
        begun = time.perf_counter()
        transcript = recognize(sound, model=model)
        recognized = time.perf_counter()
        record = extract(transcript, grammar, case_id=sound.stem)
        read = time.perf_counter()
        second_reading(record, sound, transcript, model, grammar)
        listening += time.perf_counter() - read
        recognizing += recognized - begun
        reading += read - recognized
    return recognizing, reading, listening


def many(sounds: Sequence[Path], model: SpeechModel, grammar: Grammar, out: Path) -> float:
    """Seconds to recognize, read and write all, without the second reading."""

    def read(note: NoteFile) -> CaseRecord:
        return extract(recognize(note.path, model=model), grammar, case_id=note.case_id)

    begun = time.perf_counter()
    for job in _jobs(sounds, out):
        _require(write_one(job, read).error)
    return time.perf_counter() - begun


def many_again(sounds: Sequence[Path], model: SpeechModel, out: Path, processes: int) -> float:
    """The same with it, beside recognition, from when every process has read something."""
    warm = _jobs(list(sounds[:1]) * (2 * processes), out / "warm")
    begun: list[float] = []

    def hear(path: Path) -> tuple[Transcript, SpeechModel]:
        while len(begun) == len(warm) and not all(job.target.exists() for job in warm):
            time.sleep(0.01)
        begun.append(time.perf_counter())
        return recognize(path, model=model), model

    for outcome in read_recordings([*warm, *_jobs(sounds, out)], hear, Settings(), processes=processes):
        _require(outcome.error)
    return time.perf_counter() - begun[len(warm)]


def _require(error: str | None) -> None:
    if error:
        raise SystemExit(error)


def _jobs(sounds: Sequence[Path], out: Path) -> list[Job]:
    out.mkdir(exist_ok=True)
    return [Job(NoteFile(sound, "audio"), out / f"{number}.json") for number, sound in enumerate(sounds)]


def run(sounds: Sequence[Path], device: str, counts: Sequence[int]) -> Iterator[str]:
    """Lines to print."""
    model, grammar = load_model(device=device), load_grammar()
    make_ready(grammar)
    one_by_one(sounds[:1], model, grammar)  # with everything loaded
    recognizing, reading, listening = one_by_one(sounds, model, grammar)
    yield f"{len(sounds)} recordings one by one: recognition {recognizing:.2f} s, reading {reading:.2f} s"
    yield f"  second reading {listening:.2f} s, {listening / recognizing:.2f} of recognition"
    for _ in range(ROUNDS):
        with tempfile.TemporaryDirectory() as folder:
            alone = many(sounds, model, grammar, Path(folder))
        yield f"many at once: without the second reading {alone:.2f} s"
        for count in counts:
            with tempfile.TemporaryDirectory() as folder:
                both = many_again(sounds, model, Path(folder), count)
            cost = (both - alone) / recognizing
            yield f"  with it, beside in {count} processes {both:.2f} s: {cost:.2f} of recognition"


def main() -> None:
    """Command line."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("sounds", type=Path, nargs="+")
    parser.add_argument("--device", choices=("cpu", "cuda"), default="cuda")
    parser.add_argument("--processes", type=int, nargs="+", default=[LISTENERS])
    options = parser.parse_args()
    for line in run(options.sounds, options.device, options.processes):
        sys.stdout.write(line + "\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
