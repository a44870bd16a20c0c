"""`extractor transcribe`: recordings to transcripts."""

from __future__ import annotations

import argparse
import sys

from extractor.batch.inputs import find_notes
from extractor.cli.places import targets
from extractor.errors import InputError


def run(args: argparse.Namespace) -> int:
    """Recognize recordings; a bad one among several does not stop the others."""
    notes = find_notes(args.inputs, ("audio",))
    wrong = next((n for n in notes if n.kind != "audio"), None)
    if wrong:
        raise InputError(f"{wrong.path}: is no recording; 'extractor extract' reads written notes")
    places = targets(args.output, args.inputs, [n.case_id for n in notes])
    from extractor.cli.recognizing import recognizer_of
    from extractor.grammar.packs import load_grammar, site_folders
    from extractor.speech.files import write_transcript

    recognizer = recognizer_of(args, load_grammar(site_folders(args.grammars)))
    if places is None:
        transcript = recognizer.transcribe(notes[0].path)
        print(transcript.model_dump_json(indent=1) if args.json else transcript.text)
        return 0
    bad = 0
    for note, place in zip(notes, places, strict=True):
        try:
            write_transcript(recognizer.transcribe(note.path), place)
        except InputError as error:
            bad += 1
            print(f"extractor: {error}", file=sys.stderr)
    return 2 if bad else 0
