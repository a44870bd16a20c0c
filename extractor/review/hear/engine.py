"""The recognizer, loaded when it is first needed and kept; with it, listening again to doubtful words."""

from __future__ import annotations

import threading
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from extractor.grammar.packs import Grammar
from extractor.record.models import CaseRecord
from extractor.speech.transcript import Transcript

if TYPE_CHECKING:
    from extractor.speech.model import SpeechModel

Recognizer = Callable[[Path], Transcript]
"""Takes a sound file, gives its words."""
Again = Callable[[CaseRecord, Path, Transcript, Grammar], CaseRecord]
"""Takes a record, its sound and words; gives it with what a second reading of the sound doubts and suggests."""


class LazyRecognizer:
    """A recognizer that loads its weights at the first call: the page opens before they are in memory."""

    def __init__(self, model: str | None = None, grammar: Grammar | None = None, threads: int = 0) -> None:
        """Take model name or folder, the packs in force and processor threads; see `load_model`."""
        self._name, self._grammar, self._threads = model, grammar, threads
        self._lock = threading.Lock()
        self._model: SpeechModel | None = None

    def __call__(self, path: Path) -> Transcript:
        """The words of a sound file."""
        from extractor.speech.model import words_to_expect
        from extractor.speech.recognize import recognize

        with self._lock:
            model = self._loaded()
            hint = words_to_expect(model, self._grammar) if self._grammar else None
            return recognize(path, model=model, hotwords=hint)

    def again(self, record: CaseRecord, sound: Path, words: Transcript, grammar: Grammar) -> CaseRecord:
        """The record with the doubts and suggestions of a second reading."""
        from extractor.second_reading import second_reading

        with self._lock:
            return second_reading(record, sound, words, self._loaded(), grammar)

    def _loaded(self) -> SpeechModel:
        from extractor.speech.model import load_model

        if self._model is None:
            self._model = load_model(self._name, threads=self._threads)
        return self._model


def lazy_recognizer(model: str | None = None, *, grammar: Grammar | None = None, threads: int = 0) -> LazyRecognizer:
    """A recognizer for the page.

    Args:
        model: as for `extractor.speech.model.load_model`.
        grammar: the packs, whose words a model not taught them is told to expect.
        threads: processor threads; 0 takes what there is.
    """
    return LazyRecognizer(model, grammar, threads)
