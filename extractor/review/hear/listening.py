"""A copy of each sound for the browser: plain WAV, in which any second is found at once."""

from __future__ import annotations

import os
import tempfile
import wave
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from extractor.review.store.connect import Store
from extractor.review.store.sounds import sound_path
from extractor.speech.audio import RATE, Samples, open_sound, read_samples
from extractor.speech.voice import cut_at_pauses

PIECE_S = 60.0
"""Longest piece that is recognized at once: what a stop of the program can cost."""


def listening_copy(store: Store, sound: str) -> Path:
    """The WAV copy of a kept sound, made where it is not there yet.

    Raises:
        InputError: where the sound cannot be decoded.
    """
    original = sound_path(store, sound)
    copy = original.with_name(f"{sound}.wav")
    if copy.is_file():
        return copy
    with tempfile.NamedTemporaryFile(dir=copy.parent, suffix=".part", delete=False) as file:
        part = Path(file.name)
    try:
        with wave.open(str(part), "wb") as out:
            out.setnchannels(1)
            out.setsampwidth(2)
            out.setframerate(RATE)
            for samples in read_samples(open_sound(original)):
                out.writeframes(as_int16(samples))
        os.replace(part, copy)
    finally:
        part.unlink(missing_ok=True)
    return copy


def as_int16(samples: Samples) -> bytes:
    """Samples as the 16-bit whole numbers of a WAV file."""
    return (np.clip(samples, -1.0, 1.0) * 32767.0).astype("<i2").tobytes()


def seconds_of(copy: Path) -> float:
    """How long a listening copy is."""
    with wave.open(str(copy), "rb") as file:
        return file.getnframes() / RATE


def pieces_of(copy: Path, from_s: float) -> Iterator[tuple[float, float, bytes]]:
    """Cut a listening copy at pauses, from a second on that an earlier piece ended at.

    Yields:
        First second, last second and 16-bit samples of each piece.
    """
    with wave.open(str(copy), "rb") as file:
        total = file.getnframes()
        start = min(total, round(from_s * RATE))
        while start < total:
            file.setpos(start)
            raw = file.readframes(int(PIECE_S * RATE) + RATE)
            samples: Samples = np.frombuffer(raw, "<i2").astype(np.float32) / 32768.0
            first, last = cut_at_pauses(samples, PIECE_S)[0]
            yield start / RATE, (start + last) / RATE, raw[first * 2 : last * 2]
            start += last


def write_wav(path: Path, raw: bytes) -> None:
    """Write 16-bit mono samples as a WAV file."""
    with wave.open(str(path), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(2)
        out.setframerate(RATE)
        out.writeframes(raw)
