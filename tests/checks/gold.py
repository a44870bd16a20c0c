"""Records made of the facts of annotated notes, so that checks are tried on cases they did not choose.

The annotations lie beside the repository (../shared); nothing of them is copied here. They hold
no evidence, no elements, no graft identifiers, no announced numbers and no second side, so those
are put in by hand (HAND) or read off the note in the plainest way.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

from extractor.facts.draft import FactDraft, Span
from extractor.record import CaseRecord, build_record
from extractor.speech.transcript import Transcript

SHARED = Path(__file__).resolve().parents[3] / "shared"
NAMES = [f"d{n:02}" for n in range(1, 21)] + [f"c{n:02}" for n in range(1, 13)]

HAND: dict[str, dict[str, object]] = {
    "d07": {"sides": ["left", "right"]},
    "c07": {"sides": ["left", "right"]},
    "c08": {"compartments": ("medial", "lateral")},
    "c03": {"allowances": [(1, "habit"), (2, "case")]},
    "d03": {"allowances": [(1, "habit")], "claims": [("native", 4), ("graft", 4)]},
    "d01": {"allowances": [(1, "habit")], "claims": [("native", 4)]},
    "d10": {"claims": [("native", 4), ("graft", 4)]},
    "d16": {"allowances": [(1, "habit")]},
    "d18": {"claims": [(None, 2)]},
    "c04": {"claims": [("native", 4), ("graft", 4)]},
    "c12": {"claims": [("root", 2)]},
}
ELEMENTS = {
    "surgeon": r"\bsurgeon\b",
    "preoperative_diagnosis": r"preoperative (and postoperative )?diagnosis",
    "postoperative_diagnosis": r"postoperative diagnosis",
    "anesthesia": r"anesthesia (colon|was)|anesthesia:|under general anesthesia",
    "complications": r"complications",
    "specimens": r"specimens",
    "disposition": r"disposition",
    "blood_loss": r"estimated blood loss|blood loss was",
}
IDENTIFIER = re.compile(r"(tissue|graft|allograft) (number|identifier|I D) ", re.IGNORECASE)


def read_gold(name: str) -> dict[str, object]:
    """One annotated note, or a skip that says why."""
    for folder in ("gold", "gold-checks"):
        path = SHARED / folder / f"{name}.yaml"
        if path.is_file():
            return yaml.safe_load(path.read_text(encoding="utf-8"))
    pytest.skip("the annotated notes (../shared) are not here")


def record_of_gold(gold: dict[str, object]) -> CaseRecord:
    """The record that perfect reading of this note would give, as far as the annotation goes."""
    note = str(gold["note"])
    facts = dict(gold["facts"])
    hand = HAND.get(str(gold["id"]), {})
    spans = iter(range(len(note)))

    def draft(kind: str, /, **fields: object) -> FactDraft:
        start = next(spans)
        return FactDraft(kind, fields, (Span(start, start + 1, "by hand"),))

    drafts: list[FactDraft] = []
    sides = hand.get("sides") or ([facts["laterality"]] if facts.get("laterality") else [])
    drafts += [draft("laterality", value=side) for side in sides]
    for procedure in facts["procedures"]:
        fields = dict(procedure)
        if "compartments" in hand:
            fields["compartment"], other = hand["compartments"]
            fields["compartment_others"] = [{"value": other, "spans": (Span(0, 1, "by hand"),)}]
        drafts.append(draft("procedures", **fields))
    for kind in ("measurements", "sutures", "devices", "plan"):
        drafts += [draft(kind, **fields) for fields in facts.get(kind) or []]
    for fields in facts.get("findings") or []:
        drafts.append(draft("findings", **fields))
    drafts += [draft("ties", between=tuple(ends)) for ends in facts.get("ties") or []]
    drafts += [draft("steps", code=code) for code in facts.get("steps") or []]
    drafts += [draft("steps", code=code, status="declined") for code in facts.get("not_performed") or []]
    for tissue, count in hand.get("claims", ()):
        drafts.append(draft("claims", what="sutures", tissue=tissue, count=count))
    for value, purpose in hand.get("allowances", ()):
        drafts.append(
            draft("measurements", what="graft.allowance", value=value, unit="mm", role="reference", purpose=purpose)
        )
    if IDENTIFIER.search(note):
        drafts.append(draft("grafts", source="allograft", identifier="X1"))
    for name, pattern in ELEMENTS.items():
        if re.search(pattern, note, re.IGNORECASE):
            drafts.append(draft("elements", name=name, text="said"))
    return build_record(Transcript(text=note), drafts, case_id=str(gold["id"]))
