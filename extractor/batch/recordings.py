"""Many recordings on a graphics card: while it recognizes one, other processes listen again to those before.

Recognition is mostly the card's work there, and the second reading a processor's. On a processor alone there is
nothing to gain so, since one recording keeps all cores busy.
"""

from __future__ import annotations

import multiprocessing
import signal
import threading
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection
from pathlib import Path
from queue import Empty, Queue
from typing import Any

from extractor.batch.inputs import NoteFile
from extractor.batch.read import Job, Outcome, Settings, failure, make_ready, write_one
from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.record import CaseRecord
from extractor.second_reading import second_reading
from extractor.speech.asking import answer, introduce, introduced
from extractor.speech.audio import Samples, read_last
from extractor.speech.decoder import Decoder
from extractor.speech.model import SpeechModel
from extractor.speech.transcript import Transcript

FEW = 4
"""So many recordings are read sooner than other processes are started."""
LISTENERS = 2
"""Processes that listen again: together they are quicker than a card recognizes."""
DONE = "done"
Recognize = Callable[[Path], tuple[Transcript, SpeechModel]]
"""Takes a recording, gives its words and the recognizer that heard them."""


@dataclass(frozen=True)
class Heard:
    """A recognized recording, to be read and listened to again.

    Attributes:
        job: the recording, and where its record goes.
        transcript: its words.
        samples: its sound; None where it is too long to be kept.
        model: the recognizer.
        outcome: what comes of it.
    """

    job: Job
    transcript: Transcript
    samples: Samples | None
    model: SpeechModel
    outcome: Future[Outcome]


def read_recordings(
    jobs: Sequence[Job], recognize: Recognize, settings: Settings, *, processes: int = LISTENERS
) -> Iterator[Outcome]:
    """Recognize recordings one by one, have them read and listened to again beside it, and write their records.

    A recording that cannot be read gives an outcome with an error; the others are read all the same. Those of a process
    that is ended from outside are read in this one.

    Args:
        jobs: recordings and where their records go.
        recognize: recognizes one, in this process and thread.
        settings: packs and schedule.
        processes: processes that listen again.

    Yields:
        An outcome for each, in the order given.
    """
    listeners = _Listeners(settings, processes)
    waiting: deque[Future[Outcome]] = deque()
    try:
        for job in jobs:
            waiting.append(_begun(job, recognize, listeners))
            while waiting and waiting[0].done():
                yield waiting.popleft().result()
        while waiting:
            yield waiting.popleft().result()
    finally:
        listeners.close()


def _begun(job: Job, recognize: Recognize, listeners: _Listeners) -> Future[Outcome]:
    outcome: Future[Outcome] = Future()
    try:
        transcript, model = recognize(job.note.path)
        samples = read_last(job.note.path)
    except Exception as error:  # as in `write_one`
        outcome.set_result(failure(job.note, error))
    else:
        listeners.put(Heard(job, transcript, samples, model, outcome))
    return outcome


class _Listeners:
    """Processes that read and listen again, each with a thread here that answers it."""

    def __init__(self, settings: Settings, count: int) -> None:
        """Start them: they load their packs while the recognizer is loaded here."""
        self._settings = settings
        self._heard: Queue[Heard | None] = Queue(2 * count)  # the sound of few recordings is kept at once
        context = multiprocessing.get_context("spawn")
        self._processes: list[Any] = []
        self._threads: list[threading.Thread] = []
        for _ in range(count):
            here, there = context.Pipe()
            process = context.Process(target=_listen, args=(there, settings), daemon=True)
            process.start()
            there.close()
            self._processes.append(process)
            self._threads.append(threading.Thread(target=self._serve, args=(here,), daemon=True))
        for thread in self._threads:
            thread.start()

    def put(self, heard: Heard) -> None:
        """Have a recording read and listened to, as soon as a process is free."""
        self._heard.put(heard)

    def close(self) -> None:
        """End them. What nobody has begun is left."""
        with suppress(Empty):
            while True:
                self._heard.get_nowait()
        for _ in self._threads:
            self._heard.put(None)
        for thread in self._threads:
            thread.join()
        for process in self._processes:
            process.join()

    def _serve(self, end: Connection) -> None:
        """Give one process its recordings, and answer what it asks."""
        there, known = True, False
        with end:
            while heard := self._heard.get():
                try:
                    if there and not known:
                        introduce(end, heard.model)
                        known = True
                    outcome = _served(end, heard) if there else self._read_here(heard)
                except Exception:  # the process was ended from outside, or cannot be told what it needs
                    there = False
                    outcome = self._read_here(heard)
                heard.outcome.set_result(outcome)

    def _read_here(self, heard: Heard) -> Outcome:
        return _written(heard.job, heard.transcript, heard.samples, heard.model, self._settings)


def _served(end: Connection, heard: Heard) -> Outcome:
    end.send((heard.job, heard.transcript, heard.samples))
    while (asked := end.recv())[0] != DONE:
        answer(end, heard.model, asked)
    outcome: Outcome = asked[1]
    return outcome


def _listen(end: Connection, settings: Settings) -> None:
    """What a process does: reads and listens to what it is given until nothing more comes."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the process that it works for tells of it
    make_ready(load_grammar(settings.grammars))
    try:
        decoder = introduced(end)
        while True:
            job, transcript, samples = end.recv()
            end.send((DONE, _written(job, transcript, samples, decoder, settings)))
    except (EOFError, OSError):
        return


def _written(
    job: Job, transcript: Transcript, samples: Samples | None, decoder: Decoder, settings: Settings
) -> Outcome:
    """Read a transcript, listen again and write the record."""

    def read(note: NoteFile) -> CaseRecord:
        grammar, schedule = load_grammar(settings.grammars), settings.schedule
        record = extract(transcript, grammar, case_id=note.case_id, schedule=schedule)
        sound = note.path if samples is None else samples
        return second_reading(record, sound, transcript, decoder, grammar, schedule=schedule)

    return write_one(job, read)
