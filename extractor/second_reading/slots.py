"""Slots: the words of a note on which a primary fact hangs and that may have been others."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from extractor.grammar.packs import Grammar
from extractor.language.annotate import Note
from extractor.language.numbers import atom_at
from extractor.record.facts import Known
from extractor.record.models import CaseRecord
from extractor.second_reading.rivals import Rivals, number_rivals, rivals_of, written

UNITS_AFTER = frozenset("mm cm millimeter millimeters centimeter centimeters by degrees minutes percent cc".split())
"""Before these a word of `heard-for-numbers` may have been the number."""


@dataclass(frozen=True)
class Slot:
    """One stretch of the text with its other readings.

    Attributes:
        start: first character.
        end: character after the last.
        heard: what is read there now; the words themselves, or what a repair makes of them.
        rivals: what may have been said instead.
        facts: ids of the facts that hang on it.
        number: whether it is a number.
    """

    start: int
    end: int
    heard: str
    rivals: tuple[str, ...]
    facts: tuple[str, ...]
    number: bool


def primary_facts(record: CaseRecord) -> list[Known]:
    """Side, measurements of this case, sutures and ties: what must not be silently wrong."""
    side = [record.laterality] if record.laterality else []
    return [*side, *(m for m in record.measurements if m.role != "reference"), *record.sutures, *record.ties]


def find_slots(record: CaseRecord, note: Note, grammar: Grammar) -> list[Slot]:
    """All slots of a note, in the order of the text; they do not overlap."""
    rivals = rivals_of(grammar)
    spans = [(e.start, e.end, fact.id) for fact in primary_facts(record) for e in fact.evidence]
    loose = [(e.start, e.end, "") for flag in record.flags if flag.check == "unread-number" for e in flag.evidence]
    tokens = note.tokens
    found: list[Slot] = []
    i = 0
    while i < len(tokens):
        number = atom_at(tokens.words, i)
        end = number.end if number else i + 1
        first, last = tokens.starts[i], tokens.ends[end - 1]
        facts = _touching([*spans, *loose], first, last)
        if facts is not None:
            text = tokens.text[first:last]
            if number and number.value is not None and number.form == "number":
                others = _numbers(number.value, number.figures, rivals)
                if others:
                    found.append(Slot(first, last, text, others, facts, True))
            else:
                found += _word(note, i, facts, rivals)
        elif tokens.words[i] in rivals.for_numbers and i + 1 < len(tokens) and tokens.words[i + 1] in UNITS_AFTER:
            value = rivals.for_numbers[tokens.words[i]]
            found.append(Slot(first, last, tokens.text[first:last], (written(value, figures=True),), (), True))
        i = end
    return found


def _numbers(value: float, figures: bool, rivals: Rivals) -> tuple[str, ...]:
    return tuple(written(other, figures=figures) for other in number_rivals(value, rivals))


def _word(note: Note, i: int, facts: tuple[str, ...], rivals: Rivals) -> Iterable[Slot]:
    word = note.tokens.words[i]
    others = rivals.words.get(word)
    if others:
        yield Slot(note.tokens.starts[i], note.tokens.ends[i], word, others, facts, False)


def _touching(spans: Sequence[tuple[int, int, str]], start: int, end: int) -> tuple[str, ...] | None:
    """Ids of the facts whose evidence shares a character with a stretch; None where there is none."""
    ids = [fact for first, last, fact in spans if first < end and start < last]
    return tuple(dict.fromkeys(filter(None, ids))) if ids else None
