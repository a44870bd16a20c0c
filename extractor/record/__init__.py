"""The case record: its models, how it is made of drafts, and its file form."""

from __future__ import annotations

from extractor.record.build import DraftError, build_record
from extractor.record.files import read_record, record_json, record_of, record_schema, write_record
from extractor.record.heard import heard_numbers
from extractor.record.models import CaseRecord, facts_by_id

__all__ = [
    "CaseRecord",
    "DraftError",
    "build_record",
    "facts_by_id",
    "heard_numbers",
    "read_record",
    "record_json",
    "record_of",
    "record_schema",
    "write_record",
]
