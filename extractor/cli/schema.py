"""`extractor schema`: the JSON Schema of a case record."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from extractor.record import record_schema
from extractor.record.files import write_text


def run(args: argparse.Namespace) -> int:
    """Print the schema, or write it to a file."""
    text = json.dumps(record_schema(), ensure_ascii=False, indent=2) + "\n"
    if args.output:
        write_text(Path(args.output), text)
    else:
        print(text, end="")
    return 0
