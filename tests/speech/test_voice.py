from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from extractor.speech.audio import RATE, open_sound, read_samples
from extractor.speech.model import SpeechModel
from extractor.speech.recognize import recognize
from extractor.speech.voice import cut_at_pauses, find_voice


@pytest.fixture(scope="module")
def speech(demo: Path) -> np.ndarray:
    return np.concatenate(list(read_samples(open_sound(demo / "root-repair.ogg"))))


def other_sounds() -> dict[str, np.ndarray]:
    """Sounds of a room with nobody speaking, some of them close to a voice."""
    draw = np.random.default_rng(7)
    t = np.arange(12 * RATE) / RATE
    noise = draw.normal(0, 1, len(t))
    chords = sum(
        np.sin(2 * np.pi * f * k * t) * 0.6**k * ((t % 2) > i * 0.4)
        for i, f in enumerate((220, 277, 330, 440))
        for k in (1, 2, 3)
    )
    vowel = sum(np.sin(2 * np.pi * 110 * k * t) * np.exp(-(((110 * k - 700) / 300) ** 2)) for k in range(1, 30))
    return {
        "silence": np.zeros(len(t)),
        "faint-hiss": noise * 1e-4,
        "white-noise": noise,
        "rumble": np.cumsum(noise) / 50,
        "suction": np.convolve(noise, np.ones(30) / 30, "same"),
        "music": np.asarray(chords),
        "violin": np.sin(2 * np.pi * 220 * t + 3 * np.sin(2 * np.pi * 5.5 * t)),
        "one-vowel": np.asarray(vowel) * (np.sin(2 * np.pi * 0.7 * t) > 0),
        "monitor": np.sin(2 * np.pi * 950 * t) * ((t % 1) < 0.12),
        "burr": np.sign(np.sin(2 * np.pi * 95 * t)) * 0.3 + noise * 0.1,
    }


@pytest.mark.speech
@pytest.mark.parametrize("name", sorted(other_sounds()))
@pytest.mark.parametrize("hotwords", [None, "medial meniscus, anterior horn, cannula, eighteen millimeters"])
def test_no_word_is_made_of_other_sounds(
    model: SpeechModel, write_sound: Callable[..., Path], name: str, hotwords: str | None
) -> None:
    sound = other_sounds()[name]
    loudest = np.abs(sound).max()
    path = write_sound("a.wav", sound / loudest * 0.5 if loudest > 0.01 else sound)
    heard = recognize(path, model=model, hotwords=hotwords)
    assert (heard.text, heard.words) == ("", ())
    assert heard.seconds == pytest.approx(12, abs=0.01)


@pytest.mark.parametrize("decibels", [0, -30, -50])
def test_a_quiet_voice_is_found_like_a_loud_one(speech: np.ndarray, decibels: float) -> None:
    def voiced(samples: np.ndarray) -> int:
        return sum(v["end"] - v["start"] for v in find_voice(samples))

    quiet = (speech * 10 ** (decibels / 20)).astype(np.float32)
    assert voiced(quiet) == pytest.approx(voiced(speech), rel=0.05)


def test_silence_between_two_sentences_is_left_out(speech: np.ndarray) -> None:
    gap = np.zeros(10 * RATE, np.float32)
    voiced = find_voice(np.concatenate([speech[: 20 * RATE], gap, speech[20 * RATE :]]))
    inside = [v for v in voiced if v["start"] < 25 * RATE < v["end"]]
    assert not inside and len(voiced) >= 2


@pytest.mark.parametrize("longest_s", [5.0, 12.0, 29.0, 1000.0])
def test_pieces_cover_everything_and_are_cut_where_it_is_quiet(speech: np.ndarray, longest_s: float) -> None:
    pieces = cut_at_pauses(speech, longest_s)
    assert pieces[0][0] == 0 and pieces[-1][1] == len(speech)
    assert all(before[1] == after[0] for before, after in zip(pieces, pieces[1:], strict=False))
    assert all(0 < end - start <= longest_s * RATE for start, end in pieces)
    loudness = np.sqrt(np.mean(speech**2))
    cuts = [np.sqrt(np.mean(speech[end - 160 : end + 160] ** 2)) for _, end in pieces[:-1]]
    assert all(cut < loudness / 3 for cut in cuts)


def test_sound_with_no_pause_is_cut_all_the_same() -> None:
    hiss = np.random.default_rng(1).normal(0, 0.1, 10 * RATE).astype(np.float32)
    pieces = cut_at_pauses(hiss, 3.0)
    assert pieces[0][0] == 0 and pieces[-1][1] == len(hiss)
    assert all(0 < end - start <= 3 * RATE for start, end in pieces)
