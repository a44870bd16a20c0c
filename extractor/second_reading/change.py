"""What another reading of some words would change: primary facts gained and lost, doubts that would be gone."""

from __future__ import annotations

from collections.abc import Sequence

from extractor.checks.words import called, listed, said
from extractor.grammar.limits import Limits
from extractor.record.facts import Known, Laterality, Measurement, Suture, Tie
from extractor.record.models import CaseRecord, Flag
from extractor.second_reading.slots import primary_facts

PLACE = ("tissue", "region", "surface")
APART = {"evidence": (), "id": "", "certainty": 1.0, "others": (), "earlier_values": ()}


def gained(record: CaseRecord, other: CaseRecord | None) -> list[Known]:
    """Primary facts of the other reading that the record does not have."""
    return _beyond(primary_facts(other), primary_facts(record)) if other else []


def lost(record: CaseRecord, other: CaseRecord | None) -> list[Known]:
    """Primary facts of the record that the other reading does not have."""
    return _beyond(primary_facts(record), primary_facts(other)) if other else []


def spoiled(record: CaseRecord, other: CaseRecord | None) -> list[Known]:
    """Primary facts lost to another reading, but for those that it only tells more of.

    'Posterior horn on pop' gives a suture of the posterior horn, 'on top' the same one with its surface. A color alone
    is not worth it, unless another suture comes with it ('one wide and one blue': white).
    """
    gone, new = lost(record, other), gained(record, other)
    another = len(new) > len(gone)
    left: list[Known] = []
    for fact in gone:
        fuller = next((own for own in new if _tells_more(own, fact, another)), None)
        if fuller is None:
            left.append(fact)
        else:
            new.remove(fuller)
    return left


def answered(flag: Flag, other: CaseRecord | None) -> bool:
    """Whether the other reading does not raise a doubt about words that the record raises."""
    return other is not None and not any(f.check == flag.check and f.message == flag.message for f in other.flags)


def told(facts: Sequence[Known], limits: Limits) -> str:
    """Facts in words: 'the depth of the slot 10 mm and a suture'."""
    return listed(dict.fromkeys(_told(fact, limits) for fact in facts))


def consequence(record: CaseRecord, other: CaseRecord | None, limits: Limits) -> str:
    """What comes of another reading: 'the depth of the slot 10 mm would be read'."""
    new, gone = gained(record, other), lost(record, other)
    if new:
        return f"{told(new, limits)} would be read"
    return f"{told(gone, limits)} would not be read" if gone else ""


def _beyond(facts: Sequence[Known], others: Sequence[Known]) -> list[Known]:
    there = [other.model_copy(update=APART) for other in others]
    found: list[Known] = []
    for fact in facts:
        bare = fact.model_copy(update=APART)
        if bare in there:
            there.remove(bare)
        else:
            found.append(fact)
    return found


def _tells_more(fact: Known, than: Known, another: bool) -> bool:
    """Whether a suture says all of where another lies, and more of it, unless `another` fact is gained as well."""
    if not isinstance(fact, Suture) or not isinstance(than, Suture):
        return False
    same = all(getattr(than, name) in (None, getattr(fact, name)) for name in (*PLACE, "color"))
    return same and (another or any(getattr(than, name) != getattr(fact, name) for name in PLACE))


def _told(fact: Known, limits: Limits) -> str:
    if isinstance(fact, Measurement):
        return f"the {called(fact.what, limits)} {said(fact)}"
    if isinstance(fact, Tie):
        return f"a tie of {' to '.join(place.replace('-', ' ') for place in fact.between)}"
    return "the side" if isinstance(fact, Laterality) else "a suture"
