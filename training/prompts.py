"""Telephone prompts that one person recorded, to judge by: numbers and short sentences, clean and in noise.

They come from Debian (`PACKAGES`, 1.6.1-1 in Debian 12; fetched by `apt-get download`, nothing is installed). A file
says what each one says. Prompts are put one after the other, so that each recording is some twenty seconds long.
"""

from __future__ import annotations

import gzip
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import soundfile

from extractor.speech.audio import RATE, open_sound, read_samples
from training.exam import Item, Samples, noisy

PACKAGES = ("asterisk-core-sounds-en", "asterisk-core-sounds-en-wav")
NOISES = (10.0, 5.0)
SHORTEST, LONGEST_S, GAP_S = 5, 24, 0.6
"""Words of a prompt at least; seconds of a recording at most; silence between two prompts."""
ASIDE = re.compile(r"[\[(].*?[\])]")
"""What the text file says of a prompt that is not said: '[tone]'."""


def prompts(folder: Path) -> list[Item]:
    """Recorded prompts, joined; each recording clean and with noise."""
    unpacked = folder / "prompts"
    unpacked.mkdir(parents=True, exist_ok=True)
    for package in PACKAGES:
        if not (unpacked / "usr" / "share" / "doc" / package).exists():
            subprocess.run(["apt-get", "download", "-q", package], check=True, cwd=folder)
            for archive in folder.glob(f"{package}_*.deb"):
                subprocess.run(["dpkg", "-x", str(archive), str(unpacked)], check=True)
    items: list[Item] = []
    for number, (text, samples) in enumerate(_joined(_said(unpacked))):
        for decibels in (None, *NOISES):
            name = f"{decibels:g} dB" if decibels else ""
            path = folder / f"prompts{number:02}{name.replace(' ', '')}.flac"
            if not path.exists():
                made = noisy(samples, decibels, number) if decibels else samples * 0.8 / np.abs(samples).max()
                soundfile.write(path, made, RATE)
            items.append(Item(path, "human", "prompts", name, text))
    return items


def _said(unpacked: Path) -> Iterator[tuple[str, Path]]:
    """What each prompt of some length says, and its file."""
    (listing,) = unpacked.glob("usr/share/doc/*/core-sounds-en.txt.gz")
    (sounds,) = unpacked.glob("usr/share/asterisk/sounds/en_US*")
    for line in gzip.decompress(listing.read_bytes()).decode().splitlines():
        name, colon, text = line.partition(":")
        text = ASIDE.sub("", text).strip().strip('"')
        path = sounds / f"{name.strip()}.wav"
        if colon and path.exists() and len(text.split()) >= SHORTEST and "tone" not in text:
            yield text if text[-1] in ".?!" else f"{text}.", path


def _joined(said: Iterator[tuple[str, Path]]) -> Iterator[tuple[str, Samples]]:
    texts: list[str] = []
    parts: list[Samples] = []
    for text, path in said:
        samples = np.concatenate(list(read_samples(open_sound(path))))
        if texts and sum(map(len, parts)) + len(samples) > LONGEST_S * RATE:
            yield " ".join(texts), np.concatenate(parts)
            texts, parts = [], []
        texts.append(text)
        parts += [samples, np.zeros(int(GAP_S * RATE), np.float32)]
    if texts:
        yield " ".join(texts), np.concatenate(parts)
