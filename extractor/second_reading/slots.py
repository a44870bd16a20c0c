"""Slots: the words of a note on which a primary fact hangs and that may have been others."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from extractor.grammar.packs import Grammar
from extractor.language.annotate import Note
from extractor.language.numbers import atom_at
from extractor.language.tokens import tokenize
from extractor.record.facts import Known
from extractor.record.models import CaseRecord
from extractor.second_reading.rivals import Rivals, number_rivals, rivals_of, written

UNREAD = "unread-number"
UNIT_SPELLINGS = {"millimeter": "mm", "millimeters": "mm", "centimeter": "cm", "centimeters": "cm", "meters": "meter"}
HUNDRED = 100
MOST_JOINED = 1000
STOPS = ["."], [","]
SPANS = ["to"], ["or"]
"""What stands between the halves of a number that was heard as two."""
UNITS_AFTER = frozenset((*UNIT_SPELLINGS, *"mm cm meter by degrees minutes percent cc".split()))
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
        split: the rival that is one number where it was written as two (58 for '50 8').
        open: whether it is a word of which nothing is known but that it was heard badly (`beside`).
        ask: whether the decoder is asked what else it would say.
        among: whether it is a word that may have been one of the trade, and stands among the words of a fact.
    """

    start: int
    end: int
    heard: str
    rivals: tuple[str, ...]
    facts: tuple[str, ...]
    number: bool
    split: str | None = None
    open: bool = False
    ask: bool = False
    among: bool = False


def primary_facts(record: CaseRecord) -> list[Known]:
    """Side, measurements of this case, sutures and ties: what must not be silently wrong."""
    side = [record.laterality] if record.laterality else []
    return [*side, *(m for m in record.measurements if m.role != "reference"), *record.sutures, *record.ties]


def value_of(reading: str) -> float | None:
    """The number that a reading opens with; None where it opens with none."""
    number = atom_at(tokenize(reading).words, 0)
    return number.value if number else None


def find_slots(record: CaseRecord, note: Note, grammar: Grammar) -> list[Slot]:
    """All slots of a note, in the order of the text; they do not overlap."""
    rivals = rivals_of(grammar)
    spans = [(e.start, e.end, fact.id) for fact in primary_facts(record) for e in fact.evidence]
    spans += [(e.start, e.end, "") for flag in record.flags if flag.check == UNREAD for e in flag.evidence]
    tokens = note.tokens
    found: list[Slot] = []
    i, before = 0, 0
    while i < len(tokens):
        number = atom_at(tokens.words, i)
        end = number.end if number else i + 1
        facts = _touching(spans, tokens.starts[i], tokens.ends[end - 1])
        if facts is None:
            found += _misheard(note, i, rivals)
        elif number and number.value is not None and number.form == "number":
            others = tuple(written(other, figures=number.figures) for other in number_rivals(number.value, rivals))
            unit = end < len(tokens) and tokens.words[end] in UNITS_AFTER
            whole = _joined(tokens.words[before:i], number.value, unit=unit) if before < i else None
            first = tokens.starts[before if whole else i]
            if whole:  # the facts of both numbers hang on it
                facts = _touching(spans, first, tokens.ends[end - 1]) or facts
                found = [slot for slot in found if slot.end <= first]
            if not whole and facts and _may_open(tokens.words, i, number.value, rivals):
                first = tokens.starts[i - 1]
                opens = tokens.text[first : tokens.starts[i]]
                others = tuple(f"{opens}{other}" for other in others)
            heard = tokens.text[first : tokens.ends[end - 1]]
            if whole or others:
                rivals_here = (*filter(None, [whole]), *others)
                found.append(Slot(first, tokens.ends[end - 1], heard, rivals_here, facts, True, whole))
        elif others := rivals.words.get(tokens.words[i], ()):
            found.append(Slot(tokens.starts[i], tokens.ends[i], tokens.words[i], others, facts, False))
        elif facts and (others := rivals.for_words.get(tokens.words[i], ())):
            found.append(Slot(tokens.starts[i], tokens.ends[i], tokens.said(i, i + 1), others, (), False, among=True))
        if number or [tokens.words[i]] not in (*STOPS, *SPANS) or i == before:
            before = i if number else end
        i = end
    return found


def facts_on(record: CaseRecord, start: int, end: int) -> tuple[str, ...]:
    """Ids of the primary facts that rest on a stretch of the text."""
    spans = [(e.start, e.end, fact.id) for fact in primary_facts(record) for e in fact.evidence]
    return _touching(spans, start, end) or ()


def _misheard(note: Note, i: int, rivals: Rivals) -> Iterable[Slot]:
    """A word that no primary fact rests on and that sounds like one that would make a fact.

    That is a number before a unit ('for millimeters'), a zero that opens a span, or a word of the trade ('we tag': we
    tie).
    """
    tokens = note.tokens
    if others := rivals.for_words.get(tokens.words[i]):
        yield Slot(tokens.starts[i], tokens.ends[i], tokens.said(i, i + 1), others, (), False)
        return
    value = rivals.for_numbers.get(tokens.words[i])
    after = tokens.words[i + 1] if i + 1 < len(tokens) else ""
    spans = value == 0 and after == "to" and atom_at(tokens.words, i + 2)  # 'not to 120 degrees'
    if value is not None and (spans or (value and after in UNITS_AFTER)):
        heard = tokens.text[tokens.starts[i] : tokens.ends[i]]
        yield Slot(tokens.starts[i], tokens.ends[i], heard, (written(value, figures=True),), (), True)


def _may_open(words: Sequence[str], i: int, value: float, rivals: Rivals) -> bool:
    """Whether the word before a number may have been what it opened with; 'to' between two numbers is not."""
    before = i >= 2 and atom_at(words, i - 2)
    return i > 0 and words[i - 1] in rivals.for_tens and 0 < value < HUNDRED and not before


def _joined(before: Sequence[str], small: float, *, unit: bool) -> str | None:
    """'50 8' may have been 58, '100 20' 120: what the recognizer wrote as two numbers, the first in figures.

    It may even have put a stop between them ('140. 5 degrees'); then only the second has a unit. And 'nine to five
    minutes', which is no span, may have been 95.
    """
    number, between = atom_at(list(before[:1]), 0) if before else None, list(before[1:])
    if number is None or number.value is None or number.value != int(number.value) or (between and not unit):
        return None
    large = int(number.value)
    if between in SPANS and 1 < large < 10 and 0 < small < large and small == int(small):
        return str(10 * large + int(small))
    if not number.figures or (between and between not in STOPS):
        return None
    fits = next((large % unit_ == 0 and 0 < small < unit_ for unit_ in (100, 10) if large % unit_ == 0), False)
    return str(large + int(small)) if fits and 20 <= large < MOST_JOINED and small == int(small) else None


def _touching(spans: Sequence[tuple[int, int, str]], start: int, end: int) -> tuple[str, ...] | None:
    """Ids of the facts whose evidence shares a character with a stretch; None where there is none."""
    ids = [fact for first, last, fact in spans if first < end and start < last]
    return tuple(dict.fromkeys(filter(None, ids))) if ids else None
