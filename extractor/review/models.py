"""What one version of a case holds: the record, the words it rests on, and what was settled."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from extractor.record.facts import Part
from extractor.record.models import CaseRecord
from extractor.speech.transcript import Transcript

Role = Literal["surgeon", "scribe", "researcher"]
State = Literal["recording", "waiting", "failed", "new", "in-review", "signed", "amending", "amended"]

BY_HAND = "added by hand"
"""Stands as the rule of a fact that a person added."""


class Person(Part):
    """Who acts. A researcher reads and changes nothing."""

    name: str
    role: Role

    @property
    def may_change(self) -> bool:
        """Whether this person may review."""
        return self.role != "researcher"


class NotePart(Part):
    """One dictation of a note: the first, or an addendum. Characters and seconds count in the whole note."""

    recording: str = Field(description="id of the recording or dropped file it came by")
    addendum: bool = False
    start: int
    end: int
    offset_s: float = 0.0
    seconds: float | None = None
    sound: str | None = Field(default=None, description="sha256 of its sound")
    at: str


class Settlement(Part):
    """The answer to one question. It holds as long as the question reads the same."""

    check: str
    message: str
    answer: str
    reason: str | None = None
    who: str
    at: str


class Sheet(Part):
    """A case as it stands in one version."""

    record: CaseRecord
    transcript: Transcript
    parts: tuple[NotePart, ...] = ()
    settled: dict[str, Settlement] = Field(default_factory=dict)
    amending: str | None = Field(default=None, description="why a signed case is open again")
