"""The ways out that a check names ('the graft 14 mm, or the defect 40 mm, would fit'), the likeliest first."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence

from extractor.checks.values import SAID_TOO
from extractor.checks.words import called
from extractor.grammar.limits import Limits
from extractor.record.facts import Measurement
from extractor.record.models import CaseRecord, Flag
from extractor.second_reading.prior import fact_prior, limit_of, value_prior
from extractor.second_reading.slots import value_of
from extractor.second_reading.solve import Answer
from extractor.second_reading.weighing import Prior

WAYS = re.compile(r"(?P<one>.+), or (?P<other>.+), would fit\.")
UNIT_MISSING = "unit-missing"
FIGURE = re.compile(r"\d+(?:\.\d+)?")
LEAST = 1e-6
SAID_AS_WELL = -1.0
"""Nats of a number said for the same thing right beside one that cannot be."""


def in_order(
    flag: Flag, record: CaseRecord, answers: Sequence[Answer], limits: Limits, prior: Prior
) -> tuple[float, str] | None:
    """The nats of the likeliest way out of a flag, and its suggestion with that way first; None where it names none."""
    if flag.check == UNIT_MISSING and flag.suggestion:
        fact = next((m for m in record.measurements if m.id in flag.facts), None)
        nats = fact_prior(fact, record, limits, prior) if fact else 0.0
        return max(nats, prior.impossible), flag.suggestion
    if SAID_TOO in (flag.suggestion or ""):  # it fits, and is of the same breath
        return SAID_AS_WELL - prior.impossible + prior.settles, flag.suggestion or ""
    match = WAYS.fullmatch(flag.suggestion or "")
    if match is None:
        return None
    told = [f"{way[:1].lower()}{way[1:]}" for way in match.groups()]
    by_way = {way: _nats(way, flag, record, answers, limits, prior) for way in told}
    first, other = sorted(told, key=lambda way: -by_way[way])
    return by_way[first], f"{first[:1].upper()}{first[1:]}, or {other}, would fit."


def _nats(way: str, flag: Flag, record: CaseRecord, answers: Sequence[Answer], limits: Limits, prior: Prior) -> float:
    """How likely a way is: as far as anybody listened for it, and as such a value is usual."""
    own = [m for m in record.measurements if m.id in flag.facts and way.startswith(f"the {called(m.what, limits)} ")]
    if not own:
        return prior.unheard
    fact = own[0]
    values = [float(figure) for figure in FIGURE.findall(way.removeprefix(f"the {called(fact.what, limits)} "))]
    gain = value_prior(values, limit_of(fact, record, limits), prior)
    kept = max(fact_prior(fact, record, limits, prior), prior.impossible)
    heard = max(_heard(fact, values, answers), default=prior.unheard)
    return max(gain, 2 * prior.impossible) - kept + max(heard, prior.unheard) + prior.settles


def _heard(fact: Measurement, values: Sequence[float], answers: Sequence[Answer]) -> Iterator[float]:
    for answer in answers:
        if fact.id in answer.doubt.slot.facts and answer.doubt.slot.number:
            for reading, share in zip(answer.doubt.readings[1:], answer.together[1:], strict=False):
                if value_of(reading) in values:
                    yield math.log(max(share, LEAST))
