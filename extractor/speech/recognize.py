"""Sound to Transcript: the one place where the recognizer runs.

A recording is taken in blocks cut at a pause, so that hours of it need no more memory than minutes. Within a block,
stretches with no voice are left out before recognition, the rest is cut at pauses into windows that are recognized
several at a time (faster, and no word is cut in two), and what the recognizer makes of non-speech all the same is
dropped afterwards (`guard`). Nothing random takes part: the same file gives the same words.
"""

from __future__ import annotations

import hashlib
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from faster_whisper import BatchedInferencePipeline
from faster_whisper.transcribe import Segment, restore_speech_timestamps

from extractor.errors import InputError
from extractor.speech.audio import RATE, Samples, open_sound, read_samples
from extractor.speech.guard import is_speech, looped, unheard_s
from extractor.speech.model import SpeechModel
from extractor.speech.transcript import Transcript, Word
from extractor.speech.voice import Window, cut_at_pauses, find_voice

BLOCK_S = 480.0
"""Longest stretch held in memory at once, in seconds."""
WINDOW_S = 29.0
"""Longest stretch recognized at once; Whisper's window is 30 s."""
WINDOWS_AT_ONCE = 4
UNHEARD_S = 4.0
"""A longer stretch with a voice but no words, in seconds, is recognized again: hotwords can make a window end early."""
REPEATED_TOKENS = (8, 4)
"""Longest run of tokens that may come twice when a window is recognized again because it looped: first, then next."""


@dataclass(frozen=True)
class Progress:
    """How far recognition has come, in seconds of sound and seconds of clock."""

    done_s: float
    total_s: float | None
    elapsed_s: float

    @property
    def left_s(self) -> float | None:
        """Clock seconds left at the speed so far; None until that can be told."""
        if not self.total_s or self.done_s <= 0 or self.elapsed_s <= 0:
            return None
        return max(0.0, self.total_s - self.done_s) * self.elapsed_s / self.done_s


def recognize(
    path: Path,
    *,
    model: SpeechModel,
    hotwords: str | None = None,
    language: str = "en",
    progress: Callable[[Progress], None] | None = None,
) -> Transcript:
    """Recognize a recording.

    Args:
        path: a sound file of any common form, rate and number of channels.
        model: from `load_model`.
        hotwords: words of the trade, to make the recognizer expect them.
        language: code of the language spoken.
        progress: called after each stretch.

    Returns:
        The words with their characters, seconds and probabilities; no words when nobody speaks.

    Raises:
        InputError: when the file holds no readable sound.
    """
    sound = open_sound(path)
    digest = _sha256(path)
    started = time.monotonic()
    segments: list[Segment] = []
    done = 0.0

    def tell(seconds: float) -> None:
        if progress is not None:
            progress(Progress(min(seconds, sound.stated_s or seconds), sound.stated_s, time.monotonic() - started))

    for block in _blocks(read_samples(sound)):
        for segment in _recognize_block(block, model, hotwords, language):
            segments.append(shifted(segment, done))
            tell(min(float(segment.end), done + len(block) / RATE))
        done += len(block) / RATE
        tell(done)
    text, words = _lay_out(segments)
    return Transcript(
        text=text,
        words=words,
        kind="audio",
        file_name=path.name,
        sha256=digest,
        seconds=round(done, 3),
        speech_model=model.identifier,
        language=language,
    )


def _recognize_block(block: Samples, model: SpeechModel, hotwords: str | None, language: str) -> Iterator[Segment]:
    voiced = find_voice(block)
    if not voiced:
        return
    kept = np.concatenate([block[v["start"] : v["end"]] for v in voiced])
    pipeline = BatchedInferencePipeline(model.whisper)

    def run(windows: Sequence[Window], hint: str | None, longest_repeat: int = 0) -> Iterator[Segment]:
        segments, _ = pipeline.transcribe(
            kept,
            clip_timestamps=[{"start": start / RATE, "end": end / RATE} for start, end in windows],
            batch_size=WINDOWS_AT_ONCE,
            language=language,
            hotwords=hint,
            beam_size=5,
            temperature=0.0,  # higher ones draw at random
            word_timestamps=True,
            no_repeat_ngram_size=longest_repeat,
        )
        yield from segments

    def heard() -> Iterator[Segment]:
        windows = cut_at_pauses(kept, WINDOW_S)
        for window, segment in zip(windows, run(windows, hotwords or None), strict=True):
            for longest_repeat in REPEATED_TOKENS:
                if not looped(segment) and unheard_s(segment, window) <= UNHEARD_S:
                    break
                (again,) = run([window], None, longest_repeat)
                segment = min(segment, again, key=lambda s: (looped(s), max(unheard_s(s, window), UNHEARD_S)))
            if is_speech(segment):
                yield segment

    yield from restore_speech_timestamps(heard(), voiced, RATE)


def _blocks(pieces: Iterator[Samples]) -> Iterator[Samples]:
    waiting: list[Samples] = []
    length = 0
    for piece in pieces:
        waiting.append(piece)
        length += len(piece)
        if length > BLOCK_S * RATE:
            block = np.concatenate(waiting)
            (_, cut), *_ = cut_at_pauses(block, BLOCK_S)
            yield block[:cut]
            waiting, length = [block[cut:]], len(block) - cut
    if length:
        yield np.concatenate(waiting)


def shifted(segment: Segment, seconds: float) -> Segment:
    """Move a segment and its words later, in place, and return it."""
    segment.start += seconds
    segment.end += seconds
    for word in segment.words or ():
        word.start += seconds
        word.end += seconds
    return segment


def _lay_out(segments: list[Segment]) -> tuple[str, tuple[Word, ...]]:
    text = ""
    words: list[Word] = []
    for segment in segments:
        for heard in segment.words or ():
            bare = heard.word.strip()
            if not bare:
                continue
            # A piece with no space before it goes on with the word before ("all" + "-inside") of its segment.
            if text and (heard.word[0].isspace() or heard is segment.words[0]):
                text += " "
            start = len(text)
            text += bare
            words.append(
                Word(
                    start=start,
                    end=len(text),
                    start_s=round(float(heard.start), 2),
                    end_s=round(float(heard.end), 2),
                    probability=round(float(heard.probability), 4),
                )
            )
    return text, tuple(words)


def _sha256(path: Path) -> str:
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError as error:
        raise InputError(f"{path}: cannot be read ({error.strerror}); check its permissions") from error
