"""The whole way from a note to its checked record. Read this first."""

from __future__ import annotations

from collections.abc import Sequence

from extractor.checks import run_checks
from extractor.checks.case import Schedule
from extractor.facts.doubts import doubtful_terms, repair_drafts
from extractor.facts.engine import read_facts
from extractor.grammar.limits import limits_of
from extractor.grammar.packs import Grammar
from extractor.language.annotate import annotate
from extractor.language.repair import Repair
from extractor.record import CaseRecord, build_record, heard_numbers
from extractor.speech.transcript import Transcript


def extract(
    transcript: Transcript,
    grammar: Grammar,
    *,
    case_id: str = "",
    schedule: Schedule | None = None,
    repairs: Sequence[Repair] = (),
) -> CaseRecord:
    """Read a transcript into a checked case record.

    Args:
        transcript: the words, from sound or typed.
        grammar: the packs in force (`load_grammar`).
        case_id: name of the case in the record.
        schedule: what the operating list says of the case, to check the side against.
        repairs: misheard words that the second reading reads otherwise.
    """
    note = annotate(transcript.text, grammar, repairs)
    reading = read_facts(note)
    drafts, doubts = doubtful_terms(reading.drafts, note.repairs)
    record = build_record(transcript, drafts, repair_drafts(note.repairs), case_id, (*reading.flags, *doubts))
    heard = heard_numbers(record, transcript)
    return run_checks(record, limits_of(grammar.folders), schedule=schedule, heard=heard)
