"""The second reading of one case."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from extractor.checks.case import Schedule
from extractor.grammar.packs import Grammar
from extractor.language.annotate import annotate
from extractor.pipeline import extract
from extractor.record.models import CaseRecord
from extractor.second_reading.slots import Slot, find_slots
from extractor.second_reading.solve import Doubt, solve
from extractor.second_reading.sound import Odds, read_sound, score_slots
from extractor.second_reading.suggest import changed, flags_of
from extractor.second_reading.weighing import Weighing, scores, weighing_of
from extractor.speech.model import SpeechModel
from extractor.speech.transcript import Transcript


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
    note = annotate(transcript.text, grammar)
    slots = [s for s in find_slots(record, note, grammar) if s.number or _unsure(s, transcript, weighing)]
    if not slots:
        return record
    odds = score_slots(slots, transcript, read_sound(audio), model)
    doubts = [doubt for o in odds if (doubt := doubt_of(o, transcript, weighing))]

    def read(changes: Mapping[Slot, str]) -> CaseRecord:
        other = Transcript(text=changed(transcript.text, changes))
        return extract(other, grammar, schedule=schedule)

    answers = solve(doubts, record, read, weighing.against)
    return flags_of(record, answers, transcript, weighing)


def doubt_of(odds: Odds, transcript: Transcript, weighing: Weighing) -> Doubt | None:
    """A slot with the rivals worth looking at, and their nats; None where the words heard are as good as sure."""
    hearing = weighing.hearing
    nats = scores(odds.log_odds, probability(odds.slot, transcript), hearing)
    near = [i for i, lag in enumerate(odds.log_odds) if lag > -hearing.within]
    if not near and nats[-1] < -hearing.within:
        return None
    readings = (odds.slot.heard, *(odds.slot.rivals[i] for i in near))
    return Doubt(odds.slot, readings, (nats[0], *(nats[1 + i] for i in near), nats[-1]))


def probability(slot: Slot, transcript: Transcript) -> float:
    """The recognizer's own probability of the least sure word of a slot; 1 where it gave none."""
    own = (w.probability for w in transcript.words if w.start < slot.end and slot.start < w.end)
    return min((p for p in own if p is not None), default=1.0)


def _unsure(slot: Slot, transcript: Transcript, weighing: Weighing) -> bool:
    return probability(slot, transcript) < weighing.hearing.sure_word
