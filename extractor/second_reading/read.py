"""The second reading of one case."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from extractor.checks.case import Schedule
from extractor.grammar.limits import limits_of
from extractor.grammar.packs import Grammar
from extractor.language.annotate import annotate
from extractor.language.repair import Repair
from extractor.pipeline import extract
from extractor.record.models import CaseRecord
from extractor.second_reading.beside import slots_beside
from extractor.second_reading.change import gained, spoiled
from extractor.second_reading.garbled import garbled_flags
from extractor.second_reading.mend import repaired, repairs_of
from extractor.second_reading.prior import reading_prior
from extractor.second_reading.rivals import Rivals, rivals_of, sound_alike, written
from extractor.second_reading.slots import Slot, facts_on, find_slots, value_of
from extractor.second_reading.solve import Answer, Doubt, solve
from extractor.second_reading.sound import Odds, probability_of, score_slots
from extractor.second_reading.suggest import changed, flags_of
from extractor.second_reading.trying import Trying
from extractor.second_reading.unplaced import unplaced_flags
from extractor.second_reading.weighing import Hearing, Weighing, by_the_ear, in_noise, noise_of, scores, weighing_of
from extractor.speech.audio import Samples, read_whole
from extractor.speech.decoder import Decoder
from extractor.speech.sums import in_one_thread
from extractor.speech.transcript import Transcript

FEW = 3
"""Rivals of a number of which the decoder is not asked what else it would say."""
FIGURE = re.compile(r"\d+(?:\.\d+)?")
NEVER = -50.0
"""Nats of what is left out."""


def second_reading(
    record: CaseRecord,
    audio: Path | Samples,
    transcript: Transcript,
    model: Decoder,
    grammar: Grammar,
    *,
    schedule: Schedule | None = None,
) -> CaseRecord:
    """Listen again to the words that primary facts hang on.

    Args:
        record: the case as read from `transcript`.
        audio: the recording, or its samples (`read_whole`).
        transcript: its words with their seconds.
        model: the recognizer.
        grammar: the packs in force.
        schedule: what the operating list says of the case, as given to `extract`.

    Returns:
        A copy of the record with flags and suggestions added, and with facts that misheard words hid, where sound and
        grammar agree on what was said (`mend`). No fact that was read is changed.

    Raises:
        InputError: when the recording cannot be read.
        GrammarError: for a mistake in the packs' rivals or weights.
    """
    weighing, rivals = weighing_of(grammar), rivals_of(grammar)
    kept: dict[str, CaseRecord] = {}

    def read(changes: Mapping[Slot, str]) -> CaseRecord:
        text = changed(transcript.text, changes)
        if text not in kept:
            kept[text] = extract(Transcript(text=text), grammar, schedule=schedule)
        return kept[text]

    heard = record

    def worth_scoring(slots: Sequence[Slot]) -> list[Slot]:
        slots = [replace(s, rivals=tuple(r for r in s.rivals if fits(s, r))) if s.among else s for s in slots]
        tried = [slot for slot in slots if (heard_surely(slot) if slot.number else not slot.facts)]
        better = {(slot.start, slot.end): slot for slot in trying.worth_hearing(tried, slots)}
        return [better.get((slot.start, slot.end), slot) for slot in slots]

    def heard_surely(slot: Slot) -> bool:
        return (
            not slot.ask
            and not slot.split
            and not _unsure(slot, transcript, weighing)
            and not asked.intersection(slot.facts)
        )

    def fits(slot: Slot, rival: str) -> bool:
        if slot.facts or slot.number:
            return False
        other = read({slot: rival})
        return bool(gained(heard, other)) and not spoiled(heard, other)

    def likely(other: CaseRecord, slot: Slot) -> float:
        return reading_prior(other, slot, limits_of(grammar.folders), weighing.prior)

    asked = _asked(record)
    trying = Trying(record, read, weighing.against)
    to_hear = slots_to_hear(record, transcript, grammar)
    numbers = [s for s in to_hear if model.taught and s.number]  # the ear hears them anyway, and rules most rivals out
    first = worth_scoring([s for s in to_hear if s not in numbers])
    slots = sorted([*numbers, *(s for s in first if s.ask or s.rivals)], key=lambda slot: slot.start)
    if not slots:
        return _with_misheard(record, transcript, weighing, grammar)
    samples = read_whole(audio) if isinstance(audio, Path) else audio
    with in_one_thread():
        odds = score_slots(slots, transcript, samples, model, grammar, worth_scoring)
    doubts = [
        doubt
        for o in odds
        if (doubt := doubt_of(o, transcript, weighing, rivals, fits, asked=bool(asked & {*o.slot.facts})))
    ]
    answers = solve(doubts, record, read, weighing.against, likely)
    repairs = repairs_of(record, answers, transcript.text, weighing, read)
    if repairs:
        better = extract(transcript, grammar, case_id=record.case_id, schedule=schedule, repairs=repairs)
        if not spoiled(record, better):
            record, done = better, repaired(repairs)
            doubts = [own for doubt in doubts if (own := _after(doubt, repairs, better))]
            answers = solve(doubts, better, lambda changes: read({**done, **changes}), weighing.against, likely)
    record = flags_of(record, answers, transcript, weighing, limits_of(grammar.folders))
    return _with_misheard(record, transcript, weighing, grammar, answers)


def _with_misheard(
    record: CaseRecord,
    transcript: Transcript,
    weighing: Weighing,
    grammar: Grammar,
    answers: Sequence[Answer] = (),
) -> CaseRecord:
    """The record with the doubts about facts whose own words may be right, and those around them wrong."""
    limits = limits_of(grammar.folders)
    flags = [*record.flags, *unplaced_flags(record, limits)]
    record = record.model_copy(update={"flags": tuple(flags)})
    if noise_of(transcript) < weighing.hearing.noise_least:  # what little is unsure there is mostly right
        return record
    flags += garbled_flags(record, transcript, limits, weighing.garbled, answers)
    return record.model_copy(update={"flags": tuple(flags)})


def _after(doubt: Doubt, repairs: Sequence[Repair], record: CaseRecord) -> Doubt | None:
    """A doubt as it stands after repairs, with the facts that rest on it now; None where a repair settled it."""
    slot = doubt.slot
    if any(r.start < slot.end and slot.start < r.end for r in repairs):
        return None
    return replace(doubt, slot=replace(slot, facts=facts_on(record, slot.start, slot.end)))


def slots_to_hear(record: CaseRecord, transcript: Transcript, grammar: Grammar) -> list[Slot]:
    """The words to listen to again, in the order of the text."""
    weighing = weighing_of(grammar)
    note = annotate(transcript.text, grammar)
    asked = _asked(record)
    known = find_slots(record, note, grammar)
    rivals = rivals_of(grammar)
    slots: list[Slot] = []
    for slot in known:
        alike = tuple(r for r in slot.rivals if slot.number and (r == slot.split or sound_alike(slot.heard, r, rivals)))
        if _unsure(slot, transcript, weighing) or asked.intersection(slot.facts):
            ask = slot.number and not slot.split and probability_of(slot, transcript) < weighing.hearing.sure_asked
            known_rivals = slot.rivals if ask or not slot.number else slot.rivals[:FEW]
            slots.append(replace(slot, ask=ask, rivals=tuple(dict.fromkeys((*_fitting(record, slot), *known_rivals)))))
        elif not slot.number and not slot.facts and not slot.among:  # of these the recognizer is often sure
            slots.append(slot)
        elif slot.number:  # of a number heard surely nothing else is tried but what the ear hears
            slots.append(replace(slot, rivals=alike))
    slots += slots_beside(transcript, note, known, weighing.hearing.sure_beside, weighing.hearing.sure_other)
    return sorted(slots, key=lambda slot: slot.start)


def _asked(record: CaseRecord) -> set[str]:
    """Ids of the facts that flags to be settled ask about."""
    return {name for flag in record.flags if flag.severity == "stop" for name in flag.facts}


def _fitting(record: CaseRecord, slot: Slot) -> Iterator[str]:
    """Numbers that would settle a flag about a number: the graft's length that fits the defect's."""
    if not slot.number or slot.split:
        return
    for flag in record.flags:
        if flag.severity == "stop" and flag.suggestion and set(slot.facts) & set(flag.facts):
            for figure in FIGURE.findall(flag.suggestion):
                if float(figure) != value_of(slot.heard):
                    yield written(float(figure), figures=slot.heard[:1].isdigit())


def doubt_of(
    odds: Odds,
    transcript: Transcript,
    weighing: Weighing,
    rivals: Rivals,
    fits: Callable[[Slot, str], bool] = lambda slot, rival: False,
    *,
    asked: bool = False,
) -> Doubt | None:
    """A slot with the rivals worth looking at, and their nats; None where the words heard are as good as sure.

    Args:
        odds: the slot with the decoder's log-odds.
        transcript: the words with their probabilities.
        weighing: the weights in force.
        rivals: the rivals of all packs.
        fits: whether facts come of a rival, and none is lost.
        asked: whether a flag to be settled asks about the slot anyway.
    """
    hearing = weighing.hearing
    slot = odds.slot
    pairs = zip(odds.log_odds, odds.ear or (0.0,) * len(slot.rivals), slot.rivals, strict=True)
    heard = [
        lag + by_the_ear(nats, hearing) + _sense(slot, rival, hearing, fits) + _known(rival, slot, hearing, rivals)
        for lag, nats, rival in pairs
    ]
    likelier = in_noise(hearing, noise_of(transcript)) if slot.number else 0.0
    nats = scores(heard, probability_of(slot, transcript), hearing, likelier)
    if slot.open:  # of such a word nothing is asked but what is offered
        nats = (*nats[:-1], NEVER)
    within = hearing.within_asked if asked else hearing.within
    near = [i for i in range(len(heard)) if nats[1 + i] > -within]
    if not near and nats[-1] < -within:
        return None
    readings = (slot.heard, *(slot.rivals[i] for i in near))
    return Doubt(slot, readings, (nats[0], *(nats[1 + i] for i in near), nats[-1]))


def _sense(slot: Slot, rival: str, hearing: Hearing, fits: Callable[[Slot, str], bool]) -> float:
    """What speaks for a rival by what comes of it."""
    if slot.facts:
        return 0.0
    if slot.open:
        return hearing.beside_fits if fits(slot, rival) else hearing.beside
    return hearing.expected_fits if fits(slot, rival) else hearing.expected


def _known(rival: str, slot: Slot, hearing: Hearing, rivals: Rivals) -> float:
    """What speaks for a rival whatever is heard."""
    alike = slot.number and sound_alike(slot.heard, rival, rivals)
    return hearing.split * (rival == slot.split) + hearing.alike * alike


def _unsure(slot: Slot, transcript: Transcript, weighing: Weighing) -> bool:
    hearing = weighing.hearing
    return probability_of(slot, transcript) < (hearing.sure_number if slot.number else hearing.sure_word)
