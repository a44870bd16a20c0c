"""Where output goes: what -o means for one input and for several."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

from extractor.errors import InputError


def targets(output: str | None, inputs: Sequence[str], ids: Sequence[str]) -> list[Path] | None:
    """Give the file each record goes to, or None where it is to be shown.

    One input goes to the file given with -o, or as ID.json into the folder given (a folder that exists, a name
    that ends in '/', or one without an ending). Several inputs, or a folder, go as ID.json into the folder.

    Raises:
        InputError: for several inputs without a folder.
    """
    one = len(inputs) == 1 and not Path(inputs[0]).is_dir()
    if output is None:
        if one:
            return None
        raise InputError("several notes need a folder for what is read; name one with -o FOLDER")
    place = Path(output)
    if one and not (place.is_dir() or output.endswith(("/", os.sep)) or not place.suffix):
        return [place]
    if place.exists() and not place.is_dir():
        raise InputError(f"{place}: is a file; for several notes name a folder with -o")
    return [place / f"{name}.json" for name in ids]
