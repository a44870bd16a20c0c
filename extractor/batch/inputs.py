"""What is given on the command line: which files are notes, of what kind, and the text in them."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from extractor.errors import InputError
from extractor.speech.transcript import Transcript

Kind = Literal["audio", "text", "transcript", "annotated"]
KINDS: dict[str, Kind] = {
    ".txt": "text", ".text": "text", ".json": "transcript", ".yaml": "annotated", ".yml": "annotated",
    **dict.fromkeys((
        ".wav", ".mp3", ".m4a", ".mp4", ".ogg", ".oga", ".opus", ".webm", ".flac", ".aac", ".aif", ".aiff", ".wma",
        ".mka", ".mov", ".3gp", ".amr",
    ), "audio"),
}  # fmt: skip
"""How a note is read, by the end of its file's name. A file of another name, given by itself, is tried as a
recording."""
ALL: tuple[Kind, ...] = ("audio", "text", "transcript", "annotated")
BOMS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))


@dataclass(frozen=True)
class NoteFile:
    """One note to be read. `case_id` is the file's name without its ending."""

    path: Path
    kind: Kind

    @property
    def case_id(self) -> str:
        """Name of the case, and of the file its record goes to."""
        return self.path.stem


def find_notes(inputs: Iterable[str], kinds: Sequence[Kind] = ALL) -> list[NoteFile]:
    """Give the notes in files and folders, a folder's in the order of their names.

    Raises:
        InputError: where there is no such file or folder, a folder holds no note, or two notes have the same name.
    """
    found: list[NoteFile] = []
    for given in inputs:
        path = Path(given)
        if path.is_dir():
            own = [n for p in _listed(path) if (n := _note(p)) and n.kind in kinds]
            if not own:
                raise InputError(f"{path}: this folder holds no note; a note ends in {_endings(kinds)}")
            found += own
        elif path.is_file():
            found.append(_note(path) or NoteFile(path, "audio"))
        else:
            raise InputError(f"{path}: no such file or folder; check the name")
    _distinct(found)
    return found


def find_records(inputs: Iterable[str]) -> list[Path]:
    """Give the record files in files and folders.

    Raises:
        InputError: where there is no such file or folder, or a folder holds no .json file.
    """
    return [note.path for note in find_notes(inputs, ("transcript",))]


def _listed(folder: Path) -> list[Path]:
    try:
        return sorted(p for p in folder.iterdir() if p.is_file() and not p.name.startswith("."))
    except OSError as error:
        raise InputError(f"{folder}: cannot be listed ({error.strerror}); check its permissions") from error


def _note(path: Path) -> NoteFile | None:
    kind = KINDS.get(path.suffix.lower())
    return NoteFile(path, kind) if kind else None


def _endings(kinds: Sequence[Kind]) -> str:
    names = [suffix for suffix, kind in KINDS.items() if kind in kinds]
    return ", ".join(names[:-1]) + f" or {names[-1]}" if len(names) > 1 else names[0]


def _distinct(notes: Sequence[NoteFile]) -> None:
    """Two notes of one name would be written to one file."""
    seen: dict[str, NoteFile] = {}
    for note in notes:
        other = seen.setdefault(note.case_id, note)
        if other is not note:
            raise InputError(
                f"{other.path} and {note.path}: both would be written as {note.case_id}.json; "
                "rename one, or name the files you mean"
            )


def read_note(note: NoteFile) -> Transcript:
    """Read a note that is words already.

    Raises:
        InputError: where the file cannot be read or holds no words.
    """
    if note.kind == "transcript":
        from extractor.speech.files import read_transcript

        return read_transcript(note.path)
    content = _bytes(note.path)
    text = _decoded(note.path, content)
    if note.kind == "annotated":
        text = _note_of(note.path, text)
    if not text.strip():
        raise InputError(f"{note.path}: holds no words; write or dictate the note again")
    return Transcript(text=text, kind="text", file_name=note.path.name, sha256=hashlib.sha256(content).hexdigest())


def _bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise InputError(f"{path}: cannot be read ({error.strerror}); check its name and permissions") from error


def _decoded(path: Path, content: bytes) -> str:
    encoding = next((name for bom, name in BOMS if content.startswith(bom)), "utf-8")
    try:
        return content.decode(encoding)
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        raise InputError(f"{path}: is not UTF-8 text (line {line}); save it as UTF-8") from error


def _note_of(path: Path, text: str) -> str:
    import yaml

    try:
        data = yaml.load(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    except (yaml.YAMLError, RecursionError, ValueError) as error:
        mark = getattr(error, "problem_mark", None)
        place = f" (line {mark.line + 1})" if mark else ""
        raise InputError(f"{path}: is no YAML{place}; mend it, or give the note as .txt") from error
    note = data.get("note") if isinstance(data, dict) else None
    if not isinstance(note, str):
        raise InputError(f"{path}: has no 'note:' with the note's words; add it, or give the note as .txt")
    return note
