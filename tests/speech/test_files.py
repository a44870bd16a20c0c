from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from extractor.errors import InputError
from extractor.speech.files import read_transcript, write_transcript
from extractor.speech.transcript import Transcript, Word


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=50)
@given(said=st.lists(st.text("abc é–👩‍⚕️ש", min_size=1).map(str.strip).filter(bool), max_size=8))
def test_what_was_written_is_read(tmp_path: Path, said: list[str]) -> None:
    text, words = "", []
    for word in said:
        text += " " if text else ""
        words.append(Word(start=len(text), end=len(text) + len(word), start_s=0.1, end_s=0.2, probability=0.5))
        text += word
    transcript = Transcript(text=text, words=tuple(words), kind="audio", seconds=3.0, speech_model="m", language="en")
    write_transcript(transcript, tmp_path / "new" / "t.json")
    assert read_transcript(tmp_path / "new" / "t.json") == transcript
    assert [path.name for path in (tmp_path / "new").iterdir()] == ["t.json"]  # nothing half-written stays


@pytest.mark.parametrize(
    ("content", "said"),
    [
        ("", "is no transcript"),
        ("{}", "text: Field required"),
        ('{"text": "a", "surgeon": "b"}', "surgeon: Extra inputs"),
        (json.dumps({"text": "ab", "words": [{"start": 0, "end": 9}]}), "word 0 lies outside the text"),
        (
            json.dumps({"text": "ab", "words": [{"start": 1, "end": 2}, {"start": 0, "end": 1}]}),
            "word 1 .* before the last word",
        ),
        (json.dumps({"text": "ab", "words": [{"start": 1, "end": 1}]}), "word 0 lies outside"),
    ],
)
def test_what_is_no_transcript_is_told(tmp_path: Path, content: str, said: str) -> None:
    path = tmp_path / "t.json"
    path.write_text(content)
    with pytest.raises(InputError, match=said):
        read_transcript(path)


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="cannot be read"):
        read_transcript(tmp_path / "none.json")


def test_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(InputError, match="cannot be written"):
        write_transcript(Transcript(text="a"), tmp_path / "file" / "t.json")
