"""The facts of a record, one model a kind, named as in the contract (sections 1 and 3 to 6).

They hold what was said, also when it was said wrongly: no limit is checked here (see
`extractor.checks`). Codes are plain text, because packs may add values; the contract's own are
published in the JSON Schema as examples.
"""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import (
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PlainSerializer,
    SerializerFunctionWrapHandler,
    model_serializer,
)

from extractor.record import vocabulary as v


def _whole(value: float) -> int | float:
    """Write 19.0 as 19, so that a record shows a number as it was said."""
    return int(value) if value == int(value) else value


def _as_text(value: Any) -> Any:
    return str(value) if isinstance(value, int) and not isinstance(value, bool) else value


Number = Annotated[
    float, Field(strict=True, allow_inf_nan=False), PlainSerializer(_whole, return_type=Any, when_used="json")
]
"""A finite number; true, false and text are refused."""
Count = Annotated[int, Field(strict=True)]
Text = Annotated[str, BeforeValidator(_as_text)]
"""Text; a whole number is taken as its digits ("grade 2", "number 2 suture")."""


def _of(values: tuple[str, ...], description: str) -> Any:
    """Describe an open list of codes."""
    return Field(default=None, description=description, examples=list(values))


class Part(BaseModel):
    """Any piece of a record: cannot be changed in place, and refuses fields it does not know."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Evidence(Part):
    """Where in the note something was said."""

    start: int = Field(ge=0, description="first character, counted in the transcript's text")
    end: int = Field(ge=0, description="character after the last")
    text: str = Field(description="the words themselves, as recognised")
    start_s: Number | None = Field(default=None, description="seconds into the audio")
    end_s: Number | None = None
    rule: str = Field(description="the rule that read it, in its plain words")


class Said(Part):
    """Another value that was said for the same thing, with its evidence."""

    value: str
    evidence: tuple[Evidence, ...] = Field(min_length=1)


class Known(Part):
    """What every fact carries: its id, how sure the reading is, and what it rests on."""

    id: str = Field(min_length=1, description="stable within the record")
    certainty: Number = Field(default=1.0, ge=0, le=1)
    evidence: tuple[Evidence, ...] = Field(min_length=1)

    @model_serializer(mode="wrap")
    def _evidence_last(self, write: SerializerFunctionWrapHandler) -> dict[str, Any]:
        """Write what was said before how it is known, so that a record reads well."""
        out: dict[str, Any] = write(self)
        for name in ("certainty", "evidence"):
            out[name] = out.pop(name)
        return out


class Laterality(Known):
    """The operated side. `others` holds sides that were said for it besides."""

    value: v.Side
    joint: str | None = Field(default=None, description="the joint it was said of, as the packs call it")
    others: tuple[Said, ...] = ()

    @property
    def of(self) -> str:
        """The joint in a sentence; the knee where none was said, which is what the shipped packs are about."""
        return self.joint or "knee"


class Procedure(Known):
    """One procedure. `compartment_others` holds compartments said for it besides."""

    code: str = Field(examples=list(v.PROCEDURES))
    side: v.Side | None = None
    compartment: str | None = _of(v.COMPARTMENTS, "compartment of the knee")
    extent: str | None = _of(("segmental", "whole"), "of a meniscus transplant")
    status: v.ProcedureStatus = "performed"
    compartment_others: tuple[Said, ...] = ()


class Grade(Part):
    """A grade and the system it was given in; null where no system was said."""

    system: str | None = _of(v.GRADE_SYSTEMS, "grading system")
    value: Text


class Finding(Known):
    """What was seen of a structure; `absent` keeps what was said not to be there."""

    structure: str | None = _of(v.STRUCTURES, "what it was seen of")
    finding: str = Field(examples=list(v.FINDINGS))
    pattern: str | None = _of(v.PATTERNS, "of a tear")
    region: str | None = _of(v.REGIONS, "part of the structure")
    grade: Grade | None = None
    status: v.FindingStatus = "present"


class Measurement(Known):
    """A measured value, a range (low and high) or a bound (one of them), in a canonical unit."""

    what: str = Field(description="object.dimension", examples=list(v.MEASUREMENTS))
    site: str | None = None
    value: Number | None = None
    low: Number | None = None
    high: Number | None = None
    unit: str | None = _of(v.UNITS, "UCUM code; null where none was said")
    approximate: bool = False
    role: v.Role | None = None
    when: str | None = _of(("before", "after"), "before or after the operation")
    which: str | None = _of(("second", "larger"), "which of several of its kind, as said")
    purpose: str | None = _of(("drilling", "fixation", "testing", "habit", "case"), "what it was done for")
    earlier_values: tuple[Number, ...] = Field(default=(), description="values corrected or counted past")


class Suture(Known):
    """A suture at a place, or a set of alike stitches (`count`)."""

    tissue: str | None = _of(v.TISSUES, "what it goes through")
    region: str | None = _of(v.REGIONS, "end or part")
    surface: str | None = _of(v.SURFACES, "surface it leaves by")
    color: str | None = _of(("white", "blue", "green", "black"), "plain color word")
    pattern: str | None = _of(v.SUTURE_PATTERNS, "as said")
    form: str | None = _of(v.SUTURE_FORMS, "suture or tape")
    usp_size: Text | None = _of(("2-0", "0", "2"), "USP size, as text")
    configuration: str | None = _of(v.CONFIGURATIONS, "stitch")
    technique: str | None = _of(v.TECHNIQUES, "how it was placed")
    role: str | None = _of(v.SUTURE_ROLES, "what it serves")
    count: Count | None = None


class Tie(Known):
    """Two positions (`region-surface`) whose sutures were tied to each other."""

    between: tuple[str, str]
    over: str | None = None


class Step(Known):
    """One step; `order` is the order of performing as told, from 1."""

    order: Count
    code: str = Field(examples=list(v.STEPS))
    status: v.StepStatus = "performed"
    site: str | None = None
    count: Count | None = None
    detail: str | None = Field(default=None, description="a few normalized words")


class Device(Known):
    """An instrument or implant; `size` is its diameter or nominal size."""

    kind: str = Field(examples=list(v.DEVICES))
    size: Number | None = None
    length: Number | None = None
    unit: str | None = None
    count: Count | None = None
    site: str | None = None
    identifier: Text | None = None


class Graft(Known):
    """A graft and its traceability."""

    tissue: str | None = None
    source: str | None = _of(v.GRAFT_SOURCES, "where it is from")
    side: v.Side | None = None
    identifier: Text | None = None
    expiry: Text | None = None


class PlanItem(Known):
    """One instruction for afterwards."""

    item: str = Field(examples=list(v.PLAN_ITEMS))
    value: Number | str | None = None
    unit: str | None = None
    low: Number | None = None
    high: Number | None = None


class Element(Known):
    """One required element of an operative report, as worded."""

    text: str


class Claim(Known):
    """A number that was announced ("four sutures"), against which what was described is counted."""

    what: str = Field(examples=["sutures"])
    tissue: str | None = _of(v.TISSUES, "what it was said of")
    count: Count
