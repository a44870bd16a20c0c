"""Following a dictation while it runs: what was understood so far, for the speaker to see.

The record is made of the whole sound once it has ended; this is only what is shown meanwhile.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from extractor.errors import ExtractorError
from extractor.review.hear.engine import Recognizer
from extractor.review.hear.listening import as_int16, write_wav
from extractor.review.hear.words import pack, unpack
from extractor.review.store.connect import Store, writing
from extractor.review.store.recordings import Recording
from extractor.review.store.sounds import piece_paths, work_folder
from extractor.review.store.tables import recordings
from extractor.speech.audio import RATE, open_sound, read_samples
from extractor.speech.voice import cut_at_pauses

PIECE_S = 20.0
"""Once so much is new, it is cut at a pause; what lies before the pause is not recognized again."""
LEAST_S = 3.0
"""So much must be new before what is not settled is recognized again."""


@dataclass
class Live:
    """Recognizes what is new of the dictations that run."""

    store: Store
    hear: Recognizer
    heard_to: dict[str, int] = field(default_factory=dict)

    def follow(self, recording: Recording) -> bool:
        """Recognize what is not settled, where enough is new; gives whether anything was done."""
        paths = piece_paths(self.store, recording.id)
        if not paths:
            return False
        with work_folder(self.store) as folder:
            whole = Path(folder) / "so-far"
            with whole.open("wb") as out:
                for path in paths:
                    out.write(path.read_bytes())
            try:
                samples = np.concatenate(list(read_samples(open_sound(whole))))
            except (ExtractorError, ValueError):
                return False  # the first piece may hold no whole sound yet
            start = int(recording.done_s * RATE)
            if len(samples) - max(start, self.heard_to.get(recording.id, 0)) < LEAST_S * RATE:
                return False
            settled = [piece for piece in unpack(recording.heard) if piece[0] < recording.done_s]
            end = start + cut_at_pauses(samples[start:], PIECE_S)[0][1]
            piece = Path(folder) / "piece.wav"
            write_wav(piece, as_int16(samples[start:end]))
            heard = [*settled, (start / RATE, self.hear(piece))]
        self.heard_to[recording.id] = end
        done = end if end < len(samples) else start  # the last stretch may stop within a word: it is heard again
        change_recording_words(self.store, recording, pack(heard), done / RATE)
        return True


def change_recording_words(store: Store, recording: Recording, heard: str, done_s: float) -> None:
    """Keep what was understood, unless the recording ended meanwhile."""
    with writing(store) as connection:  # not `change_recording`: following it does not keep a broken-off one alive
        connection.execute(
            recordings.update()
            .where(recordings.c.id == recording.id, recordings.c.state == "recording")
            .values(heard=heard, done_s=done_s)
        )
