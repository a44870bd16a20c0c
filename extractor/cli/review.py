"""`extractor review`: the page on which cases are confirmed; on this machine only, unless told otherwise."""

from __future__ import annotations

import argparse
from pathlib import Path

from extractor.errors import InputError
from extractor.grammar.packs import site_folders


def run(args: argparse.Namespace) -> int:
    """Serve the page until it is interrupted."""
    try:
        from extractor.review.command import PORT, Door, serve
    except ModuleNotFoundError as missing:
        raise InputError(
            f"the review page needs {missing.name}; install extractor with its extra 'review'"
        ) from missing
    serve(
        [Path(name) for name in args.inputs],
        say=lambda line: print(line, flush=True),
        store=args.store,
        door=Door(
            host=args.host or Door.host,
            port=PORT if args.port is None else args.port,
            names=tuple(name.lower() for name in args.served_as),
            certificate=Path(args.certificate) if args.certificate else None,
            key=Path(args.key) if args.key else None,
        ),
        grammars=site_folders(args.grammars),
        watch=Path(args.watch) if args.watch else None,
        name=args.name,
        model=args.model,
    )
    return 0
