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
SHA256 = "0b603f64b614d23613ad94555468976196093507b4945de6ea265c50402f308f"
SCALES = "|scales"
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

    A factor is kept as it is, or in whole numbers of eight bits with a scale for each of its ranks.

    Raises:
        ModelError: when the file is no set of deltas or a factor lacks its partner.
    """
    try:
        with np.load(io.BytesIO(data), allow_pickle=False) as arrays:
            found = {name: arrays[name] for name in arrays.files}
        names = sorted(name.removesuffix("|A") for name in found if name.endswith("|A"))
        deltas = {name: (_factor(found, f"{name}|A"), _factor(found, f"{name}|B").T) for name in names}
    except (ValueError, KeyError, OSError, EOFError, zipfile.BadZipFile) as error:
        raise ModelError("the recognizer's trade words are damaged; install again, or use --plain") from error
    if found or not deltas:
        raise ModelError("the recognizer's trade words are incomplete; install again, or use --plain")
    return deltas


def _factor(found: dict[str, NDArray[np.floating]], key: str) -> NDArray[np.floating]:
    matrix, scales = found.pop(key), found.pop(f"{key}{SCALES}", None)
    rows = matrix.T if key.endswith("B") else matrix
    return rows if scales is None else rows.astype(np.float32) * scales.astype(np.float32)[:, None]


def adapt(weights: bytearray) -> None:
    """Add the packaged deltas to the packaged weights, in place.

    Raises:
        ModelError: when the deltas are missing, changed, or do not fit the weights.
    """
    add_low_rank(weights, read_deltas(packaged_deltas()))
