"""The case sheet: facts grouped as a surgeon thinks, with what is missing said plainly."""

from __future__ import annotations

from dataclasses import dataclass, field

from extractor.grammar.limits import Limits
from extractor.record.facts import Known
from extractor.record.models import CaseRecord
from extractor.review.act.primary import open_flags
from extractor.review.models import Sheet
from extractor.review.show.facts import FactView, fact_view
from extractor.review.show.square import Square, squares_of
from extractor.review.show.words import plain

REQUIRED = (
    "surgeon", "assistants", "preoperative_diagnosis", "postoperative_diagnosis", "procedure", "anesthesia",
    "blood_loss", "complications", "specimens",
)  # fmt: skip
COMPARTMENTS = ("medial", "lateral")


@dataclass(frozen=True)
class Group:
    """Facts under one heading; `apart` are those that were considered and not done."""

    title: str
    key: str
    facts: tuple[FactView, ...]
    subtitle: str = ""
    apart: tuple[FactView, ...] = ()


@dataclass(frozen=True)
class SheetView:
    """The whole sheet."""

    side: FactView | None
    procedures: tuple[FactView, ...]
    squares: tuple[Square, ...]
    groups: tuple[Group, ...]
    missing: tuple[str, ...] = field(default=())


def sheet_view(sheet: Sheet, limits: Limits) -> SheetView:
    """Lay a record out."""
    record = sheet.record
    asked = {fact for flag in open_flags(sheet) for fact in flag.facts}

    def view(kind: str, fact: Known) -> FactView:
        return fact_view(record, kind, fact, limits, asked)

    def views(kind: str) -> tuple[FactView, ...]:
        return tuple(view(kind, fact) for fact in getattr(record, kind))

    steps = sorted(record.steps, key=lambda step: step.order)
    done = tuple(view("steps", s) for s in steps if s.status == "performed")
    apart = tuple(view("steps", s) for s in steps if s.status != "performed")
    groups = [
        *_measurements(record, view),
        Group("Sutures", "sutures", views("sutures") + views("claims")),
        Group("Ties", "ties", views("ties")),
        Group("Steps, in order", "steps", done, apart=apart),
        *_findings(record, view),
        Group("Devices", "devices", views("devices")),
        Group("Grafts", "grafts", views("grafts")),
        Group("Plan", "plan", views("plan")),
    ]
    elements = [e for name in type(record.elements).model_fields if (e := getattr(record.elements, name))]
    said = tuple(view("elements", e) for e in elements)
    shown = [g for g in groups if g.facts or g.apart]
    missing = tuple(plain(name) for name in REQUIRED if not _is_said(record, name))
    return SheetView(
        side=view("laterality", record.laterality) if record.laterality else None,
        procedures=views("procedures"),
        squares=tuple(squares_of(record)),
        groups=(*shown, Group("Required of a report", "elements", said)),
        missing=missing,
    )


def _is_said(record: CaseRecord, name: str) -> bool:
    if getattr(record.elements, name):
        return True
    if name == "procedure":
        return bool(record.procedures)
    return name == "blood_loss" and any(m.what == "blood_loss.volume" for m in record.measurements)


def _measurements(record: CaseRecord, view: object) -> list[Group]:
    assert callable(view)
    things: dict[str, list[FactView]] = {}
    for fact in record.measurements:
        things.setdefault(fact.what.split(".")[0], []).append(view("measurements", fact))
    order = {name: number for number, name in enumerate(("defect", "rim", "graft", "tear"))}
    sort = sorted(things, key=lambda name: order.get(name, len(order)))
    return [
        Group("Measurements" if number == 0 else "", "measurements", tuple(things[name]), subtitle=plain(name))
        for number, name in enumerate(sort)
    ]


def _findings(record: CaseRecord, view: object) -> list[Group]:
    assert callable(view)
    places: dict[str, list[FactView]] = {}
    for fact in record.findings:
        place = next((c for c in COMPARTMENTS if (fact.structure or "").startswith(c)), "elsewhere in the knee")
        places.setdefault(place, []).append(view("findings", fact))
    names = [name for name in (*COMPARTMENTS, "elsewhere in the knee") if name in places]
    return [
        Group("Findings" if number == 0 else "", "findings", tuple(places[name]), subtitle=name)
        for number, name in enumerate(names)
    ]
