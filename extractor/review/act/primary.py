"""What must be read and what must be settled before a case can be signed, and what comes next."""

from __future__ import annotations

from dataclasses import dataclass

from extractor.record.facts import Known, Measurement, Suture
from extractor.record.models import CaseRecord, Flag
from extractor.review.models import Sheet

DONE = ("accepted", "edited", "rejected")


def is_primary(fact: Known, kind: str) -> bool:
    """Whether a fact is one of those that must be right: side, procedure, measurements, suture positions, ties.

    Figures said for comparison (a norm, an earlier operation) are not of this case and need no reading.
    """
    if kind in ("laterality", "procedures", "ties"):
        return True
    if kind == "measurements" and isinstance(fact, Measurement):
        return fact.role != "reference"
    return kind == "sutures" and isinstance(fact, Suture) and fact.region is not None


def primary_facts(record: CaseRecord) -> list[Known]:
    """The primary facts, in the record's order."""
    facts: list[Known] = [record.laterality] if record.laterality else []
    for kind in ("procedures", "measurements", "sutures", "ties"):
        facts += [fact for fact in getattr(record, kind) if is_primary(fact, kind)]
    return facts


def state_of(record: CaseRecord, fact_id: str) -> str:
    """The review state of a fact."""
    review = record.review.get(fact_id)
    return review.state if review else "unreviewed"


def is_settled(sheet: Sheet, flag: Flag) -> bool:
    """Whether a question was answered and still reads as it did then."""
    settled = sheet.settled.get(flag.id)
    return settled is not None and settled.message == flag.message


def open_flags(sheet: Sheet, severity: str | None = None) -> list[Flag]:
    """Questions not answered, the gravest first; a flag whose every fact was rejected asks nothing."""
    return [
        flag
        for flag in sheet.record.flags
        if not is_settled(sheet, flag)
        and severity in (None, flag.severity)
        and not (flag.facts and all(state_of(sheet.record, fact) == "rejected" for fact in flag.facts))
    ]


@dataclass(frozen=True)
class Standing:
    """How far a case is: questions that stop signing, questions in all, primary facts to read and read."""

    stops: int
    questions: int
    unread: tuple[str, ...]
    primary: int

    @property
    def ready(self) -> bool:
        """Whether the case can be signed."""
        return not self.stops and not self.unread


def standing(sheet: Sheet) -> Standing:
    """Count what is left before signing."""
    facts = primary_facts(sheet.record)
    unread = tuple(fact.id for fact in facts if state_of(sheet.record, fact.id) not in DONE)
    return Standing(len(open_flags(sheet, "stop")), len(open_flags(sheet)), unread, len(facts))
