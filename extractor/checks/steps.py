"""Steps: told in an order in which they can be done, and none of the usual ones left out."""

from __future__ import annotations

import re
from collections.abc import Iterator

from extractor.checks.case import Case, Doubt
from extractor.checks.words import first_up, listed
from extractor.grammar.limits import StepOrder
from extractor.record.facts import Procedure, Step


def step_order(case: Case) -> Iterator[Doubt]:
    """A step told, each time, before anything is told of what it needs; one doubt a step."""
    first: dict[str, Step] = {}
    last: dict[str, Step] = {}
    for step in case.steps():
        first.setdefault(step.code, step)
        last[step.code] = step
    procedures = case.procedures()
    early: dict[str, list[StepOrder]] = {}
    for pair in case.limits.orders.values():
        needed, step_after = first.get(pair.before), last.get(pair.after)
        if needed and step_after and step_after.order < needed.order and _applies(pair, procedures):
            others = (first[code] for code in pair.or_after if code in first)
            if _one_more(needed, pair) or any(other.order < step_after.order for other in others):
                continue
            early.setdefault(pair.after, []).append(pair)
    for code in sorted(early, key=lambda c: first[c].order):
        pairs = sorted(early[code], key=lambda p: first[p.before].order)
        told = listed(_plain(p.before) for p in pairs)
        reasons = "; ".join(dict.fromkeys(p.why for p in pairs))
        yield Doubt(
            f"{first_up(_plain(code))} is told before {told}, which it needs: {reasons}.",
            (first[code], *(first[p.before] for p in pairs)),
            suggestion="Check the order, or whether it was done twice.",
        )


def step_missing(case: Case) -> Iterator[Doubt]:
    """An expected step of a procedure is never told."""
    told = {step.code for step in case.steps()}
    for procedure in case.procedures():
        for expected in case.limits.expected.values():
            if expected.procedure != procedure.code or expected.extent not in (None, procedure.extent):
                continue
            missing = [code for code in expected.steps if code not in told]
            if missing:
                verb = "is" if len(missing) == 1 else "are"
                yield Doubt(
                    f"Of the {_plain(procedure.code)}, {listed(map(_plain, missing))} {verb} not told.", (procedure,)
                )


def _applies(pair: StepOrder, procedures: list[Procedure]) -> bool:
    return pair.procedure is None or any(
        p.code == pair.procedure and (pair.extent is None or p.extent in (None, pair.extent)) for p in procedures
    )


def _one_more(step: Step, pair: StepOrder) -> bool:
    """Whether a step told late is one more of its kind: 'then a posteromedial portal'."""
    told = " ".join(e.text.lower() for e in step.evidence)
    return any(re.search(rf"\b{re.escape(word)}\b", told) for word in pair.further)


def _plain(code: str) -> str:
    return code.replace("-", " ")
