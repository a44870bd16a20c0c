"""Sound by content hash, and the pieces of a recording as they come. No path is made of a name given from outside."""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import tempfile
import time
from collections.abc import Iterable
from pathlib import Path

from extractor.review.store.connect import Store, StoreError

HASH = re.compile(r"[0-9a-f]{64}")
NAME = re.compile(r"[0-9a-f]{16}")


def keep_sound(store: Store, chunks: Iterable[bytes]) -> str:
    """Write sound to the store and give its SHA-256; the same sound is kept once."""
    folder = store.folder / "sound"
    digest = hashlib.sha256()
    with tempfile.NamedTemporaryFile(dir=folder, suffix=".part", delete=False) as file:
        for chunk in chunks:
            digest.update(chunk)
            file.write(chunk)
        _settle(file.fileno())
    name = digest.hexdigest()
    os.replace(file.name, folder / name)
    _settle_folder(folder)
    return name


def sound_path(store: Store, name: str) -> Path:
    """Where a sound lies.

    Raises:
        StoreError: where the name is none of a sound, or the file is gone.
    """
    path = store.folder / "sound" / name
    if not HASH.fullmatch(name) or not path.is_file():
        raise StoreError("The sound of this note is not in the store's folder; put the folder back beside the store.")
    return path


def keep_piece(store: Store, recording: str, number: int, data: bytes) -> str:
    """Keep one piece of a running recording, on the disk before this returns; gives its SHA-256."""
    folder = _pieces(store, recording)
    folder.mkdir(mode=0o700, exist_ok=True)
    with tempfile.NamedTemporaryFile(dir=folder, suffix=".part", delete=False) as file:
        file.write(data)
        _settle(file.fileno())
    os.replace(file.name, folder / f"{number:06d}")
    _settle_folder(folder)
    return hashlib.sha256(data).hexdigest()


def piece_paths(store: Store, recording: str) -> list[Path]:
    """The pieces kept of a recording, in order, up to the first that is missing."""
    found: list[Path] = []
    folder = _pieces(store, recording)
    while (path := folder / f"{len(found):06d}").is_file():
        found.append(path)
    return found


def drop_pieces(store: Store, recording: str) -> None:
    """Remove the pieces of a recording that was joined and kept whole."""
    folder = _pieces(store, recording)
    if folder.is_dir():
        for path in folder.iterdir():
            path.unlink(missing_ok=True)
        folder.rmdir()


def work_folder(store: Store) -> tempfile.TemporaryDirectory[str]:
    """A folder for sound at work, within the store's own: what a power cut leaves there is found and removed."""
    return tempfile.TemporaryDirectory(dir=store.folder / "work")


def clear_work(store: Store) -> None:
    """Remove what an earlier run of the program was stopped over: half-written files and sound at work.

    What was acknowledged is never among it. Files of the last hour stay, in case another program is at them.
    """
    before = time.time() - 3600
    for path in (*(store.folder / "work").iterdir(), *(store.folder / "sound").glob("*.part")):
        if path.stat().st_mtime < before:
            shutil.rmtree(path) if path.is_dir() else path.unlink(missing_ok=True)


def _pieces(store: Store, recording: str) -> Path:
    if not NAME.fullmatch(recording):
        raise StoreError("There is no such recording.")
    return store.folder / "pieces" / recording


def _settle(number: int) -> None:
    os.fchmod(number, 0o600)
    os.fsync(number)


def _settle_folder(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
