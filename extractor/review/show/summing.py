"""A recognition under way: how far it is, and the first facts read in what was heard so far."""

from __future__ import annotations

from dataclasses import dataclass

from extractor.record.models import CaseRecord
from extractor.review.act.reading import Reader
from extractor.review.hear.words import join, unpack
from extractor.review.show.words import name_of, procedure_words, value_of
from extractor.review.store.recordings import Recording

PROCEDURE = "procedure"


@dataclass(frozen=True)
class Progress:
    """What is shown of a recording before its record is there."""

    recording: str
    state: str
    done_s: float
    total_s: float | None
    percent: int | None
    heard: str
    side: str | None
    facts: tuple[tuple[str, str], ...]
    problem: str | None
    addendum: bool

    @property
    def procedure(self) -> str | None:
        """The first procedure understood, in words."""
        return next((value for name, value in self.facts if name == PROCEDURE), None)


def progress_of(recording: Recording, reader: Reader) -> Progress:
    """Sum up a recording under way."""
    heard = join(unpack(recording.heard))
    record = reader.read(heard) if heard.text else None
    percent = round(100 * recording.done_s / recording.total_s) if recording.total_s else None
    side = record.laterality.value if record and record.laterality else None
    facts = first_facts(record, reader) if record else ()
    return Progress(
        recording.id, recording.state, recording.done_s, recording.total_s, percent, heard.text, side, facts,
        recording.problem, bool(recording.addendum),
    )  # fmt: skip


def first_facts(record: CaseRecord, reader: Reader) -> tuple[tuple[str, str], ...]:
    """Procedure, measurements and placed sutures, as name and value."""
    facts = [(PROCEDURE, procedure_words(p)) for p in record.procedures]
    facts += [(name_of(m, reader.limits), value_of(m)) for m in record.measurements]
    facts += [(name_of(s, reader.limits), value_of(s)) for s in record.sutures if s.region]
    return tuple(facts)
