"""`extractor explain`: how a sentence is read, and where each number of a note went."""

from __future__ import annotations

import argparse
import gc
import json

from extractor.errors import InputError
from extractor.grammar.packs import load_grammar, site_folders


def run(args: argparse.Namespace) -> int:
    """Explain a sentence, or print the ledger of notes: exit code 1 where a number is not accounted for."""
    if (args.sentence is None) == (not args.ledger):
        raise InputError("give one sentence in quotes, or --ledger with a note's file")
    if args.sentence is not None and any("\ud800" <= c <= "\udfff" for c in args.sentence):
        raise InputError("the sentence is not UTF-8 text; type it again, or save it as a .txt note and extract that")
    if args.sentence is not None:
        gc.disable()  # one sentence, and the process ends: collecting would take a sixth of its time
    grammar = load_grammar(site_folders(args.grammars))
    if args.ledger:
        from extractor.cli.ledger import print_ledgers

        return print_ledgers(args.ledger, grammar, args.json)
    from extractor.outputs.explain import as_json, as_text, explain

    found = explain(args.sentence, grammar)
    print(json.dumps(as_json(found), ensure_ascii=False, indent=1) if args.json else as_text(found))
    return 0
