"""The text of a pack's file."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

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


def pack_table(path: Path) -> dict[str, Any]:
    """What a TOML file of a pack says.

    Raises:
        GrammarError: as `pack_text`, and for what is no TOML, with its line.
    """
    text = pack_text(path)
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        line = re.search(r"line (\d+)", str(error))
        last = len(text.rstrip().splitlines()) or 1
        raise GrammarError(f"{path.parent.name}/{path.name}:{line[1] if line else last}: {error}") from None
