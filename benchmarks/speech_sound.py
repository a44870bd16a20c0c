"""Spoken gold notes: a note, a voice, a pace and a noise make one recording. Used by `benchmarks.speech_set`.

Voices are synthetic, all free software (see `training.voices`, which needs the same packages). The packaged deltas
were trained on flite, espeak-ng and festival voices; pico and piper are engines that nothing here was trained on.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from zlib import crc32

import numpy as np
import soundfile
import yaml
from numpy.typing import NDArray

from training.texts import sayable
from training.voices import RATE, Voice, speak

Samples = NDArray[np.float32]
LEVELS: dict[str, float | None] = {"clean": None, "15dB": 15.0, "5dB": 5.0}
"""Speech over noise, in decibels."""
KINDS = ("broadband", "suction", "beeps", "talk")
VOICES: dict[str, Voice] = {
    "flite-slt": Voice("flite", "slt"),
    "flite-rms": Voice("flite", "rms", 1.05),
    "flite-awb": Voice("flite", "awb"),
    "flite-kal16": Voice("flite", "kal16", 0.95),
    "espeak-us": Voice("espeak", "en-us"),
    "espeak-gb-f2": Voice("espeak", "en-gb+f2", 0.9),
    "espeak-us-m3": Voice("espeak", "en-us+m3", 1.1),
    "espeak-scotland": Voice("espeak", "en-gb-scotland", 0.95),
    "pico-us": Voice("pico", "en-US"),
    "pico-gb": Voice("pico", "en-GB", 1.1),
    "piper-joe": Voice("piper", "joe"),
    "piper-joe-fast": Voice("piper", "joe", 1.15),
}
PAUSE_S = 0.35
SENTENCE = re.compile(r"(?<=[.!?;:])\s+|\n+")
LONGEST = 40
"""Words spoken at once where a note has no punctuation."""
TALK = (
    "Can somebody get the lights please. The next patient is in the holding area. Did you call the desk. "
    "We are waiting for the second set. Turn the music down a little. I think he is coming at noon."
)


@dataclass(frozen=True)
class Spoken:
    """One recording to make: the note, its voice, the noise and its level."""

    note: Path
    voice: str
    level: str
    kind: str

    @property
    def name(self) -> str:
        """File name without ending."""
        return f"{self.note.stem}.{self.voice}.{self.level}"


def recordings(notes: list[Path], voices: list[str], levels: list[str], *, every: bool) -> Iterator[Spoken]:
    """All recordings, or (`every` false) each note in one voice, voices and kinds of noise taking turns."""
    for number, note in enumerate(notes):
        mine = voices if every else [voices[number % len(voices)]]
        for place, voice in enumerate(mine):
            for level in levels:
                yield Spoken(note, voice, level, KINDS[(number + place) % len(KINDS)])


def make(spoken: Spoken, folder: Path) -> Path:
    """The recording as a FLAC file; it is made where it is not there yet. One seed a note, so it comes out the same."""
    path = folder / f"{spoken.name}.flac"
    if path.exists():
        return path
    voice = _clean(spoken, folder)
    decibels = LEVELS[spoken.level]
    if decibels is not None:
        noise = noise_of(spoken.kind, len(voice), crc32(spoken.note.stem.encode()))
        power = float(np.mean(voice**2)) / 10 ** (decibels / 10)
        voice = voice + noise * np.float32(np.sqrt(power / max(1e-12, float(np.mean(noise**2)))))
    return _write(path, voice)


def _clean(spoken: Spoken, folder: Path) -> Samples:
    path = folder / f"{spoken.note.stem}.{spoken.voice}.clean.flac"
    if not path.exists():
        text = yaml.safe_load(spoken.note.read_text(encoding="utf-8"))["note"]
        pause = np.zeros(int(PAUSE_S * RATE), np.float32)
        parts = [pause]
        for said in speak(VOICES[spoken.voice], [sayable(s) for s in sentences(text)]):
            parts += [said, pause]
        _write(path, np.concatenate(parts))
    samples: Samples = soundfile.read(path, dtype="float32")[0]
    return samples


def sentences(text: str) -> list[str]:
    """What is spoken in one breath: sentences, or stretches of words where there is no punctuation."""
    found = []
    for sentence in SENTENCE.split(text):
        words = sentence.split()
        found += [" ".join(words[i : i + LONGEST]) for i in range(0, len(words), LONGEST)]
    return [s for s in found if re.search(r"\w", s)]


def noise_of(kind: str, length: int, seed: int) -> Samples:
    """Noise of one kind, of any loudness."""
    draw = np.random.default_rng(seed)
    t = np.arange(length) / RATE
    air: Samples = np.asarray(np.convolve(draw.normal(0, 1, length), np.ones(8) / 8, "same"), np.float32)
    if kind == "broadband":
        return air
    if kind == "suction":
        hiss = np.diff(draw.normal(0, 1, length + 1))
        gate = np.clip(np.sin(2 * np.pi * t / draw.uniform(5, 12)) * 5 + 1, 0, 1)
        return np.asarray(hiss * gate + 0.2 * air, np.float32)
    if kind == "beeps":
        beep = np.sin(2 * np.pi * draw.uniform(700, 1200) * t) * ((t % draw.uniform(0.7, 1.1)) < 0.1)
        return np.asarray(beep + 0.15 * air, np.float32)
    talk = np.concatenate(speak(Voice("flite", "awb"), sentences(TALK)))
    start = int(draw.integers(0, len(talk)))
    return (np.resize(np.roll(talk, start), length) + 0.02 * air).astype(np.float32)


def _write(path: Path, samples: Samples) -> Path:
    part = path.with_suffix(".part.flac")
    soundfile.write(part, samples * np.float32(0.7 / max(1e-6, float(np.abs(samples).max()))), RATE, format="FLAC")
    os.replace(part, path)
    return path
