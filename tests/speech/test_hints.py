"""Which recognizer is told the trade's words: one that was taught them is not."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

import pytest

from extractor.cli.recognizing import Recognizer, recognizer_of
from extractor.grammar.hotwords import hotwords_of
from extractor.grammar.packs import Grammar, load_grammar
from extractor.review.hear.engine import lazy_recognizer
from extractor.speech import model as models
from extractor.speech import recognize as recognizing
from extractor.speech.transcript import Transcript

WAV = Path(__file__).resolve().parents[2] / "audio_demo" / "root-repair.ogg"


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    return load_grammar()


@pytest.fixture
def told(monkeypatch: pytest.MonkeyPatch) -> list[str | None]:
    """The hotwords of each recognition; no weights are loaded."""
    given: list[str | None] = []

    def hear(path: Path, *, hotwords: str | None = None, **_: Any) -> Transcript:
        given.append(hotwords)
        return Transcript(text="", kind="audio")

    monkeypatch.setattr(models, "WhisperModel", lambda *_, **__: None)
    monkeypatch.setattr(recognizing, "recognize", hear)
    return given


def whole_model(folder: Path) -> str:
    for name in ("model.bin", "config.json", "tokenizer.json"):
        (folder / name).write_bytes(b"")
    return str(folder)


def asked(*, model: str | None = None, plain: bool = False, grammar: Grammar) -> Recognizer:
    return recognizer_of(argparse.Namespace(model=model, plain=plain, device="cpu"), grammar)


def test_the_taught_model_is_told_nothing_and_any_other_the_packs_words(
    told: list[str | None], grammar: Grammar, tmp_path: Path
) -> None:
    other = whole_model(tmp_path)
    for recognizer in (
        asked(grammar=grammar),
        asked(plain=True, grammar=grammar),
        asked(model=other, grammar=grammar),
    ):
        recognizer.transcribe(WAV)
    assert hotwords_of(grammar)
    assert told == [None, hotwords_of(grammar), hotwords_of(grammar)]


def test_live_dictation_tells_the_same(told: list[str | None], grammar: Grammar, tmp_path: Path) -> None:
    lazy_recognizer(grammar=grammar)(WAV)
    lazy_recognizer(whole_model(tmp_path), grammar=grammar)(WAV)
    assert told == [None, hotwords_of(grammar)]
