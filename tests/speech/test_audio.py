from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest

from extractor.errors import InputError
from extractor.speech.audio import RATE, open_sound, read_samples

FORMS = [
    ("a.wav", 8_000, 1, "pcm_s16le"),
    ("a.wav", 44_100, 2, "pcm_s16le"),
    ("a.wav", 96_000, 2, "pcm_f32le"),
    ("a.mp3", 44_100, 2, "libmp3lame"),
    ("a.m4a", 48_000, 2, "aac"),
    ("a.ogg", 48_000, 1, "libopus"),
    ("a.opus", 16_000, 1, "libopus"),
    ("a.ogg", 22_050, 1, "flac"),
    ("a.webm", 48_000, 2, "libopus"),
    ("a.flac", 32_000, 2, "flac"),
]
Write = Callable[..., Path]


def tone(hertz: float, seconds: float, rate: int) -> np.ndarray:
    return 0.5 * np.sin(2 * np.pi * hertz * np.arange(int(seconds * rate)) / rate)


def samples_of(path: Path) -> np.ndarray:
    return np.concatenate(list(read_samples(open_sound(path))))


@pytest.mark.parametrize(("name", "rate", "channels", "codec"), FORMS)
def test_every_form_gives_its_tone_and_its_length(
    write_sound: Write, name: str, rate: int, channels: int, codec: str
) -> None:
    path = write_sound(name, np.repeat(tone(440, 2, rate)[None], channels, 0), rate, codec)
    samples = samples_of(path)
    spectrum = np.abs(np.fft.rfft(samples))
    assert np.argmax(spectrum) * RATE / len(samples) == pytest.approx(440, abs=2)  # the tone that was written
    assert len(samples) / RATE == pytest.approx(2, abs=0.1)
    assert samples.dtype == np.float32 and np.abs(samples).max() <= 1


def test_channels_are_mixed(write_sound: Write) -> None:
    one_side = np.stack([tone(440, 1, RATE), np.zeros(RATE)])
    assert np.abs(samples_of(write_sound("a.wav", one_side))).max() > 0.2


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("a.wav", b"", "is empty"),
        ("a.wav", b"Right knee arthroscopy. The tear was rasped.", "not a recording that can be read"),
        ("a.mp3", b"%PDF-1.7\n1 0 obj\n", "not a recording that can be read"),
        ("a.ogg", b"\x89PNG\r\n\x1a\n" + bytes(300), "not a recording that can be read"),
        ("a.wav", b"RIFF\x24\x00\x00\x00WAVEfmt ", "not a recording that can be read"),
    ],
)
def test_what_is_no_recording_is_told_in_one_sentence(tmp_path: Path, name: str, content: bytes, said: str) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    with pytest.raises(InputError, match=said) as error:
        samples_of(path)
    assert str(path) in str(error.value) and "\n" not in str(error.value)


def test_a_file_that_is_not_there_and_a_folder_are_told(tmp_path: Path) -> None:
    for path in (tmp_path / "none.wav", tmp_path):
        with pytest.raises(InputError, match="no such file"):
            open_sound(path)


def test_a_playlist_reads_no_other_file(write_sound: Write, tmp_path: Path) -> None:
    secret = write_sound("secret.wav", tone(440, 1, RATE))
    playlist = tmp_path / "note.wav"
    playlist.write_text(f"#EXTM3U\n#EXT-X-TARGETDURATION:9\n#EXTINF:9,\nfile://{secret}\n#EXT-X-ENDLIST\n")
    with pytest.raises(InputError):
        samples_of(playlist)


@pytest.mark.parametrize(("name", "codec"), [("a.wav", "pcm_s16le"), ("a.flac", "flac"), ("a.m4a", "aac")])
def test_half_a_recording_is_not_taken_for_the_whole(write_sound: Write, name: str, codec: str) -> None:
    path = write_sound(name, tone(440, 20, RATE), RATE, codec)
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])
    with pytest.raises(InputError, match="breaks off|not a recording"):
        samples_of(path)


@pytest.mark.parametrize(("name", "codec"), [("a.mp3", "libmp3lame"), ("a.ogg", "libopus"), ("a.flac", "flac")])
def test_damage_in_the_middle_never_loses_the_rest_unsaid(write_sound: Write, name: str, codec: str) -> None:
    rate = 48_000
    noise = np.random.default_rng(1).normal(0, 0.1, 20 * rate)
    path = write_sound(name, noise, rate, codec)
    data = bytearray(path.read_bytes())
    middle = len(data) // 2
    data[middle : middle + 500] = bytes(500)
    path.write_bytes(data)
    try:
        seconds = len(samples_of(path)) / RATE
    except InputError:
        return
    assert seconds > 18
