"""The jointly most likely reading of all doubtful slots: what the sound says, and what the case's checks say to it.

Combinations of readings are read anew through the whole program and weighed; nothing is drawn at random. Slots whose
readings change no check are independent of the others and are weighed alone, which gives the same numbers. So are those
that share no check with the others: only readings to which the same check speaks are combined.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from extractor.record.facts import Known
from extractor.record.models import CaseRecord
from extractor.second_reading.slots import UNREAD, Slot, primary_facts

MOST = 24
"""Combinations of one case at most; where there are more, the least likely readings are not combined with others."""
LOST = "fact-lost"
SAME = 1e-9


@dataclass(frozen=True)
class Doubt:
    """A slot, its readings as words (as heard first) and their nats; the last of the nats is that of something else."""

    slot: Slot
    readings: tuple[str, ...]
    nats: tuple[float, ...]


@dataclass(frozen=True)
class Answer:
    """What came of a doubt.

    Attributes:
        doubt: the slot and its readings.
        alone: probability of each reading by its sound alone, the last that of something else.
        together: the same with the case's checks.
        settled: ids of flags to be settled that the best other reading does not raise.
        record: the case as read with that other reading in place, all else as heard.
        best_rival: index of the likeliest reading that gives other facts; 0 where there is none.
        doubtful: probability of the readings that give other facts, something else included.
    """

    doubt: Doubt
    alone: tuple[float, ...]
    together: tuple[float, ...]
    settled: tuple[str, ...]
    record: CaseRecord | None
    best_rival: int
    doubtful: float


Read = Callable[[Mapping[Slot, str]], CaseRecord]


def solve(
    doubts: Sequence[Doubt],
    base: CaseRecord,
    read: Read,
    against: Mapping[str, float],
    likely: Callable[[CaseRecord, Slot], float] = lambda record, slot: 0.0,
) -> list[Answer]:
    """Weigh all readings of all slots together.

    Args:
        doubts: the doubtful slots.
        base: the case as heard.
        read: reads the case with other words in some slots.
        against: nats against a reading, by the check it raises.
        likely: nats of what a reading makes of a slot before anything is heard; they only choose what is proposed.
    """
    kept: dict[tuple[tuple[Slot, str], ...], CaseRecord] = {(): base}

    def case(changes: tuple[tuple[Slot, str], ...]) -> CaseRecord:
        if changes not in kept:
            kept[changes] = read(dict(changes))
        return kept[changes]

    def cost(record: CaseRecord) -> float:
        return cost_of(record, base, against)

    own = costs_of(base, base, against)
    singles: dict[tuple[int, int], float] = {}
    shared: dict[int, set[str]] = {}
    for d, doubt in enumerate(doubts):
        for r in range(1, len(doubt.readings)):
            costs = costs_of(case(((doubt.slot, doubt.readings[r]),)), base, against)
            changes = {key: costs.get(key, 0.0) - own.get(key, 0.0) for key in own | costs}
            singles[d, r] = sum(changes.values())
            shared.setdefault(d, set()).update(key for key, change in changes.items() if abs(change) > SAME)
    groups = _groups({d: keys for d, keys in shared.items() if keys})
    domains = _domains(doubts, groups)
    joint: dict[int, tuple[float, ...]] = {}
    for group in groups:
        joint |= _joint(doubts, group, domains, singles, lambda changes: cost(case(changes)) - sum(own.values()))
    answers: list[Answer] = []
    for d, doubt in enumerate(doubts):
        together = joint.get(d) or _shares(doubt.nats)
        cases = {r: case(((doubt.slot, doubt.readings[r]),)) for r in range(1, len(doubt.readings))}
        other = [r for r, record in cases.items() if _facts(record) != _facts(base)]
        nats = {r: likely(cases[r], doubt.slot) for r in other}
        best = max((r for r in other if nats[r] > -math.inf), key=lambda r: together[r] * math.exp(nats[r]), default=0)
        record = cases.get(best)
        doubtful = together[-1] + sum(together[r] for r in other)
        answers.append(Answer(doubt, _shares(doubt.nats), together, _settled(base, record), record, best, doubtful))
    return answers


def cost_of(record: CaseRecord, base: CaseRecord, against: Mapping[str, float]) -> float:
    """Nats against a reading of the case: by the checks it raises, and the primary facts it has less than `base`."""
    return sum(costs_of(record, base, against).values())


def costs_of(record: CaseRecord, base: CaseRecord, against: Mapping[str, float]) -> dict[str, float]:
    """The same by check; the facts that are lost count as one."""
    lost = max(0, len(primary_facts(base)) - len(primary_facts(record)))
    costs = {LOST: lost * against.get(LOST, 0.0)}
    for flag in record.flags:
        costs[flag.check] = costs.get(flag.check, 0.0) + against.get(flag.check, 0.0)
    return costs


def _groups(shared: Mapping[int, set[str]]) -> list[list[int]]:
    """Slots that hang together by the checks that speak to them, directly or by way of others."""
    groups: list[tuple[list[int], set[str]]] = []
    for d, keys in shared.items():
        apart = [group for group in groups if not group[1] & keys]
        joined = [group for group in groups if group[1] & keys]
        members = sorted([d, *(own for slots, _ in joined for own in slots)])
        groups = [*apart, (members, keys.union(*(own for _, own in joined)))]
    return sorted(slots for slots, _ in groups)


def _joint(
    doubts: Sequence[Doubt],
    bound: Sequence[int],
    domains: Mapping[int, Sequence[int]],
    singles: Mapping[tuple[int, int], float],
    cost: Callable[[tuple[tuple[Slot, str], ...]], float],
) -> dict[int, tuple[float, ...]]:
    """Marginals of the slots that share checks: exact for the readings that are combined.

    Any other is weighed with what was heard, by its own checks alone. So is something else, of which no checks are
    known; that is exact.
    """
    apart = {
        d: [
            math.exp(n - singles.get((d, r), 0.0)) * (not r or r not in domains[d])
            for r, n in enumerate(doubts[d].nats)
        ]
        for d in bound
    }
    weights: dict[tuple[int, ...], float] = {}
    for choice in itertools.product(*(domains[d] for d in bound)):
        pairs = list(zip(bound, choice, strict=True))
        changes = tuple((doubts[d].slot, doubts[d].readings[r]) for d, r in pairs if r)
        sound = sum(doubts[d].nats[r] if r else math.log(sum(apart[d])) for d, r in pairs)
        weights[choice] = sound - cost(changes)
    most = max(weights.values(), default=0.0)
    marginals: dict[int, tuple[float, ...]] = {}
    for place, d in enumerate(bound):
        shares = dict.fromkeys(domains[d], 0.0)
        for choice, weight in weights.items():
            shares[choice[place]] += math.exp(weight - most)
        whole, heard = sum(shares.values()), shares[0] / sum(apart[d])
        marginals[d] = tuple(
            (shares[r] if r and r in shares else heard * apart[d][r]) / whole for r in range(len(apart[d]))
        )
    return marginals


def _domains(doubts: Sequence[Doubt], groups: Sequence[Sequence[int]]) -> dict[int, list[int]]:
    """Readings to combine, by slot; what was heard is always one of them."""
    domains = {d: list(range(len(doubts[d].readings))) for group in groups for d in group}
    several = [group for group in groups if len(group) > 1]  # of one alone every reading was read already
    while sum(math.prod(len(domains[d]) for d in group) for group in several) > MOST:
        choices = [(doubts[d].nats[r], d, r) for group in several for d in group for r in domains[d][1:]]
        if not choices:
            break
        _, d, r = min(choices)
        domains[d].remove(r)
    return domains


def _facts(record: CaseRecord) -> list[Known | str]:
    """What the primary facts say, wherever they say it. A number that no rule reads counts as well."""
    apart = {"evidence": (), "certainty": 1.0, "others": (), "earlier_values": ()}
    bare = [fact.model_copy(update=apart) for fact in primary_facts(record)]
    unread = [flag.message for flag in record.flags if flag.check == UNREAD]
    return [*bare, *unread]


def _shares(nats: Sequence[float]) -> tuple[float, ...]:
    most = max(nats)
    weights = [math.exp(n - most) for n in nats]
    return tuple(w / sum(weights) for w in weights)


def _settled(base: CaseRecord, other: CaseRecord | None) -> tuple[str, ...]:
    if other is None:
        return ()
    checks = [flag.check for flag in other.flags]
    return tuple(flag.id for flag in base.flags if flag.severity == "stop" and flag.check not in checks)
