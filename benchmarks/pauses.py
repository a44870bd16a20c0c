"""How often a fact changes when one pause of a gold note is written otherwise: `python -m benchmarks pauses`.

Every comma before a word is made a full stop, then every full stop between two sentences a comma, one at a time; each
is what a recognizer does. Counted are those after which a measurement, a suture, a tie or the side is another.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import yaml

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.record.models import CaseRecord
from extractor.speech.transcript import Transcript

NOTES = Path(__file__).parent.parent / "tests" / "gold"
COMMA = re.compile(r",\s+(?=[a-z])")
STOP = re.compile(r"(?<=[a-z])\.\s+(?=[A-Z][a-z])")
EVERY = 4
"""Of the gold notes each fourth is read."""


def run() -> Iterator[str]:
    """Lines of figures."""
    grammar = load_grammar()

    def read(text: str) -> list[str]:
        return told(extract(Transcript(text=text), grammar))

    changed, tried = {COMMA: 0, STOP: 0}, {COMMA: 0, STOP: 0}
    for path in sorted(NOTES.glob("*.yaml"))[::EVERY]:
        note = yaml.safe_load(path.read_text(encoding="utf-8"))["note"]
        as_said = read(note)
        for sign in (COMMA, STOP):
            for match in sign.finditer(note):
                tried[sign] += 1
                changed[sign] += read(otherwise(note, match, sign)) != as_said
    for sign, name in ((COMMA, "a comma made a full stop"), (STOP, "a full stop made a comma")):
        yield f"{name}: {tried[sign]}, of which {100 * changed[sign] / tried[sign]:.1f} % change a primary fact"


def otherwise(note: str, pause: re.Match[str], sign: re.Pattern[str]) -> str:
    """The note with one pause written the other way."""
    before, after = note[: pause.start()], note[pause.end() :]
    if sign is COMMA:
        return f"{before}. {after[:1].upper()}{after[1:]}"
    return f"{before}, {after[:1].lower()}{after[1:]}"


def told(record: CaseRecord) -> list[str]:
    """What the primary facts say, in no order."""
    sizes = [repr((m.what, m.site, m.value, m.low, m.high, m.unit, m.role)) for m in record.measurements]
    sutures = [repr((s.tissue, s.region, s.surface)) for s in record.sutures]
    ties = [repr(tie.between) for tie in record.ties]
    side = [record.laterality.value] if record.laterality else []
    return sorted([*sizes, *sutures, *ties, *side])
