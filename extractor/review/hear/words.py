"""The words of a recording as far as it was recognized, kept as JSON beside it."""

from __future__ import annotations

import json
from collections.abc import Sequence

from extractor.speech.transcript import Transcript


def pack(pieces: Sequence[tuple[float, Transcript]]) -> str:
    """Pieces, each with the second it begins at, as text for the store."""
    return json.dumps([[start, piece.model_dump(mode="json")] for start, piece in pieces], ensure_ascii=False)


def unpack(text: str) -> list[tuple[float, Transcript]]:
    """The pieces that `pack` wrote."""
    return [(float(start), Transcript.model_validate(piece)) for start, piece in json.loads(text or "[]")]


def join(pieces: Sequence[tuple[float, Transcript]], **about: object) -> Transcript:
    """One transcript of pieces that follow each other; `about` sets its other fields."""
    text, words = "", []
    for start, piece in pieces:
        if not piece.text:
            continue
        text += " " if text else ""
        shift = len(text)
        text += piece.text
        words += [w.moved(shift, start) for w in piece.words]
    first = pieces[0][1] if pieces else None
    known = {"speech_model": first.speech_model, "language": first.language} if first else {}
    return Transcript.model_validate({"text": text, "words": words, "kind": "audio", **known, **about})
