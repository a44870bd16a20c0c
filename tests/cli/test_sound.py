"""The commands on sound: they need the recognizer, so they are slow."""

from __future__ import annotations

import json
import multiprocessing
import wave
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from extractor.batch.inputs import NoteFile
from extractor.batch.read import Job, Outcome, Settings
from extractor.batch.recordings import read_recordings
from extractor.cli.demo import demo_folder
from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.record import record_json
from extractor.second_reading import second_reading
from extractor.speech.audio import open_sound
from extractor.speech.model import SpeechModel, load_model
from extractor.speech.recognize import recognize
from extractor.speech.transcript import Transcript

Run = Callable[..., Any]
pytestmark = [pytest.mark.speech, pytest.mark.filterwarnings("ignore::DeprecationWarning")]


def test_transcribe_then_extract_what_it_wrote(run: Run, tmp_path: Path) -> None:
    sound = demo_folder() / "root-repair.ogg"
    assert run("transcribe", sound, "-o", tmp_path / "t.json").code == 0
    heard = json.loads((tmp_path / "t.json").read_text(encoding="utf-8"))
    assert heard["text"] and heard["words"] and heard["seconds"]
    assert all(heard["text"][w["start"] : w["end"]].strip() and w["start_s"] is not None for w in heard["words"])
    record = run("extract", tmp_path / "t.json", "--json").json
    direct = run("extract", sound, "--json").json
    assert record["laterality"] and direct["laterality"]["value"] == record["laterality"]["value"]
    assert direct["source"]["kind"] == "audio" and direct["case_id"] == "root-repair"


def test_silence_is_an_empty_record_and_noise_in_a_folder_stops_nothing(run: Run, tmp_path: Path) -> None:
    notes = tmp_path / "notes"
    notes.mkdir()
    with wave.open(str(notes / "silence.wav"), "wb") as file:
        file.setparams((1, 2, 16000, 0, "NONE", ""))
        file.writeframes(bytes(2 * 16000 * 3))
    (notes / "broken.mp3").write_bytes(b"not a recording")
    (notes / "fine.txt").write_text("Left knee, medial meniscus repair.", encoding="utf-8")
    ran = run("extract", notes, "-o", tmp_path / "out")
    assert ran.code == 2 and ran.err.count("\n") == 1 and "broken.mp3" in ran.err
    record = json.loads((tmp_path / "out" / "silence.json").read_text(encoding="utf-8"))
    assert record["laterality"] is None and not record["measurements"] and not record["steps"]


def test_the_demo_shows_seconds(run: Run) -> None:
    ran = run("demo", "root-repair")
    assert ran.code == 0 and "knee of the patient" in ran.out and "0:0" in ran.out


@pytest.fixture(scope="module")
def heard_once() -> tuple[Path, Transcript, SpeechModel]:
    sound, model = demo_folder() / "root-repair.ogg", load_model()
    return sound, recognize(sound, model=model), model


def _beside(
    heard: tuple[Path, Transcript, SpeechModel], folder: Path, recognized: Callable[[int], None]
) -> list[Outcome]:
    """What comes of a recording, a broken one and the first again, read beside recognition in one process."""
    sound, transcript, model = heard
    broken = folder / "broken.mp3"
    broken.write_bytes(b"not a recording")
    jobs = [Job(NoteFile(p, "audio"), folder / f"{i}.json") for i, p in enumerate((sound, broken, sound))]
    order = iter(range(3))

    def hear(path: Path) -> tuple[Transcript, SpeechModel]:
        recognized(next(order))
        open_sound(path)
        return transcript, model

    return list(read_recordings(jobs, hear, Settings(), processes=1))


def _alone(heard: tuple[Path, Transcript, SpeechModel]) -> str:
    sound, transcript, model = heard
    record = extract(transcript, load_grammar(), case_id=sound.stem)
    return record_json(second_reading(record, sound, transcript, model, load_grammar()))


def test_recordings_listened_to_beside_recognition_give_the_same_records(
    tmp_path: Path, heard_once: tuple[Path, Transcript, SpeechModel]
) -> None:
    first, bad, second = _beside(heard_once, tmp_path, lambda number: None)
    assert not first.error and not second.error and bad.error and "broken.mp3" in bad.error
    alone = _alone(heard_once)
    assert (tmp_path / "0.json").read_text(encoding="utf-8") == alone
    assert (tmp_path / "2.json").read_text(encoding="utf-8") == alone
    assert not (tmp_path / "1.json").exists()


def test_recordings_of_a_process_that_is_ended_from_outside_are_read_all_the_same(
    tmp_path: Path, heard_once: tuple[Path, Transcript, SpeechModel]
) -> None:
    def kill(number: int) -> None:
        if number == 2:
            for process in multiprocessing.active_children():
                process.kill()

    first, _, second = _beside(heard_once, tmp_path, kill)
    assert not first.error and not second.error
    assert (tmp_path / "2.json").read_text(encoding="utf-8") == _alone(heard_once)
