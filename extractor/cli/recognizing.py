"""Recordings to transcripts: the recognizer is loaded once, for the first recording that needs it."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any

from extractor.checks.case import Schedule
from extractor.cli.show import progress
from extractor.grammar.packs import Grammar
from extractor.record import CaseRecord
from extractor.speech.transcript import Transcript

if TYPE_CHECKING:
    from extractor.speech.model import SpeechModel


class Recognizer:
    """A recognizer that loads itself at its first recording."""

    def __init__(self, model: str | None, grammar: Grammar, *, plain: bool = False, device: str = "cpu") -> None:
        """Take the model's folder or name (None: the packaged one) and the packs in force; see `load_model`."""
        self._name = model
        self._options: dict[str, Any] = {"plain": plain, "device": device}
        self._grammar = grammar
        self._model: object = None

    def transcribe(self, path: Path) -> Transcript:
        """Recognize one recording, showing how far it has come; see `hear`."""
        return self.hear(path)[0]

    def hear(self, path: Path) -> tuple[Transcript, SpeechModel]:
        """Recognize one recording, showing how far it has come; its words, and the model that heard them.

        Raises:
            InputError: where it cannot be read.
            ModelError: where the recognizer cannot be loaded.
        """
        from extractor.speech.audio import open_sound
        from extractor.speech.model import SpeechModel, load_model, words_to_expect
        from extractor.speech.recognize import recognize

        stated = open_sound(path).stated_s  # before the model is loaded: a bad file is told at once
        if self._model is None:
            with progress("loading the recognizer", None):
                self._model = load_model(self._name, **self._options)
        assert isinstance(self._model, SpeechModel)
        hint = words_to_expect(self._model, self._grammar)
        with progress(f"recognizing {path.name}", stated) as tell:
            heard = recognize(path, model=self._model, hotwords=hint, progress=lambda p: tell(p.done_s))
        return heard, self._model

    def on_card(self) -> bool:
        """Whether recordings are recognized on a graphics card."""
        from ctranslate2 import get_cuda_device_count

        device = self._options["device"]
        return device == "cuda" or (device == "auto" and bool(get_cuda_device_count()))

    def listen_again(
        self, record: CaseRecord, path: Path, transcript: Transcript, grammar: Grammar, schedule: Schedule | None
    ) -> CaseRecord:
        """Give a recording's case its second reading, with the model that recognized it."""
        from extractor.second_reading import second_reading
        from extractor.speech.model import SpeechModel

        assert isinstance(self._model, SpeechModel)
        with progress(f"listening again to {path.name}", None):
            return second_reading(record, path, transcript, self._model, grammar, schedule=schedule)


def recognizer_of(args: argparse.Namespace, grammar: Grammar) -> Recognizer:
    """The recognizer that a command's options ask for; one not taught the trade's words is told those of the packs."""
    return Recognizer(args.model, grammar, plain=args.plain, device=args.device)
