"""The words of the trade: low-rank deltas for the packaged recognizer, kept as package data and added at load.

They were trained by `training/` for exactly the packaged weights and are added to no other model. `data/MODEL_CARD.md`
says on what they were trained, how well they do and what they do not do.
"""

from __future__ import annotations

import hashlib
import io
import zipfile
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray

from extractor.errors import ModelError
from extractor.speech.weights import add_low_rank

NAME = "deltas.npz"
SHA256 = "365848333717e2bf5e49d49d76a4fcebbeed12bbcc4f320385bb45f888e0a2c3"
Factors = tuple[NDArray[np.floating], NDArray[np.floating]]


def packaged_deltas() -> bytes:
    """The file of the deltas, verified.

    Raises:
        ModelError: when it is missing or is not the one that belongs to this release.
    """
    try:
        data = files(__package__).joinpath("data", NAME).read_bytes()
    except FileNotFoundError as error:
        raise ModelError(f"the recognizer's trade words ({NAME}) are missing; install again, or use --plain") from error
    verify(data)
    return data


def verify(data: bytes) -> None:
    """Raise ModelError unless `data` is the pinned file, byte for byte."""
    if hashlib.sha256(data).hexdigest() != SHA256:
        raise ModelError(
            f"the recognizer's trade words ({NAME}) are not the pinned ones (SHA-256 differs); "
            "install again, or use --plain"
        )


def read_deltas(data: bytes) -> dict[str, Factors]:
    """Weight name to its factors: A (rank x inputs) and B (outputs x rank).

    Raises:
        ModelError: when the file is no set of deltas or a factor lacks its partner.
    """
    try:
        with np.load(io.BytesIO(data), allow_pickle=False) as arrays:
            found = {name: arrays[name] for name in arrays.files}
        names = sorted(name.removesuffix("|A") for name in found if name.endswith("|A"))
        deltas = {name: (found.pop(f"{name}|A"), found.pop(f"{name}|B")) for name in names}
    except (ValueError, KeyError, OSError, EOFError, zipfile.BadZipFile) as error:
        raise ModelError("the recognizer's trade words are damaged; install again, or use --plain") from error
    if found or not deltas:
        raise ModelError("the recognizer's trade words are incomplete; install again, or use --plain")
    return deltas


def adapt(weights: bytearray) -> None:
    """Add the packaged deltas to the packaged weights, in place.

    Raises:
        ModelError: when the deltas are missing, changed, or do not fit the weights.
    """
    add_low_rank(weights, read_deltas(packaged_deltas()))
