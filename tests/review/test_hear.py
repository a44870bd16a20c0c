"""From sound to words in the background, without a recognizer: pieces, stops, failures, the watched folder, addenda."""

from __future__ import annotations

import io
import wave
from pathlib import Path

import numpy as np
import pytest

from extractor.errors import InputError
from extractor.review.act.primary import open_flags
from extractor.review.act.reading import Reader
from extractor.review.hear.arrive import add_words, end_dictation, shown_name, suffix_of, take_sound, take_text
from extractor.review.hear.listening import listening_copy, pieces_of, seconds_of
from extractor.review.hear.watch import Watch
from extractor.review.hear.words import join, pack, unpack
from extractor.review.hear.worker import Worker
from extractor.review.store.cases import create_case, read_case
from extractor.review.store.connect import Store, StoreError, reading, writing
from extractor.review.store.recordings import add_recording, read_recording, with_state
from extractor.review.store.search import find_cases
from extractor.review.store.sounds import keep_piece, keep_sound, piece_paths, sound_path
from extractor.speech.transcript import Transcript, Word
from tests.review.conftest import SURGEON
from tests.review.notes import FLAGGED

RATE = 16_000


def sound(seconds: float, loud: float = 0.2) -> bytes:
    """A WAV file that holds a tone."""
    t = np.arange(int(seconds * RATE)) / RATE
    buffer = io.BytesIO()
    with wave.open(buffer, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes((np.sin(2 * np.pi * 220 * t) * loud * 32767).astype("<i2").tobytes())
    return buffer.getvalue()


def says(text: str) -> Transcript:
    return Transcript(text=text, words=(Word(start=0, end=len(text.split()[0]), start_s=0.5, end_s=1.0),), kind="audio")


def turns(worker: Worker, most: int = 50) -> int:
    """Let the worker work until nothing is left; gives how many turns it took."""
    count = 0
    while worker.turn():
        count += 1
        assert count < most
    return count


def test_a_long_sound_is_recognized_in_pieces_that_follow_each_other(store: Store, reader: Reader) -> None:
    lengths: list[float] = []

    def hear(path: Path) -> Transcript:
        lengths.append(seconds_of(path))
        return says("Left knee." if len(lengths) == 1 else "The rim was rasped.")

    case = take_sound(store, [sound(130)], label="a.wav", person=SURGEON, how="test")
    turns(Worker(store, reader, hear))
    assert len(lengths) == 3 and all(length <= 60.1 for length in lengths) and abs(sum(lengths) - 130) < 0.01
    sheet = read_case(store, case).sheet
    assert sheet and sheet.record.laterality and sheet.record.laterality.value == "left"
    starts = [w.start_s for w in sheet.transcript.words]
    assert starts == sorted(starts) and starts[1] == pytest.approx(lengths[0] + 0.5, abs=0.01)
    assert sheet.parts[0].sound == sheet.transcript.sha256 and sheet.transcript.seconds == 130.0


def test_a_stop_between_pieces_costs_no_piece_that_was_done(store: Store, reader: Reader) -> None:
    calls: list[int] = []

    def hear(path: Path) -> Transcript:
        calls.append(len(calls))
        if len(calls) == 2:
            raise KeyboardInterrupt  # as good as a power cut: nothing after it runs
        return says(f"Left knee, part {len(calls)}.")

    case = take_sound(store, [sound(100)], label="a.wav", person=SURGEON, how="test")
    with pytest.raises(KeyboardInterrupt):
        turns(Worker(store, reader, hear))
    (waiting,) = with_state(store, "waiting")
    assert waiting.done_s > 40
    turns(Worker(store, reader, hear))
    text = read_case(store, case).sheet.transcript.text  # type: ignore[union-attr]
    assert text == "Left knee, part 1. Left knee, part 3."


@pytest.mark.parametrize(
    ("data", "told"), [(b"this is no sound at all" * 50, "no"), (b"", "empty")], ids=["text", "empty"]
)
def test_a_sound_that_cannot_be_read_is_told_and_stops_nothing(
    store: Store, reader: Reader, data: bytes, told: str
) -> None:
    bad = take_sound(store, [data], label="bad.ogg", person=SURGEON, how="test")
    good = take_sound(store, [sound(2)], label="good.wav", person=SURGEON, how="test")
    turns(Worker(store, reader, lambda path: says("Left knee.")))
    assert read_case(store, bad).row.state == "failed" and read_case(store, good).row.state == "new"
    (failed,) = with_state(store, "failed")
    assert failed.problem and told in failed.problem and str(store.folder) not in failed.problem


def test_a_sound_in_which_nobody_speaks_is_told(store: Store, reader: Reader) -> None:
    case = take_sound(store, [sound(2, loud=0.0)], label="a.wav", person=SURGEON, how="test")
    turns(Worker(store, reader, lambda path: Transcript(text="", kind="audio")))
    assert read_case(store, case).row.state == "failed"
    assert "Nobody" in (with_state(store, "failed")[0].problem or "")


def test_the_same_sound_is_kept_once_and_under_nothing_but_its_hash(store: Store) -> None:
    first, second = keep_sound(store, [b"abc", b"def"]), keep_sound(store, [b"abcdef"])
    # SHA-256 of "abcdef", as sha256sum prints it
    assert first == second == "bef57ec7f53a6d40beb640a780a639c83bc29ac8a9816f1fc6c5c6dcd93c4721"
    assert [p.name for p in (store.folder / "sound").iterdir()] == [first]
    for name in ("../cases.sqlite", "x" * 64, first.upper(), ""):
        with pytest.raises(StoreError):
            sound_path(store, name)
    with pytest.raises(StoreError):
        keep_piece(store, "../../etc", 0, b"x")


def test_names_from_outside_are_shown_and_never_used() -> None:
    assert shown_name("../../x/\x00evil\n.wav") == "evil.wav"
    assert shown_name("C:\\notes\\a.txt") == "a.txt" and suffix_of("C:\\a.b\\note.TXT") == ".txt"


def test_pieces_of_a_dictation_make_its_sound_and_ending_it_twice_is_one(store: Store, reader: Reader) -> None:
    with writing(store) as connection:
        case = create_case(connection, label="d", state="recording", who="Marlow", how="test")
        name = add_recording(connection, case, kind="dictation", state="recording", who="Marlow")
    whole = sound(4)
    for number, start in enumerate(range(0, len(whole), 40_000)):
        keep_piece(store, name, number, whole[start : start + 40_000])
    keep_piece(store, name, 0, whole[:40_000])  # sent again: its answer was lost on the way
    end_dictation(store, read_recording(store, name))
    turns(Worker(store, reader, lambda path: says("Right knee.")))
    assert read_recording(store, name).state == "done" and piece_paths(store, name) == []
    assert sound_path(store, read_recording(store, name).sound or "").read_bytes() == whole
    assert read_case(store, case).row.side == "right"


def test_a_dictation_whose_page_never_came_back_is_recognized_after_a_while(
    store: Store, reader: Reader, monkeypatch: pytest.MonkeyPatch
) -> None:
    from datetime import timedelta

    from extractor.review.hear import worker

    with writing(store) as connection:
        case = create_case(connection, label="d", state="recording", who="Marlow", how="test")
        name = add_recording(connection, case, kind="dictation", state="recording", who="Marlow")
    keep_piece(store, name, 0, sound(2))
    work = Worker(store, reader, lambda path: says("Right knee."))
    turns(work)
    assert read_case(store, case).row.state == "recording"
    monkeypatch.setattr(worker, "BROKEN_OFF", timedelta(0))
    turns(work)
    assert read_case(store, case).row.state == "new"


def test_a_dictation_that_is_paused_or_outlives_a_stop_of_the_program_is_not_ended(
    store: Store, reader: Reader
) -> None:
    from datetime import UTC, datetime, timedelta

    from extractor.review.store.tables import recordings

    long_ago = (datetime.now(UTC) - timedelta(hours=1)).isoformat(timespec="milliseconds")
    with writing(store) as connection:
        case = create_case(connection, label="d", state="recording", who="Marlow", how="test")
        name = add_recording(connection, case, kind="dictation", state="recording", who="Marlow")
        connection.execute(recordings.update().values(touched=long_ago))
    keep_piece(store, name, 0, sound(2))
    work = Worker(store, reader, lambda path: says("Right knee."))
    turns(work)  # the program has just come back: the page may be about to send what it holds
    assert read_recording(store, name).state == "recording"
    work._since -= timedelta(hours=1)
    work.seen(name)  # the page is there and asks what was understood; its speaker is silent
    turns(work)
    assert read_recording(store, name).state == "recording"
    work._seen[name] -= timedelta(hours=1)
    turns(work)
    assert read_recording(store, name).state == "done"


def test_a_typed_note_comes_whole_or_not_at_all(store: Store, reader: Reader, monkeypatch: pytest.MonkeyPatch) -> None:
    from extractor.review.hear import arrive

    def fails(*_: object) -> int:
        raise RuntimeError

    with monkeypatch.context() as patch:
        patch.setattr(arrive, "write_in", fails)
        with pytest.raises(RuntimeError):
            take_text(store, reader, FLAGGED, label="a.txt", person=SURGEON, how="test")
    with reading(store) as connection:
        assert not find_cases(connection, show="all").rows
    case = take_text(store, reader, FLAGGED, label="a.txt", person=SURGEON, how="test")
    assert read_case(store, case).row.state == "new" and not with_state(store, "waiting")


def test_a_recording_is_done_in_the_moment_its_words_are_kept(store: Store, reader: Reader) -> None:
    """Otherwise a stop between the two would have its words read twice, the second time as an addendum."""
    case = take_sound(store, [sound(2)], label="a.wav", person=SURGEON, how="test")
    (recording,) = with_state(store, "waiting")
    add_words(store, reader, case, says("Right knee."), recording.id, SURGEON, addendum=False)
    assert read_recording(store, recording.id).state == "done"


def test_sound_at_work_lies_in_the_store_and_what_a_power_cut_left_is_removed(store: Store, reader: Reader) -> None:
    import os

    places: list[Path] = []

    def hear(path: Path) -> Transcript:
        places.append(path)
        return says("Right knee.")

    old, new = store.folder / "sound" / "old.part", store.folder / "sound" / "new.part"
    left = store.folder / "work" / "left"
    left.mkdir()
    for path in (old, new, left / "piece.wav"):
        path.write_bytes(b"x")
    for path in (old, left):
        os.utime(path, (0, 0))
    take_sound(store, [sound(2)], label="a.wav", person=SURGEON, how="test")
    worker = Worker(store, reader, hear)
    worker.start()
    while not places:
        worker.join(0.05)
    worker.stop()
    worker.join(180)
    assert places[0].is_relative_to(store.folder)
    assert not old.exists() and not left.exists() and new.exists()


def test_a_running_dictation_shows_what_was_understood_so_far(store: Store, reader: Reader) -> None:
    with writing(store) as connection:
        case = create_case(connection, label="d", state="recording", who="Marlow", how="test")
        name = add_recording(connection, case, kind="dictation", state="recording", who="Marlow")
    whole = sound(50)
    heard: list[float] = []

    def hear(path: Path) -> Transcript:
        heard.append(seconds_of(path))
        return says(f"Piece {len(heard)}.")

    worker = Worker(store, reader, hear)
    step = 10 * RATE * 2
    for number in range(5):
        keep_piece(store, name, number, whole[number * step : (number + 1) * step])
        turns(worker)
    assert all(length <= 20.1 for length in heard)
    text = join(unpack(read_recording(store, name).heard)).text
    assert text.endswith(f"Piece {len(heard)}.") and text.count("Piece") >= 2
    assert read_recording(store, name).state == "recording"


def test_a_watched_folder_gives_each_note_once_even_after_a_restart(
    store: Store, reader: Reader, tmp_path: Path
) -> None:
    folder = tmp_path / "in"
    folder.mkdir()
    (folder / "one.txt").write_text("Left knee. The rim was rasped.", encoding="utf-8")
    (folder / "two.wav").write_bytes(sound(1))
    (folder / "three.pdf").write_bytes(b"%PDF")
    watch = Watch(store, reader, folder)
    assert not watch.look()  # first seen: it may still be growing
    assert watch.look() and watch.look() and not watch.look()
    again = Watch(store, reader, folder)
    assert not any(again.look() for _ in range(4))
    with reading(store) as connection:
        assert sorted(r.label for r in find_cases(connection, show="all").rows) == ["one.txt", "two.wav"]


def test_an_addendum_is_read_upon_whatever_a_reviewer_did_meanwhile(store: Store, reader: Reader) -> None:
    case = take_text(store, reader, FLAGGED, label="a", person=SURGEON, how="test")
    with writing(store) as connection:
        name = add_recording(
            connection,
            case,
            kind="dictation",
            state="waiting",
            who="Marlow",
            addendum=1,
            sound=keep_sound(store, [sound(2)]),
        )
    turns(Worker(store, reader, lambda path: says("Correction, the graft was cut at nineteen millimeters.")))
    sheet = read_case(store, case).sheet
    assert sheet and len(sheet.parts) == 2 and sheet.parts[1].recording == name
    assert [(m.value, m.earlier_values) for m in sheet.record.measurements if m.what == "graft.ap_length"] == [
        (19, (12,))
    ]
    assert not open_flags(sheet, "stop")
    with pytest.raises(InputError):
        take_text(store, reader, " \n", label="a", person=SURGEON, how="test")
    add_words(store, reader, case, Transcript(text="Blood loss was five milliliters."), "x", SURGEON, addendum=True)
    assert len(read_case(store, case).sheet.parts) == 3  # type: ignore[union-attr]


def test_pieces_cover_a_sound_and_transcripts_survive_packing(store: Store) -> None:
    copy = listening_copy(store, keep_sound(store, [sound(70)]))
    pieces = list(pieces_of(copy, 0.0))
    assert [round(p[0], 3) for p in pieces] == [0.0, *(round(p[1], 3) for p in pieces[:-1])]
    assert sum(len(p[2]) for p in pieces) == 70 * RATE * 2
    words = [(0.0, says("Left knee.")), (61.5, says("The rim."))]
    assert unpack(pack(words)) == words
    joined = join(words, sha256="x")
    assert joined.text == "Left knee. The rim." and joined.words[1].start_s == 62.0
    assert all(joined.text[w.start : w.end] in ("Left", "The") for w in joined.words)


def test_a_recording_on_which_the_recognizer_fails_is_laid_aside_and_the_others_go_on(
    store: Store, reader: Reader
) -> None:
    calls: list[int] = []

    def hear(path: Path) -> Transcript:
        calls.append(1)
        if len(calls) <= 3:
            raise RuntimeError("out of memory")
        return says("Left knee.")

    bad = take_sound(store, [sound(1)], label="bad.wav", person=SURGEON, how="test")
    good = take_sound(store, [sound(2)], label="good.wav", person=SURGEON, how="test")
    worker = Worker(store, reader, hear)
    for _ in range(3):
        with pytest.raises(RuntimeError):
            worker.turn()
        worker._give_up()
    turns(worker)
    assert (read_case(store, bad).row.state, read_case(store, good).row.state) == ("failed", "new")


def test_what_the_sound_suggested_stays_while_the_doubt_reads_the_same(reader: Reader) -> None:
    record = reader.read(Transcript(text=FLAGGED))
    flags = tuple(f.model_copy(update={"suggestion": "19 mm, by the sound"}) for f in record.flags)
    again = reader.check(record.model_copy(update={"flags": flags}))
    assert {f.suggestion for f in again.flags} == {"19 mm, by the sound"}
