"""Left or right, medial or lateral: what is never said, and what is said both ways."""

from __future__ import annotations

from collections.abc import Iterator

from extractor.checks.case import Case, Doubt
from extractor.checks.words import listed
from extractor.record.facts import Evidence, Known, Procedure, Said

ON_A_MENISCUS = ("meniscus-", "partial-meniscectomy")
"""Codes of work on one meniscus."""


def side_missing(case: Case) -> Iterator[Doubt]:
    """The operated side is never said. A text with nothing operative in it is no case, and has no side."""
    record = case.record
    if record.laterality and case.live([record.laterality]):
        return
    if case.procedures() or case.steps() or case.measurements() or case.live(record.sutures):
        yield Doubt("The operated side is never said.", suggestion="Say or enter left or right.")


def side_conflict(case: Case) -> Iterator[Doubt]:
    """Both sides are said for the operated knee, or another than was scheduled, or a graft is of the other side."""
    laterality = case.record.laterality
    if not laterality or not case.live([laterality]):
        return
    side = laterality.value
    other = [p for p in case.procedures() if p.side and "bilateral" not in (side, p.side) and p.side != side]
    if laterality.others or other:
        sides = dict.fromkeys([*(said.value for said in laterality.others), *(p.side for p in other if p.side)])
        first = {s.value: s.evidence[0].text for s in laterality.others}
        told = listed(f"{name} ('{first[name]}')" if name in first else name for name in sides)
        yield Doubt(
            f"The operated side is said to be {side} ('{laterality.evidence[0].text}') and also {told}.",
            (laterality, *other),
            suggestion=f"Check which {laterality.of} was operated on.",
            evidence=_evidence(laterality.others),
        )
    scheduled = case.schedule.side
    if scheduled and scheduled != side:
        yield Doubt(
            f"The note says {side}, but the case was scheduled for {scheduled}.",
            (laterality,),
            suggestion=f"Check which {laterality.of} was operated on.",
        )
    for graft in case.live(case.record.grafts):
        if graft.source == "allograft" and graft.side and "bilateral" not in (side, graft.side) and graft.side != side:
            told = f"The {laterality.of} is the {side}, but the graft is said to be of a {graft.side} one."
            yield Doubt(told, (laterality, graft))


def compartment_conflict(case: Case) -> Iterator[Doubt]:
    """Medial and lateral are both said for one procedure, or it was done on the meniscus found intact."""
    for procedure in case.procedures():
        others = [said for said in procedure.compartment_others if said.value != procedure.compartment]
        if others:
            told = listed(dict.fromkeys(f"{s.value} ('{s.evidence[0].text}')" for s in others))
            yield Doubt(
                f"The {_plain(procedure)} is said to be {procedure.compartment} and also {told}.",
                (procedure,),
                suggestion="Check which compartment it was.",
                evidence=_evidence(tuple(others)),
            )
        elif found := _on_the_intact_one(case, procedure):
            yield Doubt(
                f"The {_plain(procedure)} is said to be {procedure.compartment}, but that meniscus was found intact "
                "and the other one was not.",
                (procedure, *found),
                suggestion="Check which compartment it was.",
            )
    yield from _announced_on_the_other(case)
    scheduled = case.schedule.compartment
    menisci = [p for p in case.procedures() if p.code.startswith("meniscus-") and p.compartment]
    if scheduled and menisci and all(p.compartment != scheduled for p in menisci):
        yield Doubt(
            f"The note says {menisci[0].compartment}, but the case was scheduled for {scheduled}.", tuple(menisci)
        )


def _on_the_intact_one(case: Case, procedure: Procedure) -> tuple[Known, ...]:
    """Findings that set a meniscal procedure on the wrong meniscus: its own is intact, the other is torn or missing."""
    mine = procedure.compartment
    if not procedure.code.startswith(ON_A_MENISCUS) or mine not in ("medial", "lateral"):
        return ()
    theirs = "lateral" if mine == "medial" else "medial"
    present = [f for f in case.live(case.record.findings) if f.status == "present"]
    own = [f for f in present if f.structure == f"{mine}-meniscus"]
    other = [f for f in present if f.structure == f"{theirs}-meniscus" and f.finding in ("tear", "deficiency")]
    if other and own and all(f.finding == "intact" for f in own):
        return (*own, *other)
    return ()


def _announced_on_the_other(case: Case) -> Iterator[Doubt]:
    """A meniscal procedure only announced, on a meniscus nothing is told of, and done on the other, which was torn."""
    begun = min((s.evidence[0].start for s in case.steps()), default=0)
    findings = [f for f in case.live(case.record.findings) if f.structure]
    on = [p for p in case.procedures() if p.code.startswith(ON_A_MENISCUS) and p.compartment in ("medial", "lateral")]
    for announced in on:
        if any(e.start >= begun for e in announced.evidence):
            continue
        if any(f.structure.startswith(f"{announced.compartment}-") for f in findings if f.structure):
            continue
        for done in on:
            told = [f for f in findings if f.structure == f"{done.compartment}-meniscus" and f.status == "present"]
            torn = [f for f in told if f.finding in ("tear", "deficiency")]
            if done.code == announced.code and done.compartment != announced.compartment and torn:
                if all(e.start >= begun for e in done.evidence):
                    yield Doubt(
                        f"The {_plain(announced)} is announced as {announced.compartment}, but only the "
                        f"{done.compartment} meniscus is told to be torn and worked on.",
                        (announced, done, *torn),
                        suggestion="Check which compartment it was.",
                    )


def _plain(procedure: Procedure) -> str:
    return procedure.code.replace("-", " ")


def _evidence(others: tuple[Said, ...]) -> tuple[Evidence, ...]:
    return tuple(evidence for said in others for evidence in said.evidence)
