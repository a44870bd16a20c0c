"""The operative note of a record, in plain text: a draft, from the record's facts and nothing else.

Sections stand in the order of the operative-note document of HL7 C-CDA (required ones, then optional ones; template
2.16.840.1.113883.10.20.22.1.7). What was not said is shown as not dictated. Facts a reviewer rejected are left out.
"""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TypeVar

from extractor.checks.words import first_up, number
from extractor.outputs.doubts import MARKS, counted, marks
from extractor.outputs.facts import device_words, finding_words, graft_words, step_words
from extractor.outputs.quadrants import placed, tie_line
from extractor.outputs.wording import (
    Wording,
    look,
    measured,
    place_words,
    plain,
    plan_words,
    procedure_words,
    stitch_words,
)
from extractor.record.facts import Element, Known, Measurement, Suture
from extractor.record.models import CaseRecord

NOT_DICTATED = "not dictated"
WIDTH = 92
F = TypeVar("F", bound=Known)
NOT_DONE = {"conditional": "only if needed", "planned": "considered or planned", "declined": "not done"}


@dataclass(frozen=True)
class _Note:
    """What the sections are written from."""

    record: CaseRecord
    wording: Wording
    marks: dict[str, str]

    def live(self, facts: Iterable[F]) -> list[F]:
        """Facts that no reviewer rejected."""
        review = self.record.review
        return [f for f in facts if f.id not in review or review[f.id].state != "rejected"]

    def marked(self, text: str, fact: Known) -> str:
        """A line with the mark of a doubt about its fact."""
        return f"{text} [{self.marks[fact.id]}]" if fact.id in self.marks else text

    def element(self, name: str) -> list[str]:
        """An element's own words."""
        found: Element | None = getattr(self.record.elements, name)
        said = self.live([found]) if found else []
        return [self.marked(" ".join(e.text.split()), e) for e in said]

    def measure(self, fact: Measurement) -> str:
        """A measurement's line."""
        role = f" ({fact.role})" if fact.role in ("target", "made") else ""
        return self.marked(f"{self.wording.measurement(fact)}: {measured(fact)}{role}", fact)


def note_text(record: CaseRecord, wording: Wording) -> str:
    """Write the operative note of a record.

    Args:
        record: the record; what is in no fact of it is not in the note.
        wording: what measurements are called.
    """
    note = _Note(record, wording, marks(record))
    parts = [_head(note)]
    for title, write in SECTIONS:
        parts.append(f"{title.upper()}\n{_body(write(note))}")
    parts.append(_foot(note))
    return "\n\n".join(parts) + "\n"


def _body(lines: list[str]) -> str:
    return "\n".join(_wrapped(line) for line in lines or [NOT_DICTATED])


def _wrapped(line: str) -> str:
    indent = len(line) - len(line.lstrip())
    hang = " " * (indent + (4 if line.lstrip()[:2].strip(".").isdigit() else 2))
    return textwrap.fill(line, WIDTH, initial_indent="  ", subsequent_indent="  " + hang, break_long_words=False)


def _head(note: _Note) -> str:
    record = note.record
    settled = (
        "No doubt was found by the checks." if not record.flags else f"Doubts: {counted(record)}; listed at the end."
    )
    lines = [
        "OPERATIVE NOTE - DRAFT, NOT SIGNED",
        "Written by a machine from what was dictated. Not for the chart before a person has checked it.",
        settled,
        "",
        f"Case:       {record.case_id or NOT_DICTATED}",
        f"Side:       {_side(note)}",
        f"Surgeon:    {'; '.join(note.element('surgeon')) or NOT_DICTATED}",
        f"Assistants: {'; '.join(note.element('assistants')) or NOT_DICTATED}",
    ]
    return "\n".join(lines)


def _side(note: _Note) -> str:
    side = note.record.laterality
    if side is None or not note.live([side]):
        return NOT_DICTATED
    words = f"both {side.of}s" if side.value == "bilateral" else f"{side.value.upper()} {side.of} of the patient"
    others = "".join(f"; {other.value} was said as well" for other in side.others)
    return note.marked(words + others, side)


def _blood_loss(note: _Note) -> list[str]:
    own = [m for m in note.live(note.record.measurements) if m.what == "blood_loss.volume"]
    return [*note.element("blood_loss"), *(note.measure(m) for m in own)]


def _fluids(note: _Note) -> list[str]:
    own = [m for m in note.live(note.record.measurements) if m.what == "fluid.volume"]
    return [*note.element("fluids"), *(note.measure(m) for m in own)]


def _findings(note: _Note) -> list[str]:
    lines = [note.marked(first_up(finding_words(f)), f) for f in note.live(note.record.findings)]
    observed = [m for m in _measurements(note) if m.role == "observed"]
    lines += [first_up(note.measure(m)) for m in observed]
    said = note.element("findings")
    return lines + ([f"As dictated: {said[0]}"] if said else [])


