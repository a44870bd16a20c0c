"""The background thread: recognizes what waits, follows dictations as they run, looks into the watched folder.

It works in short turns, each kept in the store before the next, so that a stop at any moment costs one turn.
"""

from __future__ import annotations

import logging
import threading
import time
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path

from extractor.errors import ExtractorError
from extractor.record.models import CaseRecord
from extractor.review.act.reading import Reader
from extractor.review.hear.arrive import add_words, end_dictation, fail
from extractor.review.hear.engine import LazyRecognizer, Recognizer
from extractor.review.hear.listening import listening_copy, pieces_of, seconds_of, write_wav
from extractor.review.hear.live import Live
from extractor.review.hear.watch import Watch
from extractor.review.hear.words import join, pack, unpack
from extractor.review.models import Person
from extractor.review.store.connect import Store
from extractor.review.store.recordings import Recording, change_recording, read_recording, with_state
from extractor.review.store.sounds import clear_work, work_folder
from extractor.speech.transcript import Transcript

BROKEN_OFF = timedelta(minutes=5)
"""A dictation of whose page nothing was heard for so long has ended, whatever became of it."""
TRIES = 3
log = logging.getLogger("extractor.review")


class Worker(threading.Thread):
    """One thread, one recognizer."""

    def __init__(self, store: Store, reader: Reader, hear: Recognizer, watch: Path | None = None) -> None:
        """Make the thread; `start` runs it."""
        super().__init__(name="extractor-review-worker", daemon=True)
        self.store, self.reader, self.hear = store, reader, hear
        self.live = Live(store, hear)
        self.watch = Watch(store, reader, watch) if watch else None
        self.failures: dict[str, int] = {}
        self._seen: dict[str, datetime] = {}
        self._since = datetime.now(UTC)  # while the program was not there, no page could show that it is
        self._stop_asked = threading.Event()
        self._woken = threading.Event()

    def wake(self) -> None:
        """Say that something may be waiting."""
        self._woken.set()

    def stop(self) -> None:
        """Ask the thread to end after its present turn."""
        self._stop_asked.set()
        self._woken.set()

    def run(self) -> None:
        """Take turns until asked to stop."""
        clear_work(self.store)
        while not self._stop_asked.is_set():
            try:
                busy = self.turn()
            except Exception as error:  # the thread must live on; logged without its words, which may be a patient's
                log.error("a turn of the recognizer failed (%s); it is tried again", type(error).__name__)
                busy = False
                self._give_up()
                time.sleep(1.0)
            if not busy:
                self._woken.wait(0.5)
                self._woken.clear()

    def _give_up(self) -> None:
        """Lay the recording aside that failed again and again, so that the others go on."""
        waiting = with_state(self.store, "waiting")
        if not waiting:
            return
        name = waiting[0].id
        self.failures[name] = self.failures.get(name, 0) + 1
        if self.failures[name] >= TRIES:
            fail(self.store, waiting[0], "The recognizer failed on this recording; listen to it and type the note.")

    def turn(self) -> bool:
        """Do one short piece of work; gives whether there was any."""
        running = with_state(self.store, "recording")
        for recording in running:
            if self._broken_off(recording):
                end_dictation(self.store, recording)
        followed = any([self.live.follow(recording) for recording in running])
        waiting = with_state(self.store, "waiting")
        if waiting:
            self._recognize_some(waiting[0])
            return True
        return followed or bool(self.watch and self.watch.look())

    def seen(self, recording: str) -> None:
        """Note that a dictation's page is there, though it may be silent: paused, or waiting for its turn."""
        self._seen[recording] = datetime.now(UTC)

    def _broken_off(self, recording: Recording) -> bool:
        last = max(datetime.fromisoformat(recording.touched), self._seen.get(recording.id, self._since), self._since)
        return last < datetime.now(UTC) - BROKEN_OFF

    def _recognize_some(self, recording: Recording) -> None:
        """Recognize the next piece of a recording, and read it once all are done."""
        try:
            copy = listening_copy(self.store, recording.sound or "")
            total = seconds_of(copy)
            heard = unpack(recording.heard)
            for first, last, raw in pieces_of(copy, recording.done_s):
                with work_folder(self.store) as folder:
                    piece = Path(folder) / "piece.wav"
                    write_wav(piece, raw)
                    heard.append((first, self.hear(piece)))
                change_recording(self.store, recording.id, heard=pack(heard), done_s=last, total_s=total)
                if last < total - 0.05:
                    return
        except ExtractorError as error:
            shown = str(error).replace(str(self.store.folder), "").lstrip("/")
            fail(self.store, recording, shown)
            return
        words = join(heard, sha256=recording.sound, seconds=round(total, 3), file_name=recording.file_name)
        if not words.text:
            fail(self.store, recording, "Nobody is heard to speak in this recording.")
            return
        person = Person(name=recording.who, role="scribe")
        if read_recording(self.store, recording.id).state == "waiting":
            add_words(
                self.store, self.reader, recording.case_id, words, recording.id, person,
                addendum=bool(recording.addendum), listen=partial(self._listen_again, copy),
            )  # fmt: skip

    def _listen_again(self, copy: Path, record: CaseRecord, words: Transcript) -> CaseRecord:
        """What a second reading of the sound suggests; where it fails, the record goes on without."""
        if not isinstance(self.hear, LazyRecognizer):
            return record
        try:
            return self.hear.again(record, copy, words, self.reader.grammar)
        except Exception as error:  # an extra pair of ears: never a reason to keep a case from its reviewer
            log.error("the second reading failed (%s); the case goes on without it", type(error).__name__)
            return record
