"""How surely numbers were heard."""

from __future__ import annotations

from extractor.language.numbers import atom_at
from extractor.language.tokens import tokenize
from extractor.record.facts import Evidence
from extractor.record.models import CaseRecord
from extractor.speech.transcript import Transcript


def heard_numbers(record: CaseRecord, transcript: Transcript) -> dict[str, float]:
    """The recognizer's own probability of the least sure number word of each measurement, by the fact's id.

    Empty for a typed note; measurements whose numbers have no probability are left out.
    """
    numbers = [
        (word.start, word.end, word.probability)
        for word in transcript.words
        if word.probability is not None and _is_number(transcript.text[word.start : word.end])
    ]
    found: dict[str, float] = {}
    for fact in record.measurements if numbers else ():
        own = [share for start, end, share in numbers if _touches(fact.evidence, start, end)]
        if own:
            found[fact.id] = min(own)
    return found


def _is_number(word: str) -> bool:
    return atom_at(tokenize(word).words, 0) is not None


def _touches(evidence: tuple[Evidence, ...], start: int, end: int) -> bool:
    return any(e.start < end and start < e.end for e in evidence)
