"""Many notes on all cores. What comes out does not depend on how many there are, or which ends first."""

from __future__ import annotations

import gc
import multiprocessing
import os
import threading
import warnings
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from pathlib import Path

from extractor.batch.inputs import NoteFile, read_note
from extractor.checks.case import Schedule
from extractor.errors import ExtractorError, InputError
from extractor.grammar.packs import Grammar, load_grammar
from extractor.language.pieces import english
from extractor.pipeline import extract
from extractor.record import CaseRecord, write_record
from extractor.speech.transcript import Transcript

FEW = 24
"""So many notes are read sooner than another process is started."""


@dataclass(frozen=True)
class Job:
    """One note and the file its record goes to."""

    note: NoteFile
    target: Path


@dataclass(frozen=True)
class Outcome:
    """What came of a note: how many flags of each severity, or the sentence that says why there is no record."""

    note: NoteFile
    stops: int = 0
    reviews: int = 0
    error: str | None = None


@dataclass(frozen=True)
class Settings:
    """What every process needs to read notes alike."""

    grammars: tuple[Path, ...] = ()
    schedule: Schedule | None = None


def read_all(jobs: Sequence[Job], settings: Settings, *, cores: int | None = None) -> Iterator[Outcome]:
    """Read notes that are words already and write their records, in the order given.

    A note that cannot be read gives an outcome with an error; the others are read all the same.

    Args:
        jobs: notes and where their records go.
        settings: packs and schedule.
        cores: processes at once; None for as many as this process may use.

    Raises:
        GrammarError: for a mistake in a pack, before any note is read.
    """
    grammar = load_grammar(settings.grammars)
    cores = min(cores or usable_cores(), max(1, len(jobs) // FEW + 1))
    make_ready(grammar)  # a forked process then has every word list at hand
    if cores == 1:
        yield from (run_job(job, settings) for job in jobs)
        return
    # With threads about, forking is not safe.
    method = "fork" if "fork" in multiprocessing.get_all_start_methods() and threading.active_count() == 1 else "spawn"
    chunk = max(1, min(16, len(jobs) // (cores * 4)))
    with ProcessPoolExecutor(cores, mp_context=multiprocessing.get_context(method)) as pool:
        try:
            with warnings.catch_warnings():
                # From 3.12 on Python warns of forking beside threads of C libraries; numpy's stand still here.
                warnings.simplefilter("ignore", DeprecationWarning)
                outcomes = pool.map(run_job, jobs, [settings] * len(jobs), chunksize=chunk)
            yield from outcomes
        except BrokenProcessPool as error:
            raise InputError(
                "a reading process was ended from outside (out of memory?); run again with fewer --cores"
            ) from error
        finally:
            pool.shutdown(wait=True, cancel_futures=True)


def make_ready(grammar: Grammar) -> None:
    """Have a grammar's words at hand for all notes to come."""
    english()
    extract(Transcript(text="The knee, the meniscus."), grammar)
    gc.freeze()  # the packs stay for good: without them to walk over, long notes take a fifth less


def run_job(job: Job, settings: Settings) -> Outcome:
    """Read one note that is words already and write its record."""

    def read(note: NoteFile) -> CaseRecord:
        grammar = load_grammar(settings.grammars)
        return extract(read_note(note), grammar, case_id=note.case_id, schedule=settings.schedule)

    return write_one(job, read)


def write_one(job: Job, read: Callable[[NoteFile], CaseRecord]) -> Outcome:
    """Read one note and write its record; whatever goes wrong is told in the outcome and ends nothing else."""
    try:
        record = read(job.note)
        write_record(record, job.target)
    except Exception as error:  # a defect shown by one note must not end the reading of the others
        return failure(job.note, error)
    severities = [flag.severity for flag in record.flags]
    return Outcome(job.note, severities.count("stop"), severities.count("review"))


def failure(note: NoteFile, error: Exception) -> Outcome:
    """The outcome of a note that could not be read: what a user can mend in its own words, a defect as such."""
    if isinstance(error, ExtractorError):
        return Outcome(note, error=str(error))
    return Outcome(note, error=f"{note.path}: internal error, please report it ({type(error).__name__}: {error})")


def usable_cores() -> int:
    """Cores this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
