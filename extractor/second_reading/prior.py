"""How likely the values of a reading are before anything is heard, by the packs' limits.

It only ranks what may have been said, so that what nobody measures or rounds to is not proposed first.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from extractor.grammar.limits import IN_CASES, Limit, Limits
from extractor.record.facts import Measurement
from extractor.record.models import CaseRecord
from extractor.second_reading.slots import Slot
from extractor.second_reading.weighing import Prior

NEVER = -math.inf
CLOSE = 1e-6


def limit_of(fact: Measurement, record: CaseRecord, limits: Limits) -> Limit | None:
    """The limit of a measurement, that of a procedure of the case before the general one."""
    special = (limits.special.get(f"{fact.what}{IN_CASES}{p.code}") for p in record.procedures)
    return next((limit for limit in special if limit), limits.measurements.get(fact.what))


def value_prior(values: Sequence[float], limit: Limit | None, prior: Prior) -> float:
    """Nats of a value, or of the ends of a range, by its limit; `NEVER` for what cannot be."""
    return min((_nats(value, limit, prior) for value in values), default=0.0) if limit else 0.0


def _nats(value: float, limit: Limit, prior: Prior) -> float:
    if limit.possible and not limit.possible[0] <= value <= limit.possible[1]:
        return NEVER
    nats = 0.0
    if limit.usual and not limit.usual[0] <= value <= limit.usual[1]:
        nats -= prior.unusual
    if limit.typical and not limit.typical[0] <= value <= limit.typical[1]:
        nats -= prior.untypical
    steps = value / limit.round if limit.round else 0.0
    return nats - prior.odd * (abs(steps - round(steps)) > CLOSE)


def numbers_of(fact: Measurement) -> list[float]:
    """The number of a measurement, or the ends of its range."""
    return [n for n in (fact.value, fact.low, fact.high) if n is not None]


def fact_prior(fact: Measurement, record: CaseRecord, limits: Limits, prior: Prior) -> float:
    """Nats of a measurement; one without a unit is taken in the one that is due."""
    limit = limit_of(fact, record, limits)
    return value_prior(numbers_of(fact), limit, prior) if limit and fact.unit in (None, limit.unit) else 0.0


def resting_on(record: CaseRecord, slot: Slot) -> list[Measurement]:
    """Measurements of the case that rest on a slot. What stands before it is the same in every reading."""
    facts = (fact for fact in record.measurements if fact.role != "reference")
    return [fact for fact in facts if any(e.start <= slot.start < e.end for e in fact.evidence)]


def reading_prior(record: CaseRecord, slot: Slot, limits: Limits, prior: Prior) -> float:
    """Nats of what a reading makes of a number's slot; 0 for a word."""
    if not slot.number:
        return 0.0
    return sum(fact_prior(fact, record, limits, prior) for fact in resting_on(record, slot)[:1])
