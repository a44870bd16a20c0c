"""`extractor audit`: the trail of acts on a case."""

from __future__ import annotations

import argparse

from extractor.errors import InputError


def run(args: argparse.Namespace) -> int:
    """Print the trail; exit code 1 where it is broken."""
    try:
        from extractor.review.command import audit
    except ModuleNotFoundError as missing:
        raise InputError(f"the audit needs {missing.name}; install extractor with its extra 'review'") from missing
    return 0 if audit(args.case, say=print, store=args.store) else 1
