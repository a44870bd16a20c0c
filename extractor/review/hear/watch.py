"""The watched folder: every note that appears in it becomes a case, once."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from sqlalchemy import select

from extractor.errors import ExtractorError
from extractor.review.act.reading import Reader
from extractor.review.hear.arrive import SOUND, TEXT, take_sound, take_text
from extractor.review.models import Person
from extractor.review.store.connect import Store, reading, writing
from extractor.review.store.tables import recordings

WATCHER = Person(name="watched folder", role="scribe")


@dataclass
class Watch:
    """Looks for files that have stopped growing."""

    store: Store
    reader: Reader
    folder: Path
    sizes: dict[Path, int] = field(default_factory=dict)
    done: set[Path] = field(default_factory=set)

    def look(self) -> bool:
        """Take at most one new file; gives whether one was taken."""
        try:
            files = sorted(p for p in self.folder.iterdir() if p.suffix.lower() in (*SOUND, *TEXT) and p.is_file())
        except OSError:
            return False
        for path in files:
            if path in self.done:
                continue
            size = path.stat().st_size
            if size == 0 or self.sizes.get(path) != size:
                self.sizes[path] = size  # still being copied, perhaps; looked at again in the next turn
                continue
            self.done.add(path)
            if self._take(path):
                return True
        return False

    def _take(self, path: Path) -> bool:
        with path.open("rb") as file:
            digest = hashlib.file_digest(file, "sha256").hexdigest()
        with reading(self.store) as connection:
            known = select(recordings.c.id).where(recordings.c.sound == digest, recordings.c.who == WATCHER.name)
            if connection.execute(known).first():
                return False
        try:
            if path.suffix.lower() in SOUND:
                take_sound(self.store, _chunks(path), label=path.name, person=WATCHER, how="watched folder")
            else:
                self._take_text(path, digest)
        except (ExtractorError, OSError, UnicodeDecodeError):
            return False
        return True

    def _take_text(self, path: Path, digest: str) -> None:
        text = path.read_text(encoding="utf-8")
        case = take_text(self.store, self.reader, text, label=path.name, person=WATCHER, how="watched folder")
        with writing(self.store) as connection:  # so that a restart knows the file again
            connection.execute(recordings.update().where(recordings.c.case_id == case).values(sound=digest))


def _chunks(path: Path) -> Iterator[bytes]:
    with path.open("rb") as file:
        while chunk := file.read(1 << 20):
            yield chunk
