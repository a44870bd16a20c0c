"""`extractor note`: the operative note of a record, as plain text."""

from __future__ import annotations

import argparse
from pathlib import Path

from extractor.grammar.limits import load_limits
from extractor.grammar.packs import site_folders
from extractor.outputs.note import note_text
from extractor.outputs.wording import Wording
from extractor.record import read_record
from extractor.record.files import write_text


def run(args: argparse.Namespace) -> int:
    """Print the note, or write it to a file; exit code 1 where something must be settled before it is signed."""
    record = read_record(Path(args.record))
    text = note_text(record, Wording.of(load_limits(site_folders(args.grammars))))
    if args.output:
        write_text(Path(args.output), text)
    else:
        print(text, end="")
    return 1 if any(flag.severity == "stop" for flag in record.flags) else 0
