"""Any sound file to 16 kHz mono samples, a piece at a time, so that hours of sound need little memory.

Decoding is PyAV's (it carries its own FFmpeg). Only plain containers are opened: a playlist handed in as a sound file
could otherwise make FFmpeg read other files or addresses.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import av
import numpy as np
from av.audio.frame import AudioFrame
from av.audio.resampler import AudioResampler
from av.container import InputContainer
from numpy.typing import NDArray

from extractor.errors import InputError

RATE = 16_000
"""Samples a second, as Whisper takes them."""
CONTAINERS = "wav,w64,aiff,au,caf,mp3,mov,mp4,m4a,3gp,3g2,mj2,ogg,matroska,webm,flac,aac,amr,asf"
FORMS = "wav, mp3, m4a, ogg, opus, webm or flac"
TRUSTED_LENGTH = ("wav", "flac", "mov,mp4,m4a,3gp,3g2,mj2")
"""Containers whose header states the length exactly; elsewhere it is guessed from the bit rate or absent."""

KEPT_S = 600.0
"""A recording of up to so many seconds stays decoded until another is read: the second reading hears it again."""

Samples = NDArray[np.float32]


@dataclass(frozen=True)
class Damage:
    """A stretch that could not be decoded."""

    seconds: float


@dataclass(frozen=True)
class Sound:
    """An audio file that opened: its path, and its length as its header states it, where it does."""

    path: Path
    stated_s: float | None
    trusted: bool


class _ReadLast:
    """The recording that was decoded last, where it is short."""

    def __init__(self) -> None:
        self._state: tuple[int, int, int] | None = None
        self._samples: Samples | None = None

    def keep(self, state: tuple[int, int, int], samples: Samples) -> None:
        self._state, self._samples = state, samples

    def find(self, state: tuple[int, int, int]) -> Samples | None:
        return self._samples if self._state == state else None


_read_last = _ReadLast()


def _state_of(path: Path) -> tuple[int, int, int]:
    there = path.stat()
    return there.st_ino, there.st_size, there.st_mtime_ns


def open_sound(path: Path) -> Sound:
    """Look at a file's header.

    Raises:
        InputError: when there is no such file, it is empty, or it holds no sound that can be read.
    """
    if not path.is_file():
        raise InputError(f"{path}: no such file; check the name")
    if path.stat().st_size == 0:
        raise InputError(f"{path}: the file is empty; record or copy it again")
    with _container(path) as container:
        if not container.streams.audio:
            raise InputError(f"{path}: holds no sound; give a {FORMS} recording")
        stated = container.duration / av.time_base if container.duration and container.duration > 0 else None
        if stated and container.format.name == "wav":
            stated *= _wave_bytes_stated(path) / path.stat().st_size
        return Sound(path, stated, container.format.name in TRUSTED_LENGTH)


def _wave_bytes_stated(path: Path) -> int:
    # FFmpeg goes by the bytes that are there; the size in the header shows whether some are missing.
    with path.open("rb") as file:
        head = file.read(8)
    stated = int.from_bytes(head[4:8], "little") + 8
    present = path.stat().st_size
    unknown = head[:4] != b"RIFF" or stated in (8, 0xFFFFFFFF + 8)  # written as it was recorded, size never filled in
    return present if unknown else max(stated, present)


def read_samples(sound: Sound) -> Iterator[Samples]:
    """Decode a file in pieces of some seconds.

    Yields:
        Mono samples, 16,000 a second, -1 to 1. Channels are mixed.

    Raises:
        InputError: when the sound breaks off before the length its header states, when much of it is damaged, or when
            none can be decoded. Part of a note is not passed off as the whole.
    """
    path, stated = sound.path, sound.stated_s if sound.trusted else None
    seconds = lost = 0.0
    state, kept = _state_of(path), list[Samples]()
    for piece in _decode(path):
        if isinstance(piece, Damage):
            lost += piece.seconds
        else:
            seconds += len(piece) / RATE
            if seconds <= KEPT_S:
                kept.append(piece)
            else:
                kept.clear()
            yield piece
    if not seconds:
        raise InputError(f"{path}: no sound in it could be decoded; give a {FORMS} recording")
    allowed = max(1.0, 0.02 * (stated or seconds))
    if stated and stated - seconds - lost > allowed:
        raise InputError(
            f"{path}: breaks off after {seconds:.0f} of {stated:.0f} seconds; copy the whole recording again"
        )
    if lost > allowed:
        raise InputError(f"{path}: {lost:.0f} of its seconds are damaged and cannot be heard; copy the recording again")
    if seconds <= KEPT_S:
        _read_last.keep(state, np.concatenate(kept))


def read_whole(path: Path) -> Samples:
    """A whole recording at once; what was read last is not decoded again.

    Raises:
        InputError: as `open_sound` and `read_samples` do.
    """
    sound = open_sound(path)
    found = read_last(path)
    return np.concatenate(list(read_samples(sound))) if found is None else found


def read_last(path: Path) -> Samples | None:
    """A recording's samples where it is the one that was read last and is short enough to be kept, else None."""
    return _read_last.find(_state_of(path))


def _decode(path: Path) -> Iterator[Samples | Damage]:
    resampler = AudioResampler(format="s16", layout="mono", rate=RATE)
    with _container(path) as container:
        for frame in _frames(container):
            if isinstance(frame, Damage):
                yield frame
                continue
            frame.pts = None
            try:
                resampled = resampler.resample(frame)
            except (ValueError, av.error.FFmpegError) as error:
                raise InputError(f"{path}: its sound changes form midway; save it again as one {FORMS} file") from error
            for part in resampled:
                yield _floats(part)
        for part in resampler.resample(None):
            yield _floats(part)


def _frames(container: InputContainer) -> Iterator[AudioFrame | Damage]:
    # Packet by packet, since one damaged packet ends PyAV's own loop over frames, and with it the rest of the note.
    stream = container.streams.audio[0]
    packets = container.demux(stream)
    while True:
        try:
            packet = next(packets)
        except StopIteration:
            return
        except av.error.FFmpegError:
            return  # the file breaks off; its stated length tells whether something is missing
        try:
            yield from packet.decode()
        except av.error.FFmpegError:
            yield Damage(float((packet.duration or 0) * (stream.time_base or 0)))


def _floats(frame: AudioFrame) -> Samples:
    # The resampler gives 16-bit integers.
    return frame.to_ndarray().reshape(-1).astype(np.float32) / np.float32(32768)


def _container(path: Path) -> InputContainer:
    try:
        return av.open(
            str(path),
            mode="r",
            metadata_errors="ignore",
            container_options={"format_whitelist": CONTAINERS, "protocol_whitelist": "file"},
        )
    except (av.error.FFmpegError, ValueError, OSError) as error:
        raise InputError(f"{path}: is not a recording that can be read; give a {FORMS} file") from error
