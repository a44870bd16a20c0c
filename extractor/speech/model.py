"""Loading a recognizer. The packaged one needs no file and no network; any other is loaded by folder or name."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from faster_whisper import WhisperModel

from extractor.errors import ModelError
from extractor.grammar.hotwords import hotwords_of
from extractor.grammar.packs import Grammar
from extractor.speech.adapt import SHA256 as DELTAS_SHA256
from extractor.speech.adapt import adapt
from extractor.speech.decoder import Loaded
from extractor.speech.weights import SHA256, packaged_weights, side_files

PACKAGED = "whisper-base"
ASKERS = 2
"""On a graphics card one thread recognizes while others ask about recordings before (`extractor.batch.recordings`)."""


@dataclass(frozen=True)
class SpeechModel(Loaded):
    """A loaded recognizer, the name under which transcripts record it, and whether it was taught the trade's words."""

    whisper: WhisperModel
    identifier: str
    taught: bool = False


def load_model(
    name: str | Path | None = None, *, plain: bool = False, device: str = "cpu", threads: int = 0
) -> SpeechModel:
    """Load a recognizer.

    Args:
        name: None for the packaged weights; a folder holding a faster-whisper model; or the name of a faster-whisper
            model, looked for on this machine first and fetched only when it is not there.
        plain: leave the packaged weights as they are, without the trade's words (`adapt`). Other models always are.
        device: "cpu" (int8 arithmetic), "cuda" or "auto".
        threads: processor threads; 0 takes those this process may use.

    Raises:
        ModelError: when the weights are missing, damaged or cannot be loaded.
    """
    options = {
        "device": device,
        "compute_type": "int8" if device == "cpu" else "default",
        "cpu_threads": threads or _usable_cores(),
        "num_workers": 1 if device == "cpu" else ASKERS,
    }
    if name is None:
        weights = packaged_weights()
        if not plain:
            adapt(weights)
        contents = {"model.bin": bytes(weights), **side_files()}
        whisper = WhisperModel(PACKAGED, files=contents, **options)
        taught = "" if plain else f"+{DELTAS_SHA256[:8]}"
        return SpeechModel(whisper, f"{PACKAGED}@{SHA256[:8]}{taught}", taught=not plain)
    folder = Path(name)
    if folder.is_dir():
        _require_whole(folder)
        whisper = _load(str(folder), options, local_only=True)
        return SpeechModel(whisper, folder.resolve().name)
    if folder.exists() or len(folder.parts) > 2 or str(name).startswith((".", os.sep)):
        raise ModelError(
            f"no model folder '{name}'; give a folder with model.bin in it, or a faster-whisper model name"
        )
    try:
        whisper = _load(str(name), options, local_only=True)
    except ModelError:
        whisper = _load(str(name), options, local_only=False)
    return SpeechModel(whisper, str(name))


def words_to_expect(model: SpeechModel, grammar: Grammar) -> str | None:
    """The packs' hotwords for a model that was not taught them; None for one that was.

    Said to the taught model they do harm: on spoken notes, silent errors rose from 0.92 to 1.42 a note. The plain model
    errs less with them (`extractor.grammar.hotwords`).
    """
    return None if model.taught else hotwords_of(grammar)


def _load(name: str, options: Mapping[str, Any], *, local_only: bool) -> WhisperModel:
    # The libraries below raise many kinds of error for one cause: the model is not there or not readable.
    try:
        return WhisperModel(name, local_files_only=local_only, **options)
    except Exception as error:
        raise ModelError(
            f"model '{name}' is not on this machine and could not be loaded; give the folder of a faster-whisper model"
        ) from error


def _require_whole(folder: Path) -> None:
    # Without its tokenizer.json, faster-whisper would fetch one from the network.
    for needed in ("model.bin", "config.json", "tokenizer.json"):
        if not (folder / needed).is_file():
            raise ModelError(
                f"model folder '{folder}' has no {needed}; give the folder of a whole faster-whisper model"
            )


def _usable_cores() -> int:
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
