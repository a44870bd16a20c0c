"""Recordings to transcripts: the recognizer is loaded once, for the first recording that needs it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from extractor.cli.show import progress
from extractor.grammar.packs import Grammar
from extractor.speech.transcript import Transcript


class Recognizer:
    """A recognizer that loads itself at its first recording."""

    def __init__(self, model: str | None, hotwords: str | None) -> None:
        """Take the model's folder or name (None: the packaged one) and the words it is to expect."""
        self._name = model
        self._hotwords = hotwords
        self._model: object = None

    def transcribe(self, path: Path) -> Transcript:
        """Recognize one recording, showing how far it has come.

        Raises:
            InputError: where it cannot be read.
            ModelError: where the recognizer cannot be loaded.
        """
        from extractor.speech.audio import open_sound
        from extractor.speech.model import SpeechModel, load_model
        from extractor.speech.recognize import recognize

        stated = open_sound(path).stated_s  # before the model is loaded: a bad file is told at once
        if self._model is None:
            with progress("loading the recognizer", None):
                self._model = load_model(self._name)
        assert isinstance(self._model, SpeechModel)
        with progress(f"recognizing {path.name}", stated) as tell:
            return recognize(path, model=self._model, hotwords=self._hotwords, progress=lambda p: tell(p.done_s))


HOTWORD_LISTS = ("region", "surface", "structure", "thing", "device", "technique")
MOST = 60


def hotwords_of(grammar: Grammar) -> str:
    """Words of the trade the recognizer is to expect, from the packs' lists, each once."""
    said: dict[str, None] = {}
    for list_name in HOTWORD_LISTS:
        for name, entry in grammar.words:
            if name == list_name:
                for word in _plain(entry.spoken[:1]):
                    said.setdefault(word)
    return " ".join(list(said)[:MOST])


def _plain(ways: Iterable[str]) -> list[str]:
    return [word for way in ways for word in way.replace("~", "").split() if word.isalpha() and len(word) > 3]
