"""A version of a case as bytes, and back."""

from __future__ import annotations

import json
import zlib

from extractor.record import record_json
from extractor.record.models import CaseRecord
from extractor.review.models import Sheet
from extractor.review.store.trail import sha256


def body_of(sheet: Sheet) -> bytes:
    """A sheet as compressed JSON: the same sheet, the same bytes."""
    text = json.dumps(sheet.model_dump(mode="json"), ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return zlib.compress(text.encode(), 6)


def sheet_of(body: bytes) -> Sheet:
    """The sheet that `body_of` wrote."""
    return Sheet.model_validate_json(zlib.decompress(body))


def record_sha256(record: CaseRecord) -> str:
    """What a signature signs: SHA-256 of the record's JSON file as `extractor.record` writes it."""
    return sha256(record_json(record).encode())
