"""The case record: everything one note says, each fact with its evidence (contract, section 1)."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field

from extractor.record import vocabulary as v
from extractor.record.facts import (
    Claim,
    Device,
    Element,
    Evidence,
    Finding,
    Graft,
    Known,
    Laterality,
    Measurement,
    Part,
    PlanItem,
    Procedure,
    Step,
    Suture,
    Tie,
)

SCHEMA_VERSION: Literal["1"] = "1"


class Source(Part):
    """What the note came in as."""

    kind: v.SourceKind = "text"
    file_name: str | None = None
    sha256: str | None = None
    seconds: float | None = None
    speech_model: str | None = None
    language: str | None = None


class Elements(Part):
    """The required elements of an operative report; null where not said."""

    surgeon: Element | None = None
    assistants: Element | None = None
    preoperative_diagnosis: Element | None = None
    postoperative_diagnosis: Element | None = None
    procedure: Element | None = None
    anesthesia: Element | None = None
    blood_loss: Element | None = None
    fluids: Element | None = None
    complications: Element | None = None
    specimens: Element | None = None
    drains: Element | None = None
    implants: Element | None = None
    condition: Element | None = None
    disposition: Element | None = None
    indication: Element | None = None
    findings: Element | None = None


class Flag(Part):
    """A doubt, in a plain sentence. `origin` says whether reading or checking raised it."""

    id: str
    check: str = Field(examples=list(v.CHECK_SEVERITY))
    severity: v.Severity
    message: str
    facts: tuple[str, ...] = Field(default=(), description="ids of the facts involved")
    evidence: tuple[Evidence, ...] = ()
    suggestion: str | None = None
    origin: Literal["reading", "check", "second-reading"] = "check"


class Repair(Part):
    """A change made to the recognised words."""

    heard: str
    read_as: str
    why: str
    evidence: tuple[Evidence, ...] = ()


class Review(Part):
    """What a person did with a fact, and its fields before that."""

    state: v.ReviewState = "unreviewed"
    who: str | None = None
    when: str | None = Field(default=None, description="ISO 8601 time")
    before: dict[str, Any] | None = None


class CaseRecord(Part):
    """One case. `review` holds a state by fact id; a fact not in it is unreviewed."""

    schema_version: Literal["1"] = SCHEMA_VERSION
    case_id: str
    source: Source = Source()
    laterality: Laterality | None = None
    procedures: tuple[Procedure, ...] = ()
    findings: tuple[Finding, ...] = ()
    measurements: tuple[Measurement, ...] = ()
    sutures: tuple[Suture, ...] = ()
    ties: tuple[Tie, ...] = ()
    steps: tuple[Step, ...] = ()
    devices: tuple[Device, ...] = ()
    grafts: tuple[Graft, ...] = ()
    plan: tuple[PlanItem, ...] = ()
    elements: Elements = Elements()
    claims: tuple[Claim, ...] = ()
    flags: tuple[Flag, ...] = ()
    repairs: tuple[Repair, ...] = ()
    review: dict[str, Review] = Field(default_factory=dict)


LISTS: dict[str, tuple[str, type[Known]]] = {
    "procedures": ("p", Procedure),
    "findings": ("f", Finding),
    "measurements": ("m", Measurement),
    "sutures": ("s", Suture),
    "ties": ("t", Tie),
    "steps": ("st", Step),
    "devices": ("d", Device),
    "grafts": ("g", Graft),
    "plan": ("pl", PlanItem),
    "claims": ("c", Claim),
}
"""The record's lists of facts: the letters their ids begin with, and the model of one entry."""


def facts_by_id(record: CaseRecord) -> dict[str, Known]:
    """Every fact of a record by its id, in the record's order."""
    facts: list[Known] = [record.laterality] if record.laterality else []
    for kind in LISTS:
        facts += getattr(record, kind)
    facts += [e for name in v.ELEMENTS if (e := getattr(record.elements, name))]
    return {fact.id: fact for fact in facts}
