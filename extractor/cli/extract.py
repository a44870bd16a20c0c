"""`extractor extract`: notes to checked case records."""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from extractor.batch.inputs import NoteFile, find_notes
from extractor.cli.places import targets

if TYPE_CHECKING:
    from extractor.batch.read import Job, Outcome
    from extractor.cli.reader import Reader

LISTED = 12
"""So many notes that must be settled are named in the summary."""


def run(args: argparse.Namespace) -> int:
    """Read notes; one is shown, several are written, and a bad one among them does not stop the others."""
    notes = find_notes(args.inputs)
    places = targets(args.output, args.inputs, [n.case_id for n in notes])
    from extractor.cli.reader import Reader

    reader = Reader(args, grammars=args.grammars, side=args.schedule_side)
    if places is None:
        return _show(reader, notes[0], args.json)
    started = time.monotonic()
    outcomes = _write(reader, notes, places, args.cores)
    _tell(outcomes, places, time.monotonic() - started)
    if any(o.error for o in outcomes):
        return 2
    return 1 if any(o.stops for o in outcomes) else 0


def _show(reader: Reader, note: NoteFile, as_json: bool) -> int:
    from extractor.cli.viewing import print_record

    return print_record(reader.record(note), reader.folders, as_json)


def _write(reader: Reader, notes: Sequence[NoteFile], places: Sequence[Path], cores: int | None) -> list[Outcome]:
    """Read what is words already on all cores, then the recordings."""
    from extractor.batch.read import Job, Settings, read_all
    from extractor.cli.show import progress

    jobs = [Job(n, p) for n, p in zip(notes, places, strict=True)]
    written = [j for j in jobs if j.note.kind != "audio"]
    outcomes: list[Outcome] = []
    with progress("reading notes", len(written)) as tell:
        for outcome in read_all(written, Settings(reader.folders, reader.schedule), cores=cores):
            outcomes.append(outcome)
            tell(len(outcomes))
            _complain(outcome)
    for outcome in _hear(reader, [j for j in jobs if j.note.kind == "audio"], cores):
        outcomes.append(outcome)
        _complain(outcome)
    order = {n: i for i, n in enumerate(notes)}
    return sorted(outcomes, key=lambda o: order[o.note])


def _hear(reader: Reader, jobs: Sequence[Job], cores: int | None) -> Iterator[Outcome]:
    """Read recordings one after the other: each keeps all cores busy by itself, but not where a card recognizes it."""
    from extractor.batch.read import Settings, make_ready, usable_cores, write_one

    if not jobs:
        return
    make_ready(reader.grammar)
    spare = (cores or usable_cores()) - 1
    if spare and reader.again and reader.recognizer.on_card():
        from extractor.batch.recordings import FEW, LISTENERS, read_recordings

        if len(jobs) >= FEW:
            settings, processes = Settings(reader.folders, reader.schedule), min(spare, LISTENERS)
            yield from read_recordings(jobs, reader.recognizer.hear, settings, processes=processes)
            return
    yield from (write_one(job, reader.record) for job in jobs)


def _complain(outcome: Outcome) -> None:
    if outcome.error:
        print(f"extractor: {outcome.error}", file=sys.stderr)


def _tell(outcomes: Sequence[Outcome], places: Sequence[Path], seconds: float) -> None:
    """One line on what was read, and which notes must be settled."""
    good = [o for o in outcomes if not o.error]
    stopped = [o for o in good if o.stops]
    review = sum(1 for o in good if o.reviews and not o.stops)
    where = places[0] if len(places) == 1 else places[0].parent
    noun = "note" if len(good) == 1 else "notes"
    print(f"{len(good)} {noun} read into {where} in {seconds:.1f} s: {len(stopped)} to settle, {review} to review")
    for outcome in stopped[:LISTED]:
        print(f"  to settle: {outcome.note.case_id} ({outcome.stops})")
    if len(stopped) > LISTED:
        print(f"  and {len(stopped) - LISTED} more")
    bad = len(outcomes) - len(good)
    if bad:
        print(f"  not read: {bad}, for the reasons given above")
