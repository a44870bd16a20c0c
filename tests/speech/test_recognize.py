"""The recognizer on real sound: human speech that a package ships, and the demo recordings' own sound."""

from __future__ import annotations

import hashlib
import re
import socket
from collections.abc import Callable
from pathlib import Path

import jiwer
import numpy as np
import pytest
from text_to_num import alpha2digit

from extractor.speech import recognize as module
from extractor.speech.audio import RATE, open_sound, read_samples
from extractor.speech.model import SpeechModel, load_model
from extractor.speech.recognize import Progress, recognize
from tests.machine import missing

pytestmark = pytest.mark.speech

# Recorded people with the words they said: Debian package pocketsphinx-testdata. `librivox` is read literature
# (Austen, Sense and Sensibility, a LibriVox recording), `cards` are playing cards called out one after the other.
HUMAN = Path("/usr/share/pocketsphinx/test/data")
LINE = re.compile(r"<s> (.*?)\s*</s> \((\S+)\)")


def human(folder: str) -> list[tuple[Path, str]]:
    listed = sorted((HUMAN / folder).glob("*transcription"))
    if not listed:
        missing("the Debian package pocketsphinx-testdata")
    lines = (LINE.match(line) for line in listed[0].read_text().splitlines())
    return [(HUMAN / folder / f"{line[2]}.wav", line[1]) for line in lines if line]


def plain(text: str) -> str:
    text = re.sub(r"\bmr\b\.?", "mister", re.sub(r"[-,]", " ", text.lower()))
    return " ".join(re.sub(r"[^a-z0-9' ]", " ", alpha2digit(text, "en")).split())


@pytest.mark.parametrize("as_packaged", [False, True])
def test_people_reading_are_understood(model: SpeechModel, as_packaged: bool) -> None:
    said = human("librivox")
    used = load_model(plain=True) if as_packaged else model
    heard = [recognize(path, model=used).text for path, _ in said]
    # Whisper base has a word error rate of 5.0% on read books in English, LibriSpeech test-clean (Radford et al. 2022,
    # arXiv 2212.04356, table 8, from memory); 71 words are few, so three errors more than that are allowed.
    errors = jiwer.wer([plain(text) for _, text in said], [plain(text) for text in heard])
    assert errors <= 0.05 + 3 / 71


def test_numbers_that_people_call_out_are_right(model: SpeechModel) -> None:
    for path, text in human("cards"):
        heard = plain(recognize(path, model=model).text)
        assert re.findall(r"\d+", heard) == re.findall(r"\d+", plain(text)), path.name


@pytest.fixture(scope="module")
def sound(demo: Path) -> np.ndarray:
    samples = np.concatenate(list(read_samples(open_sound(demo / "segmental-transplant.ogg"))))
    return samples[: 24 * RATE]


@pytest.fixture(scope="module")
def heard(model: SpeechModel, sound: np.ndarray, tmp_path_factory: pytest.TempPathFactory) -> str:
    return recognize(_wav(tmp_path_factory.mktemp("sound") / "a.wav", sound), model=model).text


def _wav(path: Path, samples: np.ndarray) -> Path:
    import wave

    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes((samples * 32767).astype("<i2").tobytes())
    return path


def test_words_lie_in_the_text_and_in_the_sound(model: SpeechModel, demo: Path) -> None:
    path = demo / "root-repair.ogg"
    transcript = recognize(path, model=model)
    assert (transcript.kind, transcript.file_name, transcript.language) == ("audio", path.name, "en")
    assert transcript.sha256 == hashlib.sha256(path.read_bytes()).hexdigest()
    assert transcript.speech_model and transcript.speech_model.startswith("whisper-base@")
    pieces = [transcript.text[word.start : word.end] for word in transcript.words]
    assert all(piece and piece == piece.strip() for piece in pieces)
    assert "".join(pieces) == transcript.text.replace(" ", "")  # every letter belongs to one word
    times = [(word.start_s, word.end_s) for word in transcript.words]
    assert all(0 <= start <= end <= transcript.seconds for start, end in times)
    assert times == sorted(times)
    assert all(0 <= word.probability <= 1 for word in transcript.words)


def test_a_word_is_heard_when_it_is_said(model: SpeechModel, sound: np.ndarray, tmp_path: Path) -> None:
    silent_s = 7.0
    later = np.concatenate([np.zeros(int(silent_s * RATE), np.float32), sound])
    first, second = (
        recognize(_wav(tmp_path / f"{i}.wav", s), model=model).words[0].start_s for i, s in enumerate((sound, later))
    )
    assert second - first == pytest.approx(silent_s, abs=0.5)


@pytest.mark.parametrize(
    ("name", "rate", "channels", "codec"),
    [("a.mp3", 44_100, 2, "libmp3lame"), ("a.m4a", 48_000, 2, "aac"), ("a.webm", 48_000, 1, "libopus"),
     ("a.flac", 8_000, 1, "flac")],
)  # fmt: skip
def test_the_form_of_the_file_changes_little(
    model: SpeechModel, heard: str, sound: np.ndarray, write_sound: Callable[..., Path],
    name: str, rate: int, channels: int, codec: str,
) -> None:  # fmt: skip
    at = np.arange(int(len(sound) * rate / RATE)) * RATE / rate
    resampled = np.interp(at, np.arange(len(sound)), sound)
    path = write_sound(name, np.repeat(resampled[None], channels, 0), rate, codec)
    assert jiwer.wer(plain(heard), plain(recognize(path, model=model).text)) <= 0.15


def test_the_same_file_gives_the_same_words(model: SpeechModel, sound: np.ndarray, tmp_path: Path) -> None:
    path = _wav(tmp_path / "a.wav", sound[: 12 * RATE])
    assert recognize(path, model=model) == recognize(path, model=model)


def test_it_runs_with_the_network_taken_away(
    monkeypatch: pytest.MonkeyPatch, sound: np.ndarray, tmp_path: Path
) -> None:
    def no_network(*_: object, **__: object) -> None:
        raise AssertionError("the network was asked for")

    for name in ("connect", "connect_ex", "sendto"):
        monkeypatch.setattr(socket.socket, name, no_network)
    monkeypatch.setattr(socket, "getaddrinfo", no_network)
    assert "knee" in recognize(_wav(tmp_path / "a.wav", sound[: 8 * RATE]), model=load_model()).text


def test_a_long_recording_is_taken_in_blocks_and_reads_the_same(
    model: SpeechModel, heard: str, sound: np.ndarray, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "BLOCK_S", 10.0)
    told: list[Progress] = []
    path = _wav(tmp_path / "a.wav", sound)
    transcript = recognize(path, model=model, progress=told.append)
    assert jiwer.wer(plain(heard), plain(transcript.text)) <= 0.15
    times = [word.start_s for word in transcript.words]
    assert times == sorted(times) and times[-1] > 20
    done = [progress.done_s for progress in told]
    assert len(done) > 3 and done == sorted(done)
    assert done[-1] == pytest.approx(24, abs=0.01) and told[-1].total_s == pytest.approx(24, abs=0.01)
    assert told[-1].left_s == pytest.approx(0, abs=0.1)


def test_time_left_goes_by_the_speed_so_far() -> None:
    assert Progress(done_s=30, total_s=120, elapsed_s=3).left_s == pytest.approx(9)
    assert Progress(done_s=0, total_s=120, elapsed_s=3).left_s is None
    assert Progress(done_s=30, total_s=None, elapsed_s=3).left_s is None
