"""Transcripts as JSON files."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from pydantic import ValidationError

from extractor.errors import InputError
from extractor.speech.transcript import Transcript


def read_transcript(path: Path) -> Transcript:
    """Read a transcript written by `write_transcript`.

    Raises:
        InputError: when the file cannot be read, is no transcript, or its words do not lie in its text.
    """
    try:
        transcript = Transcript.model_validate_json(path.read_bytes())
    except OSError as error:
        raise InputError(f"{path}: cannot be read ({error.strerror}); check name and permissions") from error
    except ValidationError as error:
        first = error.errors()[0]
        at = ".".join(str(part) for part in first["loc"]) or "the file"
        raise InputError(
            f"{path}: is no transcript ({at}: {first['msg']}); make one with 'extractor transcribe'"
        ) from error
    end = 0
    for number, word in enumerate(transcript.words):
        if not end <= word.start < word.end <= len(transcript.text):
            raise InputError(
                f"{path}: word {number} lies outside the text or before the last word; make the transcript again"
            )
        end = word.end
    return transcript


def write_transcript(transcript: Transcript, path: Path) -> None:
    """Write a transcript, whole or not at all.

    Raises:
        InputError: when the folder cannot be written to.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile("w", encoding="utf-8", dir=path.parent, suffix=".part", delete=False) as file:
            file.write(transcript.model_dump_json(indent=1) + "\n")
        os.replace(file.name, path)
    except OSError as error:
        raise InputError(f"{path}: cannot be written ({error.strerror}); give another folder with -o") from error
