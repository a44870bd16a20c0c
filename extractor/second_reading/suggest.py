"""From answers to flags and suggestions. Nothing is ever put in place of what was heard."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from extractor.checks.words import called, listed, said, with_unit
from extractor.grammar.limits import Limits
from extractor.record.facts import Evidence, Known, Laterality, Measurement
from extractor.record.models import CaseRecord, Flag, facts_by_id
from extractor.record.vocabulary import CHECK_SEVERITY
from extractor.second_reading.change import answered, consequence, lost
from extractor.second_reading.prior import reading_prior
from extractor.second_reading.slots import Slot, primary_facts
from extractor.second_reading.solve import Answer
from extractor.second_reading.ways import in_order
from extractor.second_reading.weighing import Weighing
from extractor.speech.transcript import Transcript

RULE = "second reading"
ORIGIN = "second-reading"
NUMBER, TERM = "number-uncertain", "term-uncertain"
LIKELY, POSSIBLE = 0.5, 0.005
"""From this probability on a rival is called likelier than what was heard; below the second it is not named."""
FIRST = 0.1
"""From this probability on what the sound proposes stands before what a check does."""
SETTLES = ": that would settle it"
SAME_PLACE = ("number-uncertain", "term-uncertain", "unread-number")
"""Flags of an earlier step that ask the same question about the same words."""
SAME_FACT = ("unit-missing", "tourniquet-long")
"""Checks that ask about a number on their own: what the sound says of it is proposed there, with no flag of its own."""
LEAST = 1e-6


def flags_of(
    record: CaseRecord, answers: Sequence[Answer], transcript: Transcript, weighing: Weighing, limits: Limits
) -> CaseRecord:
    """A copy of the record with the flags that the second reading raises, and its suggestions in flags that were there.

    A doubt about words that an earlier flag asks about, or about a fact that must be settled anyway, gives that flag
    a suggestion, and no second flag.
    """
    flags = list(record.flags)
    ways: dict[int, float] = {}
    for i, flag in enumerate(flags):
        if ordered := in_order(flag, record, answers, limits, weighing.prior):
            ways[i], told = ordered
            flags[i] = flag.model_copy(update={"suggestion": told})
    offers: dict[int, list[tuple[float, float, str]]] = {}
    for answer in answers:
        slot = answer.doubt.slot
        # Where no fact rests on the words, only what would make one is worth asking.
        doubt = answer.doubtful if slot.facts else answer.together[answer.best_rival] * bool(answer.best_rival)
        if doubt < (weighing.number if slot.number else weighing.term):
            continue
        then = consequence(record, answer.record, limits)
        if not slot.facts and not then:
            continue
        there = [i for i, flag in enumerate(flags) if _asks(flag, slot) or (slot.open and _answered(flag, answer))]
        for i in there:
            if offer := suggestion(answer, limits, flags[i].id, record=record if slot.open else None):
                nats = _nats(record, answer, limits, weighing, settles=offer.endswith(SETTLES))
                offers.setdefault(i, []).append((answer.together[answer.best_rival], nats, offer))
        if not there:
            flags.append(_flag(record, answer, suggestion(answer, limits, record=record), transcript, limits))
    for i, own in offers.items():
        asked = flags[i].origin == ORIGIN
        before, nats = flags[i].suggestion, ways.get(i, -math.inf)
        flags[i] = flags[i].model_copy(update={"suggestion": _joined(before, own, nats, asked=asked)})
    return record.model_copy(update={"flags": tuple(flags)})


def suggestion(answer: Answer, limits: Limits, of: str | None = None, record: CaseRecord | None = None) -> str | None:
    """What is proposed, and what it would settle; None where no rival is worth naming.

    Of numbers it holds the proposed one only: the review page offers every number of a suggestion as a choice.

    Args:
        answer: what came of a doubt.
        limits: what measurements are called.
        of: id of the flag that the suggestion goes with, where it is one that was there.
        record: the case as heard, where facts may be gained.
    """
    best = answer.best_rival
    if not best or max(answer.together[best], answer.alone[best]) < POSSIBLE:
        return None
    reading = answer.doubt.readings[best]
    if not answer.doubt.slot.facts and record is not None and (then := consequence(record, answer.record, limits)):
        return f"'{reading}', by the sound; then {then}"
    fact = _resting(answer.record, answer.doubt.slot)
    name = f"the {called(fact.what, limits)} " if isinstance(fact, Measurement) else ""
    offer = f"{name}{_value(answer.record, answer.doubt.slot, limits) or answer.doubt.readings[best]}, by the sound"
    if of in answer.settled:
        return f"{offer}{SETTLES}"
    if answer.settled:
        return f"{offer}: that would settle {listed(dict.fromkeys(i.split(':')[0] for i in answer.settled))}"
    return offer


def _flag(record: CaseRecord, answer: Answer, offer: str | None, transcript: Transcript, limits: Limits) -> Flag:
    slot = answer.doubt.slot
    check = NUMBER if slot.number else TERM
    message = _message(record, answer)
    facts = (*_concerned(record, slot), *_leaning(record, answer))
    if not slot.facts:  # the facts are those that the other reading changes
        message = f"{message} Then {consequence(record, answer.record, limits)}."
        facts = tuple(fact.id for fact in lost(record, answer.record))
    return Flag(
        id=f"{check}:{RULE.replace(' ', '-')}:{slot.start}",
        check=check,
        severity=CHECK_SEVERITY[check],
        message=message,
        facts=facts,
        evidence=(_evidence(slot, transcript),),
        suggestion=offer,
        origin=ORIGIN,
    )


def _message(record: CaseRecord, answer: Answer) -> str:
    """What was heard, what else it may have been, and how sure both are."""
    slot, best = answer.doubt.slot, answer.best_rival
    heard = _value(record, slot) or slot.heard
    kept, other, else_ = 1.0 - answer.doubtful, answer.together[best] if best else 0.0, answer.together[-1]
    rival = (_value(answer.record, slot) or answer.doubt.readings[best]) if best else ""
    if best and max(other, answer.alone[best]) >= max(POSSIBLE, else_ / 4):
        alone, all_ = _percent(answer.alone[best]), _percent(other)
        sound = f"{alone} by the sound" + (f", {all_} with the rest of the case" if alone != all_ else "")
        if other > kept:
            return f"{heard} was heard, but {rival} is likelier ({sound})."
        return f"{heard} was heard, and it may have been {rival} ({sound})."
    return f"{heard} was heard badly, and may have been something else ({_percent(answer.doubtful)})."


def _percent(share: float) -> str:
    return f"{min(99, max(1, round(100 * share)))}%"


def _resting(record: CaseRecord | None, slot: Slot) -> Known | None:
    """The first fact that rests on a slot. What stands before the slot is the same in every reading."""
    facts = primary_facts(record) if record else []
    return next((f for f in facts if any(e.start <= slot.start < e.end for e in f.evidence)), None)


def _value(record: CaseRecord | None, slot: Slot, limits: Limits | None = None) -> str | None:
    """The value that rests on a slot, as it is written: '18 mm', 'left'."""
    fact = _resting(record, slot)
    if isinstance(fact, Measurement) and slot.number:
        return with_due_unit(fact, limits)
    return str(fact.value) if isinstance(fact, Laterality) else None


def with_due_unit(fact: Measurement, limits: Limits | None) -> str:
    """A measurement's value with its unit; with the one that is due, where none was said and limits are given."""
    limit = limits.measurements.get(fact.what) if limits else None
    return f"{said(fact)} {with_unit('', limit.unit)}".strip() if limit and fact.unit is None else said(fact)


