"""`extractor explain --ledger`: where each number of a note went."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Sequence
from dataclasses import asdict

from extractor.batch.inputs import find_notes, read_note
from extractor.errors import InputError
from extractor.facts.account import PLACES
from extractor.grammar.packs import Grammar
from extractor.outputs.ledger import ledger


def print_ledgers(files: Sequence[str], grammar: Grammar, as_json: bool) -> int:
    """Print the ledgers of notes; exit code 1 where a number is left over."""
    notes = find_notes(files, ("text", "transcript", "annotated"))
    total: Counter[str] = Counter()
    shown = []
    for note in notes:
        if note.kind == "audio":
            raise InputError(f"{note.path}: is a recording; transcribe it first with 'extractor transcribe'")
        entries = ledger(read_note(note).text, grammar)
        total.update(entry.went for entry in entries)
        if as_json:
            shown.append({"case_id": note.case_id, "numbers": [asdict(entry) for entry in entries]})
            continue
        print(note.case_id)
        for entry in entries:
            words = " ".join(entry.text.split())
            print(f"  {entry.went:<8} {entry.start:>6}  {words:<44} {entry.read_as}")
    if as_json:
        print(json.dumps(shown, ensure_ascii=False, indent=1))
    else:
        counts = ", ".join(f"{total[name]} {name}" for name in PLACES if total[name])
        print(f"{total.total()} numbers with a unit: {counts or 'none'}")
        print("the ledger closes" if not total["open"] else f"{total['open']} of them went nowhere")
    return 1 if total["open"] else 0
