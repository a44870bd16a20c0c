"""From answers to flags and suggestions. Nothing is ever put in place of what was heard."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from extractor.checks.words import said
from extractor.record.facts import Evidence, Laterality, Measurement
from extractor.record.models import CaseRecord, Flag, facts_by_id
from extractor.record.vocabulary import CHECK_SEVERITY
from extractor.second_reading.slots import Slot, primary_facts
from extractor.second_reading.solve import Answer
from extractor.second_reading.weighing import Weighing
from extractor.speech.transcript import Transcript

RULE = "second reading"
ORIGIN = "second-reading"
NUMBER, TERM = "number-uncertain", "term-uncertain"
LIKELY, POSSIBLE = 0.5, 0.05
"""From this probability on a rival is called likelier than what was heard; below the second it is not named."""
SAME_PLACE = ("number-uncertain", "term-uncertain", "unread-number")
"""Flags of an earlier step that ask the same question about the same words."""


def flags_of(record: CaseRecord, answers: Sequence[Answer], transcript: Transcript, weighing: Weighing) -> CaseRecord:
    """A copy of the record with the flags that the second reading raises, and its suggestions in flags that were there.

    A doubt about words that an earlier flag asks about, or about a fact that must be settled anyway, gives that flag
    its suggestion where it has none, and no second flag.
    """
    flags = list(record.flags)
    for answer in answers:
        slot = answer.doubt.slot
        doubt = 1.0 - answer.together[0]
        if doubt < (weighing.number if slot.number else weighing.term):
            continue
        offer = suggestion(record, answer)
        there = [i for i, flag in enumerate(flags) if _asks(flag, slot)]
        for i in there:
            flags[i] = flags[i].model_copy(update={"suggestion": _joined(flags[i].suggestion, offer)})
        if not there and slot.facts:
            flags.append(_flag(record, answer, offer, transcript))
    return record.model_copy(update={"flags": tuple(flags)})


def suggestion(record: CaseRecord, answer: Answer) -> str | None:
    """What is proposed, as a value of its fact, and what would fit with it; None where no rival is worth naming."""
    best = answer.best_rival
    if not best or answer.together[best] < POSSIBLE:
        return None
    shown = _value(answer.record, answer.doubt.slot) or answer.doubt.readings[best]
    why = f"; then this would be settled: {_without_numbers(answer.settled[0])}" if answer.settled else ""
    return f"{shown}, by the sound{why}"


def _without_numbers(message: str) -> str:
    # The review page offers every number of a suggestion as a choice.
    words = message.split()
    return " ".join("..." if any(c.isdigit() for c in word) else word for word in words)


def _flag(record: CaseRecord, answer: Answer, offer: str | None, transcript: Transcript) -> Flag:
    slot = answer.doubt.slot
    check = NUMBER if slot.number else TERM
    facts = _concerned(record, slot)
    return Flag(
        id=f"{check}:{RULE.replace(' ', '-')}:{slot.start}",
        check=check,
        severity=CHECK_SEVERITY[check],
        message=_message(record, answer),
        facts=facts,
        evidence=(_evidence(slot, transcript),),
        suggestion=offer,
        origin=ORIGIN,
    )


def _message(record: CaseRecord, answer: Answer) -> str:
    """What was heard, what else it may have been, and how sure both are."""
    slot, best = answer.doubt.slot, answer.best_rival
    heard = _value(record, slot) or slot.heard
    kept, other, else_ = answer.together[0], answer.together[best] if best else 0.0, answer.together[-1]
    if best and other >= max(POSSIBLE, else_ / 4):
        rival = _value(answer.record, slot) or answer.doubt.readings[best]
        sound = f"{_percent(answer.alone[best])} by the sound alone, {_percent(other)} with the rest of the case"
        if other > kept:
            return f"{heard} was heard, but {rival} is likelier ({sound})."
        return f"{heard} was heard, and it may have been {rival} ({sound})."
    return f"{heard} was heard badly (something else was said with {_percent(1 - kept)})."


def _percent(share: float) -> str:
    return f"{min(99, max(1, round(100 * share)))}%"


def _value(record: CaseRecord | None, slot: Slot) -> str | None:
    """The value that rests on a slot, as it is written: '18 mm', 'left'. What comes before it is as it was heard."""
    for fact in primary_facts(record) if record else ():
        if any(e.start <= slot.start < e.end for e in fact.evidence):
            if isinstance(fact, Measurement) and slot.number:
                return said(fact)
            if isinstance(fact, Laterality):
                return str(fact.value)
    return None


def _concerned(record: CaseRecord, slot: Slot) -> tuple[str, ...]:
    known = facts_by_id(record)
    return tuple(name for name in slot.facts if name in known)


def _asks(flag: Flag, slot: Slot) -> bool:
    if flag.severity == "note":
        return False
    if flag.check in SAME_PLACE:
        return any(e.start < slot.end and slot.start < e.end for e in flag.evidence)
    return flag.severity == "stop" and bool(slot.facts) and set(slot.facts) <= set(flag.facts)


def _joined(before: str | None, offer: str | None) -> str | None:
    if not offer or (before and offer in before):
        return before
    return f"{before} {offer[:1].upper()}{offer[1:]}." if before else offer


def _evidence(slot: Slot, transcript: Transcript) -> Evidence:
    words = [w for w in transcript.words if w.start < slot.end and slot.start < w.end]
    return Evidence(
        start=slot.start,
        end=slot.end,
        text=transcript.text[slot.start : slot.end],
        start_s=words[0].start_s if words else None,
        end_s=words[-1].end_s if words else None,
        rule=RULE,
    )


def changed(text: str, changes: Mapping[Slot, str]) -> str:
    """The text with other words in some slots."""
    out, at = "", 0
    for slot in sorted(changes, key=lambda s: s.start):
        out += text[at : slot.start] + changes[slot]
        at = slot.end
    return out + text[at:]
