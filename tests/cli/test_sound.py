"""The commands on sound: they need the recognizer, so they are slow."""

from __future__ import annotations

import json
import wave
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from extractor.cli.demo import demo_folder

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
