"""Facts that rest on words heard badly: a number may be right, and what it measures misheard.

'Guide at 55 degrees' came out as 'by that 55 degrees': the number is sure, the words around it are not, and the angle
is taken for another. No rival of a word tells of this, but the recognizer's doubt of the words around does.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from extractor.grammar.limits import Limits
from extractor.record.facts import Evidence, Known, Laterality, Measurement
from extractor.record.models import CaseRecord, Flag
from extractor.record.vocabulary import CHECK_SEVERITY
from extractor.second_reading.change import told
from extractor.second_reading.slots import primary_facts
from extractor.second_reading.solve import Answer
from extractor.second_reading.stretches import sentences
from extractor.second_reading.suggest import ORIGIN, RULE, TERM, suggestion
from extractor.second_reading.weighing import LEAST
from extractor.speech.transcript import Transcript, Word

REACH = 3
"""Words on either side, within the sentence, that are heard with a fact's own."""


def garbled_flags(
    record: CaseRecord, transcript: Transcript, limits: Limits, doubt: float, answers: Sequence[Answer] = ()
) -> Iterator[Flag]:
    """One flag a sentence for the primary facts in it that nothing asks about as yet and that were heard badly.

    Args:
        record: the case, with the flags there are.
        transcript: the words with their probabilities.
        limits: what measurements are called.
        doubt: nats a word around a word of the fact, from which it is asked about.
        answers: what the sound said of slots; what is likeliest there is proposed, however little it was doubted.
    """
    words = transcript.words
    nats = [-math.log(max(1.0 if w.probability is None else w.probability, LEAST)) for w in words]
    asked = {name for flag in record.flags if flag.severity != "note" for name in flag.facts}
    facts = [fact for fact in primary_facts(record) if not isinstance(fact, Laterality)]
    for first, last in sentences(transcript):
        around = [nats[max(first, i - REACH) : min(last, i + REACH + 1)] for i in range(first, last)]
        heard = [words[first + i] for i, near in enumerate(around) if sum(near) / len(near) >= doubt]
        own = [fact for fact in facts if fact.id not in asked and _rests(fact, heard)]
        if own:
            asked.update(fact.id for fact in own)
            yield _flag(own, words[first], words[last - 1], transcript, limits, _offers(own, answers, limits))


def _offers(facts: Sequence[Known], answers: Sequence[Answer], limits: Limits) -> list[str]:
    """Other numbers for the facts by the sound, the likeliest first."""
    names = {fact.id for fact in facts}
    own = [a for a in answers if a.best_rival and a.doubt.slot.number and names.intersection(a.doubt.slot.facts)]
    own.sort(key=lambda a: -a.together[a.best_rival])
    offers = [offer for a in own if (offer := suggestion(a, limits))]
    offers += [_unbound(f, limits) for f in facts if isinstance(f, Measurement) and f.value is None and _bound(f)]
    return [f"{offer[:1].upper()}{offer[1:]}." for offer in dict.fromkeys(offers)]


def _bound(fact: Measurement) -> bool:
    return (fact.low is None) != (fact.high is None)


def _unbound(fact: Measurement, limits: Limits) -> str:
    """'Up to 17' may have been 'cut to 17': the number without its bound."""
    plain = fact.model_copy(update={"value": fact.high if fact.low is None else fact.low, "low": None, "high": None})
    return told([plain], limits)


def _rests(fact: Known, words: list[Word]) -> bool:
    return any(e.start < word.end and word.start < e.end for e in fact.evidence for word in words)


def _flag(
    facts: list[Known], first: Word, last: Word, transcript: Transcript, limits: Limits, offers: Sequence[str]
) -> Flag:
    what = told(facts, limits)
    rests = "rests" if len(facts) == 1 else "rest"
    text = transcript.text[first.start : last.end]
    return Flag(
        id=f"{TERM}:{RULE.replace(' ', '-')}:around:{first.start}",
        check=TERM,
        severity=CHECK_SEVERITY[TERM],
        message=f"{what[:1].upper()}{what[1:]} {rests} on words that were heard badly: '{text}'",
        facts=tuple(fact.id for fact in facts),
        evidence=(
            Evidence(start=first.start, end=last.end, text=text, start_s=first.start_s, end_s=last.end_s, rule=RULE),
        ),
        suggestion=" ".join(["Listen to the sentence again.", *offers]),
        origin=ORIGIN,
    )
