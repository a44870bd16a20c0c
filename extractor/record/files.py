"""Reading and writing records as JSON, and the JSON Schema of a record."""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from extractor.errors import InputError
from extractor.record.models import SCHEMA_VERSION, CaseRecord


def record_json(record: CaseRecord) -> str:
    """Give a record as JSON text, keys in the contract's order: the same record, the same bytes."""
    return json.dumps(record.model_dump(mode="json"), ensure_ascii=False, indent=2) + "\n"


def write_record(record: CaseRecord, path: Path) -> None:
    """Write a record to `path`, whole or not at all.

    Raises:
        InputError: where the place cannot be written.
    """
    write_text(path, record_json(record))


def write_text(path: Path, text: str) -> None:
    """Write a file, whole or not at all.

    Raises:
        InputError: where the place cannot be written.
    """
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        try:
            part.write_text(text, encoding="utf-8", newline="")
            os.replace(part, path)
        finally:
            part.unlink(missing_ok=True)
    except OSError as error:
        raise InputError(f"{path}: cannot be written ({error.strerror}); choose another place") from error


def read_record(path: Path) -> CaseRecord:
    """Read a record.

    Raises:
        InputError: where the file is missing, is no JSON, is of a newer schema version, or is no
            record; the message says which entry is wrong.
    """
    try:
        text = path.read_text(encoding="utf-8")
    except OSError as error:
        raise InputError(f"{path}: the record cannot be read ({error.strerror}); check the name") from error
    except UnicodeDecodeError as error:
        raise InputError(f"{path}: is not UTF-8 text, so no record; give a record's JSON file") from error
    try:
        data = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise InputError(f"{path}: is no JSON ({error}); give a record's JSON file") from error
    return record_of(data, str(path))


def record_of(data: Any, where: str) -> CaseRecord:
    """Make a record of parsed JSON. `where` names it in messages.

    Raises:
        InputError: see `read_record`.
    """
    if not isinstance(data, dict) or "case_id" not in data:
        raise InputError(f"{where}: is JSON but no case record (no case_id); give what 'extractor extract' wrote")
    version = data.get("schema_version")
    if version != SCHEMA_VERSION:
        raise InputError(
            f"{where}: has schema_version {version!r} and this program reads {SCHEMA_VERSION!r}; "
            "use the program that wrote it, or extract the note again"
        )
    try:
        return CaseRecord.model_validate(data)
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        place = ".".join(str(part) for part in first["loc"])
        raise InputError(
            f"{where}: {place} does not fit a record: {first['msg']}; mend or remove that entry"
        ) from error


def record_schema() -> dict[str, Any]:
    """Give the JSON Schema (draft 2020-12) of a record file."""
    schema = CaseRecord.model_json_schema()
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Case record",
        **{key: value for key, value in schema.items() if key != "title"},
    }
