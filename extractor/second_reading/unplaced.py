"""Measurements of one thing of which there are several, and the word that tells which was not heard.

'Tibia, guide at 50 degrees, tunnel drilled 9 mm' came out as 'to mirror, guide at 50 degrees': the number is sure, and
the tunnel is nobody's, where another of the case is said to be the femoral one. Who says of one which, says it of all.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from extractor.checks.words import called, listed, said
from extractor.grammar.limits import Limits
from extractor.record.facts import Measurement
from extractor.record.models import CaseRecord, Flag
from extractor.record.vocabulary import CHECK_SEVERITY
from extractor.second_reading.suggest import ORIGIN, RULE, TERM


def unplaced_flags(record: CaseRecord, limits: Limits) -> Iterator[Flag]:
    """One flag for the measurements of a thing without a place, where others of its kind have one.

    Args:
        record: the case as recognized, with the flags there are.
        limits: what measurements are called.
    """
    asked = {name for flag in record.flags if flag.severity != "note" for name in flag.facts}
    kinds: dict[str, list[Measurement]] = {}
    for fact in record.measurements:
        if fact.role != "reference":
            kinds.setdefault(fact.what.partition(".")[0], []).append(fact)
    for facts in kinds.values():
        own = [fact for fact in facts if fact.site is None and fact.id not in asked]
        places = list(dict.fromkeys(fact.site for fact in facts if fact.site is not None))
        if own and places:
            yield _flag(own, places, limits)


def _flag(facts: Sequence[Measurement], places: Sequence[str], limits: Limits) -> Flag:
    told = listed([f"the {called(fact.what, limits)} {said(fact)}" for fact in facts])
    has = "has" if len(facts) == 1 else "have"
    return Flag(
        id=f"{TERM}:{RULE.replace(' ', '-')}:place:{facts[0].id}",
        check=TERM,
        severity=CHECK_SEVERITY[TERM],
        message=f"{told[:1].upper()}{told[1:]} {has} no place, where others of this case are {listed(places)}: "
        "the word for it may have been misheard.",
        facts=tuple(fact.id for fact in facts),
        evidence=tuple(e for fact in facts for e in fact.evidence[:1]),
        suggestion="Listen to the sentence again.",
        origin=ORIGIN,
    )
