"""The second reading of one case."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from extractor.checks.case import Schedule
from extractor.grammar.limits import limits_of
from extractor.grammar.packs import Grammar
from extractor.language.annotate import annotate
from extractor.pipeline import extract
from extractor.record.models import CaseRecord
from extractor.second_reading.beside import slots_beside
from extractor.second_reading.rivals import Rivals, rivals_of, sound_alike
from extractor.second_reading.slots import Slot, find_slots
from extractor.second_reading.solve import Doubt, solve
from extractor.second_reading.sound import Odds, probability_of, read_sound, score_slots
from extractor.second_reading.suggest import changed, flags_of
from extractor.second_reading.weighing import Hearing, Weighing, scores, weighing_of
from extractor.speech.model import SpeechModel
from extractor.speech.transcript import Transcript

NEVER = -50.0
"""Nats of what is left out."""


def second_reading(
    record: CaseRecord,
    audio: Path,
    transcript: Transcript,
    model: SpeechModel,
    grammar: Grammar,
    *,
    schedule: Schedule | None = None,
) -> CaseRecord:
    """Listen again to the words that primary facts hang on.

    Args:
        record: the case as read from `transcript`.
        audio: the recording.
        transcript: its words with their seconds.
        model: the recognizer.
        grammar: the packs in force.
        schedule: what the operating list says of the case, as given to `extract`.

    Returns:
        A copy of the record with flags and suggestions added. No fact is changed.

    Raises:
        InputError: when the recording cannot be read.
        GrammarError: for a mistake in the packs' rivals or weights.
    """
    weighing = weighing_of(grammar)
    slots = slots_to_hear(record, transcript, grammar)
    if not slots:
        return record
    odds = score_slots(slots, transcript, read_sound(audio), model)
    rivals = rivals_of(grammar)
    doubts = [doubt for o in odds if (doubt := doubt_of(o, transcript, weighing, rivals))]

    def read(changes: Mapping[Slot, str]) -> CaseRecord:
        other = Transcript(text=changed(transcript.text, changes))
        return extract(other, grammar, schedule=schedule)

    answers = solve(doubts, record, read, weighing.against)
    return flags_of(record, answers, transcript, weighing, limits_of(grammar.folders))


def slots_to_hear(record: CaseRecord, transcript: Transcript, grammar: Grammar) -> list[Slot]:
    """The words to listen to again, in the order of the text."""
    weighing = weighing_of(grammar)
    note = annotate(transcript.text, grammar)
    asked = {name for flag in record.flags if flag.severity == "stop" for name in flag.facts}
    known = find_slots(record, note, grammar)
    rivals = rivals_of(grammar)
    slots: list[Slot] = []
    for slot in known:
        alike = tuple(r for r in slot.rivals if slot.number and sound_alike(slot.heard, r, rivals))
        if _unsure(slot, transcript, weighing) or asked.intersection(slot.facts):
            slots.append(slot)
        elif alike:  # of a number that was heard surely nothing else is tried
            slots.append(replace(slot, rivals=alike))
    slots += slots_beside(transcript, note, known, weighing.hearing.sure_beside)
    return sorted(slots, key=lambda slot: slot.start)


def doubt_of(odds: Odds, transcript: Transcript, weighing: Weighing, rivals: Rivals) -> Doubt | None:
    """A slot with the rivals worth looking at, and their nats; None where the words heard are as good as sure."""
    hearing = weighing.hearing
    slot = odds.slot
    sense = hearing.beside if slot.open else 0.0 if slot.facts else hearing.expected
    pairs = zip(odds.log_odds, slot.rivals, strict=True)
    heard = [lag + sense + _known(rival, slot, hearing, rivals) for lag, rival in pairs]
    nats = scores(heard, probability_of(slot, transcript), hearing)
    if slot.open:  # of such a word nothing is asked but what is offered
        nats = (*nats[:-1], NEVER)
    near = [i for i, lag in enumerate(heard) if lag > -hearing.within]
    if not near and nats[-1] < -hearing.within:
        return None
    readings = (slot.heard, *(slot.rivals[i] for i in near))
    return Doubt(slot, readings, (nats[0], *(nats[1 + i] for i in near), nats[-1]))


def _known(rival: str, slot: Slot, hearing: Hearing, rivals: Rivals) -> float:
    """What speaks for a rival whatever is heard."""
    alike = slot.number and sound_alike(slot.heard, rival, rivals)
    return hearing.split * (rival == slot.split) + hearing.alike * alike


def _unsure(slot: Slot, transcript: Transcript, weighing: Weighing) -> bool:
    hearing = weighing.hearing
    return probability_of(slot, transcript) < (hearing.sure_number if slot.number else hearing.sure_word)
