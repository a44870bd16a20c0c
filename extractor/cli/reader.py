"""Reading one note after another, recordings too; recognizer and grammar are loaded once."""

from __future__ import annotations

import argparse
from collections.abc import Iterable

from extractor.batch.inputs import NoteFile, read_note
from extractor.checks.case import Schedule
from extractor.cli.recognizing import Recognizer, recognizer_of
from extractor.grammar.packs import load_grammar, site_folders
from extractor.pipeline import extract
from extractor.record import CaseRecord


class Reader:
    """Reads notes into records."""

    def __init__(self, args: argparse.Namespace, *, grammars: Iterable[str] = (), side: str | None = None) -> None:
        """Take the options of the recognizer, a site's pack folders, and the side on the operating list."""
        self.folders = site_folders(grammars)
        self.grammar = load_grammar(self.folders)
        self.schedule = Schedule(side=side) if side else None
        self.recognizer: Recognizer = recognizer_of(args, self.grammar)
        self.again = not getattr(args, "no_second_reading", False)

    def record(self, note: NoteFile) -> CaseRecord:
        """Read one note.

        Raises:
            InputError: where the file holds no note.
            ModelError: where the recognizer cannot be loaded.
        """
        transcript = self.recognizer.transcribe(note.path) if note.kind == "audio" else read_note(note)
        record = extract(transcript, self.grammar, case_id=note.case_id, schedule=self.schedule)
        if note.kind != "audio" or not self.again:
            return record
        return self.recognizer.listen_again(record, note.path, transcript, self.grammar, self.schedule)