def _measurements(note: _Note) -> list[Measurement]:
    """Measurements that have no section of their own."""
    elsewhere = ("blood_loss.volume", "fluid.volume")
    return [m for m in note.live(note.record.measurements) if m.what not in elsewhere]


def _description(note: _Note) -> list[str]:
    steps = note.live(note.record.steps)
    done = [s for s in steps if s.status == "performed"]
    lines = [f"{place}. {note.marked(first_up(step_words(s)), s)}" for place, s in enumerate(done, 1)]
    lines += _list("Sizes", [note.measure(m) for m in _measurements(note) if m.role not in ("observed", "reference")])
    sutures = note.live(note.record.sutures)
    own = placed(sutures)
    lines += _list("Sutures", [_placed_line(note, s) for s in own])
    lines += _list("Ties", [note.marked(tie_line(t), t) for t in note.live(note.record.ties)])
    rest = [s for s in sutures if s not in own]
    lines += _list(
        "Stitches", [note.marked("; ".join(p for p in (stitch_words(s), place_words(s)) if p), s) for s in rest]
    )
    lines += _list("Instruments", [note.marked(device_words(d), d) for d in note.live(note.record.devices)])
    lines += _list(
        "Spoken of, not done",
        [note.marked(f"{step_words(s)}: {NOT_DONE[s.status]}", s) for s in steps if s.status in NOT_DONE],
    )
    lines += _list(
        "Said as a norm or habit, not of this case",
        [note.measure(m) for m in _measurements(note) if m.role == "reference"],
    )
    return lines


def _placed_line(note: _Note, suture: Suture) -> str:
    size = f", size {suture.usp_size}" if suture.usp_size else ""
    count = f"{number(suture.count)} x " if suture.count and suture.count > 1 else ""
    return note.marked(f"{place_words(suture)}: {count}{look(suture) or 'suture'}{size}", suture)


def _list(title: str, lines: list[str]) -> list[str]:
    return [f"{title}:", *(f"  - {line}" for line in lines)] if lines else []


def _implants(note: _Note) -> list[str]:
    grafts = [note.marked(f"{first_up(graft_words(g))}", g) for g in note.live(note.record.grafts)]
    return [*note.element("implants"), *grafts]


def _procedures(note: _Note) -> list[str]:
    names = {"performed": "", "prior": " (an earlier operation)", "planned": " (planned, not said to be done)"}
    facts = note.live(note.record.procedures)
    joint = note.record.laterality.of if note.record.laterality else "side"
    lines = [note.marked(f"{first_up(_sided(procedure_words(p), p.side, joint))}{names[p.status]}", p) for p in facts]
    said = note.element("procedure")
    return lines + ([f"As dictated: {said[0]}"] if said else [])


def _sided(name: str, side: str | None, joint: str) -> str:
    return f"{name}, {side} {joint}" if side and side != "bilateral" else name


def _plan(note: _Note) -> list[str]:
    return [note.marked(first_up(": ".join(plan_words(p))), p) for p in note.live(note.record.plan)]


def _foot(note: _Note) -> str:
    record = note.record
    lines = ["DRAFT: to be checked against the recording or the words dictated before it is signed."]
    if record.flags:
        lines.append(f"Doubts ([{MARKS['stop']}] must be settled, [{MARKS['review']}] is to be reviewed):")
        names = {"stop": "to settle", "review": "to review", "note": "remark"}
        lines += [_wrapped(f"- {names[f.severity]}: {f.message} ({plain(f.check)})") for f in record.flags]
    if record.repairs:
        lines.append("Words put right in reading:")
        lines += [_wrapped(f'- "{r.heard}" read as "{r.read_as}": {r.why}') for r in record.repairs]
    return "\n".join(lines)


SECTIONS: tuple[tuple[str, Callable[[_Note], list[str]]], ...] = (
    ("Anesthesia", lambda note: note.element("anesthesia")),
    ("Complications", lambda note: note.element("complications")),
    ("Preoperative diagnosis", lambda note: note.element("preoperative_diagnosis")),
    ("Postoperative diagnosis", lambda note: note.element("postoperative_diagnosis")),
    ("Estimated blood loss", _blood_loss),
    ("Findings", _findings),
    ("Specimens taken", lambda note: note.element("specimens")),
    ("Procedure description", _description),
    ("Implants", _implants),
    ("Fluids", _fluids),
    ("Surgical procedure", _procedures),
    ("Indications", lambda note: note.element("indication")),
    ("Disposition", lambda note: [*note.element("condition"), *note.element("disposition")]),
    ("Surgical drains", lambda note: note.element("drains")),
    ("Plan", _plan),
)
"""HL7 C-CDA 2.1, OperativeNote: required sections (LOINC 59774-0, 55109-3, 10219-4, 10218-6, 59770-8, 59776-5, 59773-2,
29554-3), then the optional ones that a dictation fills (59771-6, 10216-0, 10223-6, 59768-2, 59775-7, 11537-8, plan)."""
