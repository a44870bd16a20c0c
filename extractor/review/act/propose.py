"""What the grammar reads in a selected sentence, for a fact that was missed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from extractor.record.facts import Evidence
from extractor.record.models import LISTS
from extractor.review.act.facts import fields_of
from extractor.review.act.reading import Reader
from extractor.review.models import BY_HAND, Sheet
from extractor.speech.transcript import Transcript


@dataclass(frozen=True)
class Proposal:
    """A fact the selected words can be read as."""

    kind: str
    fields: dict[str, Any]


def evidence_at(sheet: Sheet, start: int, end: int) -> Evidence:
    """What a fact rests on that a person reads in these characters of the note."""
    text = sheet.transcript.text
    start, end = max(0, min(start, len(text))), max(0, min(end, len(text)))
    touched = [w for w in sheet.transcript.words if w.end > start and w.start < end and w.start_s is not None]
    return Evidence(
        start=start,
        end=end,
        text=text[start:end],
        start_s=touched[0].start_s if touched else None,
        end_s=touched[-1].end_s if touched else None,
        rule=BY_HAND,
    )


def propose(sheet: Sheet, start: int, end: int, reader: Reader) -> list[Proposal]:
    """Read the selected words alone, and with the sentence before them; leave out what the record has."""
    text = sheet.transcript.text
    known = {(kind, repr(fields_of(fact))) for kind in LISTS for fact in getattr(sheet.record, kind)}
    found: dict[str, Proposal] = {}
    before = text.rfind(".", 0, max(0, start - 2)) + 1
    for first in dict.fromkeys((start, before)):
        record = reader.read(Transcript(text=text[first:end]))
        for kind in LISTS:
            for fact in getattr(record, kind):
                if kind == "claims" or all(first + e.end <= start for e in fact.evidence):
                    continue
                fields = fields_of(fact)
                if (kind, repr(fields)) not in known:
                    found.setdefault(
                        kind + repr({k: v for k, v in fields.items() if k != "order"}), Proposal(kind, fields)
                    )
    return list(found.values())[:7]
