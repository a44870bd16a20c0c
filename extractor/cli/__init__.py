"""The command line. Only this package prints.

Exit codes: 0 fine, 1 something must be settled (a flag of severity `stop`), 2 bad input.
Each command lives in a module of its own, loaded when it is called: start-up is most of a short command's time.
"""

from __future__ import annotations

import importlib
import os
import sys
from collections.abc import Sequence

from extractor.cli.parser import build_parser
from extractor.errors import ExtractorError

FINE, STOP, BAD_INPUT, INTERRUPTED = 0, 1, 2, 130
TRACE = "EXTRACTOR_TRACE"
"""Set this in the environment to see where an internal error arose."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command.

    Returns:
        The exit code: 0 fine, 1 flagged `stop`, 2 bad input.
    """
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a terminal that knows no "→" shows "?" and goes on
    try:
        args = build_parser().parse_args(argv)
    except SystemExit as end:  # argparse has said what is wrong, or printed the help
        return int(end.code or 0)
    try:
        code = int(importlib.import_module(args.module).run(args))
        sys.stdout.flush()
        return code
    except ExtractorError as error:
        print(f"extractor: {error}", file=sys.stderr)
        return BAD_INPUT
    except KeyboardInterrupt:
        print("extractor: stopped", file=sys.stderr)
        return INTERRUPTED
    except BrokenPipeError:
        # Whoever read our output (head, less) has seen enough. Python would complain again at exit.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return FINE
    except Exception as error:
        if os.environ.get(TRACE):
            raise
        print(
            f"extractor: internal error, not your fault: {type(error).__name__}: {error}; "
            f"please report it with the note, and what {TRACE}=1 prints",
            file=sys.stderr,
        )
        return BAD_INPUT
