"""What the work list shows of a case."""

from __future__ import annotations

from extractor.review.act.primary import standing, state_of
from extractor.review.models import Sheet
from extractor.review.store.cases import Summary


def summarize(sheet: Sheet) -> Summary:
    """Side, procedure and questions of a sheet, and its words for the search box."""
    record = sheet.record
    left = standing(sheet)
    told = [p for p in record.procedures if p.status == "performed" and state_of(record, p.id) != "rejected"]
    side = record.laterality if record.laterality and state_of(record, record.laterality.id) != "rejected" else None
    return Summary(
        side=side.value if side else None,
        compartment=next((p.compartment for p in told if p.compartment), None),
        procedure_code=told[0].code if told else None,
        stops=left.stops,
        questions=left.questions,
        words=" ".join(sheet.transcript.text.lower().split()),
    )
