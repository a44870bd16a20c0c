"""`extractor check`: check records anew and list what is doubtful."""

from __future__ import annotations

import argparse
import json
import sys

from extractor.batch.inputs import find_records
from extractor.checks.case import CheckConfig, Schedule
from extractor.checks.run import CHECKS, run_checks
from extractor.cli.places import targets
from extractor.errors import InputError
from extractor.grammar.limits import load_limits
from extractor.grammar.packs import site_folders
from extractor.record import CaseRecord, read_record, write_record


def run(args: argparse.Namespace) -> int:
    """Check records; one that cannot be read does not stop the others."""
    files = find_records(args.inputs)
    places = targets(args.output, args.inputs, [f.stem for f in files]) if args.output else None
    limits = load_limits(site_folders(args.grammars))
    schedule = Schedule(side=args.schedule_side) if args.schedule_side else None
    config = _config(args)
    records: list[CaseRecord] = []
    bad = 0
    for number, file in enumerate(files):
        try:
            record = run_checks(read_record(file), limits, schedule=schedule, config=config)
            if places:
                write_record(record, places[number])
            records.append(record)
        except InputError as error:
            bad += 1
            print(f"extractor: {error}", file=sys.stderr)
    _print(records, args.json)
    if bad:
        return 2
    return 1 if any(flag.severity == "stop" for record in records for flag in record.flags) else 0


def _config(args: argparse.Namespace) -> CheckConfig:
    from extractor.record.vocabulary import CHECK_SEVERITY

    for code in args.off:
        if code not in CHECK_SEVERITY:
            known = ", ".join(check.code for check in CHECKS)
            raise InputError(f"--off {code}: there is no such check; the checks are {known}")
    return CheckConfig(tourniquet_long=args.tourniquet_long, allowance=args.allowance, off=frozenset(args.off))


def _print(records: list[CaseRecord], as_json: bool) -> None:
    if as_json:
        flags = [{"case_id": r.case_id, **f.model_dump(mode="json")} for r in records for f in r.flags]
        print(json.dumps(flags, ensure_ascii=False, indent=2))
        return
    from extractor.cli.show import show
    from extractor.outputs.doubts import doubts_view

    for record in records:
        show(doubts_view(record))