def _concerned(record: CaseRecord, slot: Slot) -> tuple[str, ...]:
    known = facts_by_id(record)
    return tuple(name for name in slot.facts if name in known)


def _leaning(record: CaseRecord, answer: Answer) -> Iterator[str]:
    """Facts that agree with what was heard and not with the other reading: heard wrong once, they were so twice."""
    other = answer.record
    if other is None:
        return
    here, there = facts_by_id(record), facts_by_id(other)
    stops = {(flag.check, flag.message) for flag in record.flags}
    for flag in other.flags:
        if (
            flag.severity == "stop"
            and (flag.check, flag.message) not in stops
            and set(answer.doubt.slot.facts) & set(flag.facts)
        ):
            for name in flag.facts:
                if name not in answer.doubt.slot.facts and name in here and _same(here[name], there[name]):
                    yield name


def _same(one: Known, other: Known) -> bool:
    """Whether two facts say the same, wherever they say it."""
    return one.model_copy(update={"evidence": ()}) == other.model_copy(update={"evidence": ()})


def _answered(flag: Flag, answer: Answer) -> bool:
    return flag.check in SAME_PLACE and answered(flag, answer.record)


def _asks(flag: Flag, slot: Slot) -> bool:
    if flag.severity == "note":
        return False
    if flag.check in SAME_PLACE:
        return any(e.start < slot.end and slot.start < e.end for e in flag.evidence)
    asks = flag.severity == "stop" or flag.check in SAME_FACT
    return asks and bool(slot.facts) and set(slot.facts) <= set(flag.facts)


def _joined(before: str | None, offers: Sequence[tuple[float, float, str]], ways: float, *, asked: bool) -> str:
    """What a flag proposed and what the sound does, the likeliest first: what would settle it, then what is likely.

    What the flag proposed stays first where the sound itself `asked`; where it names ways out, `ways` are the nats of
    the likeliest.
    """
    ranked = sorted(offers, key=lambda offer: -offer[1])
    fresh = {offer: (share, nats) for share, nats, offer in ranked if offer not in (before or "")}
    if not before or not fresh:
        return before or (_listed(list(fresh)) if len(fresh) > 1 else next(iter(fresh)))
    first: list[str] = []
    if not asked:
        told = math.isfinite(ways)
        first = [
            o for o, (share, nats) in fresh.items() if (nats >= ways if told else o.endswith(SETTLES) or share >= FIRST)
        ]
    return _listed([*first, before, *(offer for offer in fresh if offer not in first)])


def _nats(record: CaseRecord, answer: Answer, limits: Limits, weighing: Weighing, *, settles: bool) -> float:
    """How likely what an answer proposes is: by the sound and the case, and by what is usual of such a value."""
    slot, best, prior = answer.doubt.slot, answer.best_rival, weighing.prior
    there = reading_prior(answer.record, slot, limits, prior) if answer.record else 0.0
    here = max(reading_prior(record, slot, limits, prior), prior.impossible)
    return math.log(max(answer.together[best], LEAST)) + there - here + prior.settles * settles


def _listed(offers: Sequence[str]) -> str:
    """Proposals as sentences."""
    return " ".join(f"{o[:1].upper()}{o[1:]}{'' if o.endswith('.') else '.'}" for o in offers)


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
