"""What a check is given, and what it gives back."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from extractor.grammar.limits import Limits
from extractor.record.facts import Evidence, Known, Measurement, Procedure, Step
from extractor.record.models import CaseRecord
from extractor.record.vocabulary import Severity

F = TypeVar("F", bound=Known)


@dataclass(frozen=True)
class Schedule:
    """What was planned for this case, where it is given with the note."""

    side: str | None = None
    compartment: str | None = None


@dataclass(frozen=True)
class CheckConfig:
    """What a site sets for itself; None leaves the packs' value. Lengths in mm, times in min.

    `off` names checks that are not run.
    """

    tourniquet_long: float | None = None
    allowance: float | None = None
    tolerance: float | None = None
    off: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Case:
    """A record as the checks see it: facts that a reviewer rejected are not there.

    `heard` is how surely the number of a fact was heard, by the fact's id, where it was heard at all.
    """

    record: CaseRecord
    limits: Limits
    schedule: Schedule = field(default_factory=Schedule)
    config: CheckConfig = field(default_factory=CheckConfig)
    heard: Mapping[str, float] = field(default_factory=dict)

    def live(self, facts: Iterable[F]) -> list[F]:
        """Facts that no reviewer rejected."""
        review = self.record.review
        return [f for f in facts if f.id not in review or review[f.id].state != "rejected"]

    def measurements(self, what: str | None = None) -> list[Measurement]:
        """Measurements of this case (references left out), all or those of one kind."""
        return [
            m for m in self.live(self.record.measurements) if m.role != "reference" and (what is None or m.what == what)
        ]

    def procedures(self) -> list[Procedure]:
        """Procedures that were performed."""
        return [p for p in self.live(self.record.procedures) if p.status == "performed"]

    def steps(self) -> list[Step]:
        """Steps that were performed, in the order told."""
        return sorted((s for s in self.live(self.record.steps) if s.status == "performed"), key=lambda s: s.order)


@dataclass(frozen=True)
class Doubt:
    """What a check found: a plain sentence, the facts it concerns, and what would make them consistent.

    `evidence` stands in where no fact is at hand; `severity` where it is not the check's own.
    """

    message: str
    facts: tuple[Known, ...] = ()
    suggestion: str | None = None
    evidence: tuple[Evidence, ...] = ()
    severity: Severity | None = None


@dataclass(frozen=True)
class Check:
    """One check: its code (contract, section 7), severity, why it is there, where that is from, and the function."""

    code: str
    severity: Severity
    reason: str
    source: str
    run: Callable[[Case], Iterable[Doubt]]
