"""Speech about anything else becomes words, and no case: no side, procedure, measurement, suture, step or finding."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.second_reading import second_reading
from extractor.speech.model import SpeechModel
from extractor.speech.recognize import recognize
from tests.machine import missing, need_command

pytestmark = pytest.mark.speech

HUMAN = Path("/usr/share/pocketsphinx/test/data/librivox")
FACTS = ("procedures", "measurements", "sutures", "ties", "steps", "findings", "devices", "plan")
TALK = {
    "carpentry": "The shelf on the right side is eighteen millimeters thick and ninety centimeters long. "
    "I tied the blue rope to the post, drilled two holes eight millimeters wide, and cut the board at nine.",
    "weather": "It will be fifteen degrees in the morning and about thirty in the afternoon. "
    "Take the left road at the white house and wait there for ten minutes.",
    "kitchen": "Heat the oven for twenty five minutes. The medium pan holds two liters, and the green one "
    "is a bit smaller. Then flip it, tie it with four strings, and let it rest.",
}


def found_in(path: Path, model: SpeechModel) -> dict[str, object]:
    grammar = load_grammar()
    heard = recognize(path, model=model)
    assert len(heard.words) > 15
    record = second_reading(extract(heard, grammar), path, heard, model, grammar)
    return {"laterality": record.laterality} | {kind: getattr(record, kind) for kind in FACTS}


@pytest.mark.parametrize("name", sorted(TALK))
def test_talk_about_other_things_gives_no_case(tmp_path: Path, model: SpeechModel, name: str) -> None:
    path = tmp_path / "said.wav"
    subprocess.run([need_command("flite"), "-voice", "slt", "-t", TALK[name], "-o", str(path)], check=True)
    assert not any(found_in(path, model).values())


def test_people_reading_a_novel_give_no_case(model: SpeechModel) -> None:
    recordings = sorted(HUMAN.glob("*.wav"))
    if not recordings:
        missing("the Debian package pocketsphinx-testdata")
    longest = max(recordings, key=lambda path: path.stat().st_size)
    assert not any(found_in(longest, model).values())
