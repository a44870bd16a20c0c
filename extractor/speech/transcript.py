"""The recognised words. `text` is what every later evidence span counts its characters in."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Word(BaseModel):
    """One recognised word: `text[start:end]` of the transcript, and its place in the sound."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    start: int
    end: int
    start_s: float | None = None
    end_s: float | None = None
    probability: float | None = None

    def moved(self, characters: int, seconds: float) -> Word:
        """The word so many characters and seconds later: in a transcript that goes on another."""

        def later(at: float | None) -> float | None:
            return None if at is None else round(at + seconds, 2)

        return Word(
            start=self.start + characters,
            end=self.end + characters,
            start_s=later(self.start_s),
            end_s=later(self.end_s),
            probability=self.probability,
        )


class Transcript(BaseModel):
    """A note as words. Read from typed text it has no words, from audio one entry a word."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    text: str
    words: tuple[Word, ...] = ()
    kind: str = "text"
    """audio | text | transcript: what the note came in as."""
    file_name: str | None = None
    sha256: str | None = None
    seconds: float | None = None
    speech_model: str | None = None
    language: str | None = None
