"""`python -m extractor`: the same as the command `extractor`."""

from __future__ import annotations

from extractor.cli import main

if __name__ == "__main__":
    raise SystemExit(main())
