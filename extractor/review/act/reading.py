"""The grammar in force, and the reading and checking of notes by it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from extractor.checks import run_checks
from extractor.grammar.limits import Limits, limits_of
from extractor.grammar.packs import Grammar, load_grammar
from extractor.language.pieces import english
from extractor.pipeline import extract
from extractor.record.models import CaseRecord
from extractor.speech.transcript import Transcript


@dataclass(frozen=True)
class Reader:
    """Reads notes and checks records by one grammar."""

    grammar: Grammar
    limits: Limits

    def read(self, transcript: Transcript, case_id: str = "") -> CaseRecord:
        """A note as a checked record."""
        return extract(transcript, self.grammar, case_id=case_id)

    def check(self, record: CaseRecord) -> CaseRecord:
        """A record with its doubts set anew; a doubt that reads as before keeps what the sound suggested for it."""
        checked = run_checks(record, self.limits)
        before = {(flag.id, flag.message): flag.suggestion for flag in record.flags}
        flags = tuple(
            flag.model_copy(update={"suggestion": before.get((flag.id, flag.message)) or flag.suggestion})
            for flag in checked.flags
        )
        return checked.model_copy(update={"flags": flags})


def load_reader(grammars: Iterable[Path] = ()) -> Reader:
    """Load the shipped packs and those of `grammars`."""
    grammar = load_grammar(grammars)
    english()  # loaded now, so that no note waits for it
    return Reader(grammar, limits_of(grammar.folders))
