"""`extractor tables`: records as CSV files."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from extractor.batch.inputs import find_records
from extractor.errors import InputError
from extractor.outputs.tables import tables
from extractor.record import CaseRecord, read_record
from extractor.record.files import write_text


def run(args: argparse.Namespace) -> int:
    """Write the tables; a record that cannot be read is told and left out."""
    folder = Path(args.output)
    if folder.exists() and not folder.is_dir():
        raise InputError(f"{folder}: is a file; name a folder for the tables")
    records: list[CaseRecord] = []
    bad = 0
    for path in find_records(args.inputs):
        try:
            records.append(read_record(path))
        except InputError as error:
            bad += 1
            print(f"extractor: {error}", file=sys.stderr)
    written = tables(records)
    for name, text in written.items():
        write_text(folder / f"{name}.csv", text)
    print(f"{len(records)} records written as {len(written)} tables into {folder}")
    return 2 if bad else 0
