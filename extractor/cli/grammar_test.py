"""`extractor grammar test`: every example of every rule, read through the whole program."""

from __future__ import annotations

import argparse
import difflib

from extractor.errors import InputError
from extractor.grammar.packs import load_grammar, site_folders


def run(args: argparse.Namespace) -> int:
    """Try the examples; exit code 1 where one does not read as shown."""
    grammar = load_grammar(site_folders(args.grammars), checked=True)
    from extractor.outputs.examples import chosen, try_examples

    known = {r.name for r in grammar.rules} | set(grammar.packs)
    for name in args.rules:
        if name not in known:
            close = difflib.get_close_matches(name, known, 1)
            raise InputError(f"no rule or pack is called '{name}'{f', did you mean {close[0]!r}?' if close else ''}")
    tally = try_examples(chosen(grammar, args.rules), grammar)
    for failure in tally.failures:
        print(failure)
    failed = len({failure.rule.name for failure in tally.failures})
    result = f"{failed} rules fail" if failed else "all read as shown"
    print(f"{tally.rules} rules, {tally.sentences} sentences: {result}")
    return 1 if failed else 0
