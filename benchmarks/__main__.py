"""Run every benchmark there is and print its figures: `make bench`."""

from __future__ import annotations

import importlib
import importlib.util
import sys

PARTS = ("text", "pauses", "speech", "review")
"""Modules of this package with a function `run() -> Iterator[str]` that gives lines to print."""


def main(names: list[str]) -> int:
    """Run the parts named, or all."""
    for name in names or PARTS:
        if importlib.util.find_spec(f"benchmarks.{name}") is None:
            continue
        print(f"\n{name.upper()}")
        for line in importlib.import_module(f"benchmarks.{name}").run():
            print(f"  {line}", flush=True)
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
