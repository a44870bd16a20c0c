"""Which fields of a fact a person can change, and what may go in each. Codes come from the packs in force."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from extractor.checks.words import called
from extractor.grammar.limits import Limits
from extractor.record import vocabulary as v
from extractor.record.models import LISTS, CaseRecord

Input = Literal["value", "choice", "open", "count", "text"]


@dataclass(frozen=True)
class FieldForm:
    """One field: what it is called, how it is typed, and the choices where there are some."""

    name: str
    called: str
    input: Input
    choices: tuple[str, ...] = ()
    needed: bool = False


SIDES = ("left", "right", "bilateral")
POSITIONS = tuple(f"{r}-{s}" for r in ("posterior", "middle", "anterior") for s in v.SURFACES)
COLORS = ("white", "blue", "green", "black", "purple", "red", "orange", "yellow", "pink", "brown", "gray")
FORMS: dict[str, tuple[FieldForm, ...]] = {
    "laterality": (FieldForm("value", "side", "choice", SIDES, needed=True),),
    "procedures": (
        FieldForm("code", "procedure", "open", v.PROCEDURES, needed=True),
        FieldForm("side", "side", "choice", SIDES),
        FieldForm("compartment", "compartment", "choice", v.COMPARTMENTS),
        FieldForm("extent", "extent", "choice", ("segmental", "whole")),
        FieldForm("status", "status", "choice", ("performed", "prior", "planned"), needed=True),
    ),
    "findings": (
        FieldForm("structure", "of", "open", v.STRUCTURES),
        FieldForm("finding", "finding", "open", v.FINDINGS, needed=True),
        FieldForm("pattern", "pattern", "open", v.PATTERNS),
        FieldForm("region", "region", "open", v.REGIONS),
        FieldForm("status", "status", "choice", ("present", "absent"), needed=True),
    ),
    "measurements": (
        FieldForm("what", "what", "open", v.MEASUREMENTS, needed=True),
        FieldForm("value", "value", "value", needed=True),
        FieldForm("site", "site", "text"),
        FieldForm("role", "role", "choice", ("observed", "target", "made", "reference")),
    ),
    "sutures": (
        FieldForm("tissue", "in the", "choice", v.TISSUES, needed=True),
        FieldForm("region", "region", "open", v.REGIONS),
        FieldForm("surface", "surface", "choice", v.SURFACES),
        FieldForm("color", "color", "open", COLORS),
        FieldForm("pattern", "pattern", "open", v.SUTURE_PATTERNS),
        FieldForm("form", "form", "choice", v.SUTURE_FORMS),
        FieldForm("usp_size", "size (USP)", "text"),
        FieldForm("configuration", "stitch", "open", v.CONFIGURATIONS),
        FieldForm("technique", "technique", "open", v.TECHNIQUES),
        FieldForm("count", "how many", "count"),
    ),
    "ties": (
        FieldForm("first", "from", "choice", POSITIONS, needed=True),
        FieldForm("second", "to", "choice", POSITIONS, needed=True),
    ),
    "steps": (
        FieldForm("code", "step", "open", v.STEPS, needed=True),
        FieldForm("status", "status", "choice", ("performed", "planned", "conditional", "declined"), needed=True),
        FieldForm("detail", "detail", "text"),
    ),
    "devices": (
        FieldForm("kind", "kind", "open", v.DEVICES, needed=True),
        FieldForm("value", "size", "value"),
        FieldForm("count", "how many", "count"),
        FieldForm("site", "site", "text"),
        FieldForm("identifier", "identifier", "text"),
    ),
    "grafts": (
        FieldForm("source", "source", "choice", v.GRAFT_SOURCES),
        FieldForm("tissue", "tissue", "text"),
        FieldForm("side", "side", "choice", SIDES),
        FieldForm("identifier", "identifier", "text"),
        FieldForm("expiry", "expiry", "text"),
    ),
    "plan": (
        FieldForm("item", "item", "open", v.PLAN_ITEMS, needed=True),
        FieldForm("value", "value", "value", ("non", "toe-touch", "partial", "full", "as-tolerated"), needed=True),
    ),
    "elements": (FieldForm("text", "text", "text", needed=True),),
    "claims": (FieldForm("count", "how many", "count", needed=True),),
}
NOT_ADDED = ("claims", "laterality")


def forms_of(kind: str, limits: Limits) -> tuple[FieldForm, ...]:
    """The fields of a kind; measurements of the packs in force are added to the contract's."""
    if kind != "measurements":
        return FORMS[kind]
    known = (name for name in limits.measurements if name.count(".") == 1)
    what = FieldForm("what", "what", "open", _all(v.MEASUREMENTS, known), needed=True)
    return (what, *FORMS[kind][1:])


def in_words(form: FieldForm, code: str, limits: Limits) -> str:
    """A code of an open field as a person reads and types it: 'length of the defect', 'rim abrasion'."""
    return called(code, limits) if form.name == "what" else code.replace("-", " ").replace("_", " ")


def code_of(form: FieldForm, text: str, limits: Limits) -> str:
    """The code that words typed into an open field stand for; the words themselves where they are none of it."""
    if form.input != "open":
        return text
    words = " ".join(text.split()).lower()
    return next((code for code in form.choices if words in (code.lower(), in_words(form, code, limits).lower())), text)


def kind_of(record: CaseRecord, fact_id: str) -> str | None:
    """The kind of the fact with this id: a list of the record, 'laterality' or 'elements'."""
    if record.laterality and record.laterality.id == fact_id:
        return "laterality"
    for kind in LISTS:
        if any(fact.id == fact_id for fact in getattr(record, kind)):
            return kind
    return "elements" if fact_id in v.ELEMENTS and getattr(record.elements, fact_id) else None


def _all(*lists: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for names in lists for name in names))
