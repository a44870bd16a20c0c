"""`extractor extract`: inputs of every kind, where the records go, exit codes, cores."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from extractor.record import read_record
from extractor.speech.files import write_transcript
from extractor.speech.transcript import Transcript, Word

from .conftest import FINE, TWO_SIDES

Run = Callable[..., Any]


def test_one_note_is_shown(run: Run, fine: Path) -> None:
    ran = run("extract", fine)
    assert ran.code == 0 and not ran.err
    assert "RIGHT knee of the patient" in ran.out and "12 mm" in ran.out


def test_one_note_as_json_is_a_record_whose_evidence_quotes_the_note(run: Run, fine: Path) -> None:
    ran = run("extract", fine, "--json")
    record = ran.json
    assert record["case_id"] == "fine" and record["laterality"]["value"] == "right"
    evidence = [e for m in record["measurements"] for e in m["evidence"]]
    assert evidence and all(FINE[e["start"] : e["end"]] == e["text"] for e in evidence)


@pytest.mark.parametrize("output", ["record.json", "folder/record.json"])
def test_one_note_into_a_file(run: Run, fine: Path, tmp_path: Path, output: str) -> None:
    assert run("extract", fine, "-o", tmp_path / output).code == 0
    assert read_record(tmp_path / output).case_id == "fine"


@pytest.mark.parametrize("output", ["folder", "folder/"])
def test_one_note_into_a_folder(run: Run, fine: Path, tmp_path: Path, output: str) -> None:
    assert run("extract", fine, "-o", f"{tmp_path}/{output}").code == 0
    assert read_record(tmp_path / "folder" / "fine.json").case_id == "fine"


def test_several_notes_need_a_folder(run: Run, fine: Path, two_sides: Path) -> None:
    ran = run("extract", fine, two_sides)
    assert ran.code == 2 and "-o" in ran.err and ran.err.count("\n") == 1


def test_a_stop_gives_exit_code_1(run: Run, two_sides: Path, tmp_path: Path) -> None:
    assert run("extract", two_sides).code == 1
    ran = run("extract", two_sides, "-o", tmp_path / "out.json")
    assert ran.code == 1 and "two-sides" in ran.out


@pytest.mark.parametrize(("side", "code"), [("right", 0), ("left", 1)])
def test_the_side_on_the_operating_list(run: Run, fine: Path, side: str, code: int) -> None:
    assert run("extract", fine, "--schedule-side", side).code == code


def test_a_folder_goes_on_past_bad_notes(run: Run, tmp_path: Path) -> None:
    notes = tmp_path / "notes"
    notes.mkdir()
    (notes / "a.txt").write_text(FINE, encoding="utf-8")
    (notes / "b.txt").write_bytes(b"Knee \xff\xfe\xfa")
    (notes / "c.json").write_text('{"words": 3}', encoding="utf-8")
    (notes / "d.yaml").write_text("id: d\nnotes: none here\n", encoding="utf-8")
    (notes / "e.yaml").write_text("note: [unclosed\n", encoding="utf-8")
    (notes / "f.wav").write_bytes(b"no sound at all")
    (notes / "g.txt").write_text("", encoding="utf-8")
    (notes / "h.yaml").write_text(f"id: other\nnote: |\n  {TWO_SIDES}\n", encoding="utf-8")
    (notes / "ignored.pdf").write_bytes(b"%PDF")
    ran = run("extract", notes, "-o", tmp_path / "out")
    assert ran.code == 2
    assert sorted(p.name for p in (tmp_path / "out").iterdir()) == ["a.json", "h.json"]
    complaints = ran.err.splitlines()
    assert len(complaints) == 6 and all(line.startswith("extractor: ") for line in complaints)
    assert [next(n for n in "bcdefg" if f"{n}." in line) for line in complaints] == list("bcdegf")
    assert "Traceback" not in ran.err and "internal" not in ran.err


def test_records_are_the_same_on_one_core_and_on_two(run: Run, tmp_path: Path) -> None:
    notes = tmp_path / "notes"
    notes.mkdir()
    for i in range(60):
        (notes / f"n{i:02}.txt").write_text(f"{FINE} The tear was {i % 9 + 4} mm from the rim.", encoding="utf-8")
    (notes / "n30.txt").write_bytes(b"\xff\xff\xff")
    outputs = []
    for cores in (1, 2):
        ran = run("extract", notes, "-o", tmp_path / f"out{cores}", "--cores", cores)
        assert ran.code == 2 and ran.err.count("\n") == 1
        outputs.append({p.name: p.read_bytes() for p in sorted((tmp_path / f"out{cores}").iterdir())})
    assert outputs[0] == outputs[1] and len(outputs[0]) == 59


def test_two_notes_of_one_name_are_refused_before_anything_is_written(run: Run, fine: Path, tmp_path: Path) -> None:
    (tmp_path / "fine.yaml").write_text(f"note: {FINE}\n", encoding="utf-8")
    ran = run("extract", fine, tmp_path / "fine.yaml", "-o", tmp_path / "out")
    assert ran.code == 2 and "fine.json" in ran.err and not (tmp_path / "out").exists()


def test_a_transcript_gives_seconds(run: Run, tmp_path: Path) -> None:
    text = "Right knee, radial tear of the lateral meniscus, twelve millimeters long."
    words, start = [], 0
    for number, word in enumerate(text.split()):
        at = text.index(word, start)
        start = at + len(word)
        words.append(Word(start=at, end=start, start_s=60.0 + number, end_s=60.5 + number, probability=0.9))
    write_transcript(Transcript(text=text, words=tuple(words), kind="audio", seconds=80.0), tmp_path / "t.json")
    ran = run("extract", tmp_path / "t.json")
    assert "1:00" in ran.out.split("RIGHT knee")[1].splitlines()[0]  # 'Right' is the first word, said at 60 s
    record = run("extract", tmp_path / "t.json", "--json").json
    assert record["source"]["kind"] == "audio" and record["laterality"]["evidence"][0]["start_s"] == 60.0


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16"])
def test_a_note_saved_by_a_word_processor(run: Run, tmp_path: Path, encoding: str) -> None:
    (tmp_path / "n.txt").write_text(FINE, encoding=encoding)
    assert run("extract", tmp_path / "n.txt", "--json").json["laterality"]["value"] == "right"


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda p: p / "none.txt", "no such file"),
        (lambda p: p, "holds no note"),
        (lambda p: (p / "x.txt").write_bytes(b"\x00\xff\xfe\x01") and p / "x.txt", "UTF-8"),
        (lambda p: (p / "x.json").write_text("{}") and p / "x.json", "transcript"),
        (lambda p: (p / "x.yaml").write_text("- note") and p / "x.yaml", "note:"),
        (lambda p: (p / "x.bin").write_bytes(b"\x01" * 99) and p / "x.bin", "recording"),
    ],
)
def test_bad_input_is_one_sentence(run: Run, tmp_path: Path, make: Callable[[Path], Path], says: str) -> None:
    ran = run("extract", make(tmp_path), *(["-o", tmp_path / "out"] if make(tmp_path) == tmp_path else []))
    assert ran.code == 2 and says in ran.err and ran.err.count("\n") == 1 and not ran.out


def test_a_site_s_broken_pack_names_file_and_line(run: Run, fine: Path, tmp_path: Path) -> None:
    pack = tmp_path / "packs" / "ours"
    pack.mkdir(parents=True)
    (pack / "words.txt").write_text("[color]\nteal : teal\n", encoding="utf-8")
    ran = run("extract", fine, "--grammars", tmp_path / "packs")
    assert ran.code == 2 and "words.txt:2" in ran.err and ran.err.count("\n") == 1


def test_nothing_half_written_is_left(run: Run, fine: Path, tmp_path: Path) -> None:
    run("extract", fine, "-o", tmp_path / "out" / "r.json")
    assert [p.name for p in (tmp_path / "out").iterdir()] == ["r.json"]
    assert json.loads((tmp_path / "out" / "r.json").read_text(encoding="utf-8"))["schema_version"] == "1"
