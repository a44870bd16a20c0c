"""The commands on sound: they need the recognizer, so they are slow."""

from __future__ import annotations

import json
import wave
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from extractor.batch.inputs import NoteFile
from extractor.batch.read import Job, Settings
from extractor.batch.recordings import Listening, read_recordings
from extractor.cli.demo import demo_folder
from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.record import record_json
from extractor.second_reading import second_reading
from extractor.speech.model import load_model
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


def test_recordings_listened_to_beside_recognition_give_the_same_records(tmp_path: Path) -> None:
    sound, broken = demo_folder() / "root-repair.ogg", tmp_path / "broken.mp3"
    broken.write_bytes(b"not a recording")
    grammar, model = load_grammar(), load_model()
    heard: dict[Path, Transcript] = {}

    def recognize_once(path: Path) -> Transcript:
        heard[path] = heard.get(path) or recognize(path, model=model)
        return heard[path]

    jobs = [
        Job(NoteFile(path, "audio"), tmp_path / f"{number}.json") for number, path in enumerate((sound, broken, sound))
    ]
    first, bad, second = read_recordings(jobs, recognize_once, Listening(Settings()), processes=1)
    assert not first.error and not second.error and bad.error and "broken.mp3" in bad.error
    record = extract(heard[sound], grammar, case_id=sound.stem)
    alone = second_reading(record, sound, heard[sound], model, grammar)
    assert (tmp_path / "2.json").read_text(encoding="utf-8") == record_json(alone)
    assert not (tmp_path / "1.json").exists()
