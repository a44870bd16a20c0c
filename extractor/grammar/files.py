"""The text of a pack's file."""

from __future__ import annotations

from pathlib import Path

from extractor.errors import GrammarError


def pack_text(path: Path) -> str:
    """The text of a word list, rule or limit file.

    Raises:
        GrammarError: for a file that cannot be opened, or is not UTF-8; with the line of the first such byte.
    """
    shown = f"{path.parent.name}/{path.name}"
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise GrammarError(f"{shown}:1: cannot be read ({error.strerror}); make it a file you may read") from None
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise GrammarError(f"{shown}:{line}: cannot be read, it is not UTF-8; save it as UTF-8 text") from None
