"""Showing one record."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path

from extractor.record import CaseRecord, record_json


def print_record(record: CaseRecord, folders: Iterable[Path], as_json: bool) -> int:
    """Print a record as its view or as JSON, and give the exit code: 1 where something must be settled."""
    if as_json:
        sys.stdout.write(record_json(record))
    else:
        from extractor.cli.show import show
        from extractor.grammar.limits import load_limits
        from extractor.outputs.terminal import view
        from extractor.outputs.wording import Wording

        show(view(record, Wording.of(load_limits(folders))))
    return 1 if any(flag.severity == "stop" for flag in record.flags) else 0
