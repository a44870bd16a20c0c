"""Repairs by the sound: words read as what was said, where sound and grammar agree.

A repair is taken only where no primary fact needs the words as heard, the sound speaks for the other word, primary
facts come of it, and none is lost; one that was read may tell more. Every repair is listed in the record; one that is
not sure is flagged as well. No number and no side is ever put in place so.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from extractor.language.repair import Repair
from extractor.record.facts import Suture
from extractor.record.models import CaseRecord
from extractor.second_reading.change import gained, spoiled
from extractor.second_reading.slots import Slot
from extractor.second_reading.solve import Answer
from extractor.second_reading.weighing import Weighing

AGAIN = 0.02
"""Probability from which a word is read as the same word heard elsewhere in the note was."""


def repairs_of(
    record: CaseRecord,
    answers: Sequence[Answer],
    text: str,
    weighing: Weighing,
    read: Callable[[Mapping[Slot, str]], CaseRecord],
) -> list[Repair]:
    """The repairs to take, in the order of the text.

    They are tried all together, since one alone may leave a pair of sutures half read; then one by one.

    Args:
        record: the case as heard.
        answers: what came of each doubt.
        text: the transcript's text.
        weighing: how sure a repair must be, to be taken and to be settled.
        read: reads the case with other words in some slots.
    """
    likely = _likely(answers, weighing)
    if not likely:
        return []
    chosen: dict[Slot, tuple[str, float]] = dict(likely)
    if not _agrees(record, read({slot: word for slot, (word, _) in chosen.items()})):
        chosen = {}
        for slot, (word, share) in sorted(likely.items(), key=lambda item: (-item[1][1], item[0].start)):
            more = {**{own: taken for own, (taken, _) in chosen.items()}, slot: word}
            if share >= weighing.take and _agrees(record, read(more)):
                chosen[slot] = (word, share)
    return [
        Repair(slot.start, slot.end, text[slot.start : slot.end], word, _why(share), share >= weighing.settled)
        for slot, (word, share) in sorted(chosen.items(), key=lambda item: item[0].start)
    ]


def _likely(answers: Sequence[Answer], weighing: Weighing) -> dict[Slot, tuple[str, float]]:
    """Words that were probably others, each with its probability by the sound, or with the rest of the case.

    What was said once for a word is likelier where the same word was heard again.
    """
    shares: dict[Slot, tuple[str, float]] = {}
    for answer in answers:
        slot, best = answer.doubt.slot, answer.best_rival
        if best and not slot.number and not slot.facts:
            shares[slot] = (answer.doubt.readings[best], max(answer.alone[best], answer.together[best]))
    sure = {(slot.heard.lower(), word) for slot, (word, share) in shares.items() if share >= weighing.take}
    return {
        slot: (word, share)
        for slot, (word, share) in shares.items()
        if share >= weighing.take or ((slot.heard.lower(), word) in sure and share >= AGAIN)
    }


def _why(share: float) -> str:
    return f"by the sound ({min(99, round(100 * share))}%), and a fact comes of it"


def repaired(repairs: Sequence[Repair]) -> dict[Slot, str]:
    """Repairs as changes of the text, to try further readings with."""
    return {Slot(r.start, r.end, r.heard, (), (), False): r.read_as for r in repairs}


def _agrees(record: CaseRecord, other: CaseRecord) -> bool:
    """Whether facts come of the other reading, none is lost, and nothing contradicts them."""
    new = gained(record, other)
    of_two = any(suture.tissue for suture in record.sutures)  # native and graft, of which each is one
    half = of_two and any(isinstance(fact, Suture) and fact.tissue is None for fact in new)
    if not new or half or spoiled(record, other) or _side(record) != _side(other):
        return False
    return _against(other) <= _against(record)


def _side(record: CaseRecord) -> str | None:
    return record.laterality.value if record.laterality else None


def _against(record: CaseRecord) -> int:
    """How much of a reading contradicts itself. What is only incomplete asks for itself."""
    return sum(flag.severity == "stop" for flag in record.flags)
