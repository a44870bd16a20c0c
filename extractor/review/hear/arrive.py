"""How cases come: text or sound dropped, sent or watched, and dictations that end."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from extractor.errors import InputError
from extractor.language.quantity_words import quantity_words
from extractor.record.models import CaseRecord
from extractor.review.act.addendum import joined, read_again
from extractor.review.act.reading import Reader
from extractor.review.act.summary import summarize
from extractor.review.models import NotePart, Person, Sheet
from extractor.review.store.cases import Case, Change, StaleError, create_case, read_case, set_state, write_in
from extractor.review.store.clock import new_id, now
from extractor.review.store.connect import Store, writing
from extractor.review.store.recordings import Recording, add_recording, change_recording, mark_done, read_recording
from extractor.review.store.sounds import drop_pieces, keep_sound, piece_paths
from extractor.speech.transcript import Transcript

SOUND = (".wav", ".mp3", ".m4a", ".mp4", ".ogg", ".oga", ".opus", ".webm", ".flac", ".aac", ".aif", ".aiff", ".amr")
TEXT = (".txt", ".text", ".md")
Listen = Callable[[CaseRecord, Transcript], CaseRecord]
LONGEST_TEXT = 1_000_000
"""Characters of a typed note. A dictation of an hour has some 60,000."""


def suffix_of(name: str) -> str:
    """The ending of a file's name, in small letters; nothing else of a name is ever used."""
    return Path(name.replace("\\", "/")).suffix.lower()


def shown_name(name: str) -> str:
    """A file's name as it is shown: its last part, printable, not long."""
    last = name.replace("\\", "/").rsplit("/", 1)[-1]
    return "".join(c for c in last if c.isprintable())[:120] or "note"


def take_text(store: Store, reader: Reader, text: str, *, label: str, person: Person, how: str) -> str:
    """Make a case of a typed note and read it at once; gives the case's id.

    Raises:
        InputError: for a text that is none.
    """
    if not text.strip():
        raise InputError("The note is empty; give one with words in it.")
    if len(text) > LONGEST_TEXT or "\0" in text:
        raise InputError("That is no note as text; give a plain text file.")
    case_id, words = new_id(), Transcript(text=text, file_name=label)
    part = NotePart(recording=new_id(), start=0, end=len(text), at=now())
    change = _first_reading(case_id, reader, words, part, None)
    with writing(store) as connection:  # the case and its first version come together, or not at all
        create_case(connection, label=label, state="new", who=person.name, how=how, case_id=case_id)
        add_recording(
            connection, case_id, name=part.recording, kind="text", state="done", who=person.name, file_name=label
        )
        write_in(connection, case_id, 0, change, person)
    return case_id


def take_sound(store: Store, chunks: Iterable[bytes], *, label: str, person: Person, how: str) -> str:
    """Make a case of a sound file, which then waits for the recognizer; gives the case's id."""
    sound = keep_sound(store, chunks)
    with writing(store) as connection:
        case_id = create_case(connection, label=label, state="waiting", who=person.name, how=how)
        add_recording(connection, case_id, kind="sound", state="waiting", who=person.name, file_name=label, sound=sound)
    return case_id


def end_dictation(store: Store, recording: Recording) -> None:
    """Join the pieces of a dictation into one sound, which then waits for the recognizer."""
    paths = piece_paths(store, recording.id)
    if not paths:
        change_recording(store, recording.id, state="failed", problem="Nothing was recorded.")
        _fail_case(store, recording)
        return
    sound = keep_sound(store, (path.read_bytes() for path in paths))
    change_recording(store, recording.id, state="waiting", sound=sound, heard="", done_s=0.0)
    if not recording.addendum:
        with writing(store) as connection:
            set_state(connection, recording.case_id, "waiting")
    drop_pieces(store, recording.id)


def fail(store: Store, recording: Recording, problem: str) -> None:
    """Say of a recording that it cannot be recognized, and why."""
    change_recording(store, recording.id, state="failed", problem=problem)
    _fail_case(store, recording)


def _fail_case(store: Store, recording: Recording) -> None:
    if not recording.addendum and read_case(store, recording.case_id).sheet is None:
        with writing(store) as connection:
            set_state(connection, recording.case_id, "failed")


def add_words(
    store: Store, reader: Reader, case_id: str, words: Transcript, recording: str, person: Person, *, addendum: bool,
    listen: Listen | None = None,
) -> None:  # fmt: skip
    """Read words into a case: its first reading, or an addendum to what is there.

    Nothing is lost to a reviewer who works on the case at that moment: the addendum is read upon
    whatever version is then the newest. `listen` is the second reading of the sound, for a first reading only.
    The recording is done in the same moment, so that no stop of the program has its words read twice.
    """
    for _ in range(20):
        case = read_case(store, case_id)
        change = _reading(case, reader, words, recording, addendum, listen)
        try:
            with writing(store) as connection:
                write_in(connection, case_id, case.row.version, change, person)
                mark_done(connection, recording)
            return
        except StaleError:
            continue
    raise InputError("The case changes too fast for its addendum to be added; try again.")


def _reading(
    case: Case, reader: Reader, words: Transcript, recording: str, addendum: bool, listen: Listen | None
) -> Change:
    part = NotePart(recording=recording, addendum=addendum, start=0, end=0, seconds=words.seconds,
                    sound=words.sha256 if words.kind == "audio" else None, at=now())  # fmt: skip
    transcript, part = joined(case.sheet, words, part)
    if case.sheet is None:
        return _first_reading(case.row.id, reader, transcript, part, listen)
    sheet = read_again(case.sheet, transcript, part, reader, quantity_words())
    state = case.row.state
    if state in ("signed", "amended"):
        sheet = sheet.model_copy(update={"amending": "dictated addendum"})
        state = "amending"
    return Change(sheet, summarize(sheet), "addendum", {"words": words.text}, state, undo_to=None)


def _first_reading(
    case_id: str, reader: Reader, transcript: Transcript, part: NotePart, listen: Listen | None
) -> Change:
    record = reader.read(transcript, case_id)
    record = listen(record, transcript) if listen else record
    sheet = Sheet(record=record, transcript=transcript, parts=(part,))
    return Change(sheet, summarize(sheet), "read", {"words": len(transcript.text.split())}, "new")


def has_recording(store: Store, name: str) -> Recording:
    """A recording that is still running.

    Raises:
        InputError: where it has ended.
    """
    recording = read_recording(store, name)
    if recording.state != "recording":
        raise InputError("This recording has ended; begin a new one.")
    return recording
