"""Many recordings on a card: while it recognizes one, other processes listen again to those before.

Recognition keeps the card waiting for little else, and the second reading is mostly a processor's work: done beside
each other they take hardly longer than recognition alone. On a processor alone there is nothing to gain so, since one
recording keeps all cores busy.
"""

from __future__ import annotations

import multiprocessing
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from extractor.batch.inputs import NoteFile
from extractor.batch.read import Job, Outcome, Settings, failure, write_one
from extractor.errors import InputError, ModelError
from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.record import CaseRecord
from extractor.second_reading import second_reading
from extractor.speech.model import SpeechModel, load_model
from extractor.speech.transcript import Transcript

FEW = 4
"""So many recordings are read sooner than other processes have a recognizer of their own."""
LISTENERS = 3
"""Processes at most that listen again: together they are quicker than any card recognizes."""


@dataclass(frozen=True)
class Listening:
    """What every process needs to read and listen alike: packs and schedule, and the recognizer (`load_model`)."""

    settings: Settings
    model: str | None = None
    plain: bool = False
    device: str = "cpu"


def read_recordings(
    jobs: Sequence[Job], recognize: Callable[[Path], Transcript], listening: Listening, *, processes: int
) -> Iterator[Outcome]:
    """Recognize recordings one by one, have them read and listened to beside it, and write their records, in order.

    A recording that cannot be read gives an outcome with an error; the others are read all the same.

    Args:
        jobs: recordings and where their records go.
        recognize: makes a recording's transcript, in this process.
        listening: packs, schedule and the recognizer.
        processes: processes that listen again.

    Raises:
        InputError: where one of them is ended from outside.
    """
    with ProcessPoolExecutor(processes, multiprocessing.get_context("spawn"), _ready, (listening,)) as pool:
        waiting: deque[Future[Outcome]] = deque()
        try:
            for job in jobs:
                waiting.append(_begun(job, recognize, listening, pool))
                while waiting[0].done():
                    yield waiting.popleft().result()
                    if not waiting:
                        break
            while waiting:
                yield waiting.popleft().result()
        except BrokenProcessPool as error:
            raise InputError(
                "a listening process was ended from outside (out of memory?); run again with --cores 1"
            ) from error
        finally:
            pool.shutdown(wait=True, cancel_futures=True)


def _begun(
    job: Job, recognize: Callable[[Path], Transcript], listening: Listening, pool: ProcessPoolExecutor
) -> Future[Outcome]:
    """A recording's outcome to come: recognized here, or why it could not be."""
    try:
        transcript = recognize(job.note.path)
    except Exception as error:  # as in `write_one`
        failed: Future[Outcome] = Future()
        failed.set_result(failure(job.note, error))
        return failed
    return pool.submit(_listen, job, transcript, listening)


def _listen(job: Job, transcript: Transcript, listening: Listening) -> Outcome:
    """Read a transcript, listen again and write the record."""

    def read(note: NoteFile) -> CaseRecord:
        grammar, schedule = load_grammar(listening.settings.grammars), listening.settings.schedule
        record = extract(transcript, grammar, case_id=note.case_id, schedule=schedule)
        return second_reading(record, note.path, transcript, _model(listening), grammar, schedule=schedule)

    return write_one(job, read)


def _ready(listening: Listening) -> None:
    """Load all that a process needs while the first recording is still being recognized."""
    extract(Transcript(text="The knee."), load_grammar(listening.settings.grammars))
    try:
        _model(listening)
    except ModelError:
        return  # told of the first recording


@lru_cache(maxsize=1)
def _model(listening: Listening) -> SpeechModel:
    return load_model(listening.model, plain=listening.plain, device=listening.device)
