"""Facts in plain words."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from extractor.checks.words import called, number, said, with_unit
from extractor.grammar.limits import Limits
from extractor.record.facts import (
    Claim,
    Device,
    Element,
    Finding,
    Graft,
    Known,
    Laterality,
    Measurement,
    PlanItem,
    Procedure,
    Step,
    Suture,
    Tie,
)
from extractor.record.models import CaseRecord

STATE_WORDS = {
    "unreviewed": ("○", "not yet read"),
    "accepted": ("✓", "accepted"),
    "edited": ("✎", "changed"),
    "rejected": ("✕", "rejected"),
    "added": ("+", "added by hand"),
}
CASE_WORDS = {
    "recording": "being dictated", "waiting": "being recognized", "failed": "could not be recognized", "new": "new",
    "in-review": "in review", "signed": "signed", "amending": "open for amendment", "amended": "signed, amended",
}  # fmt: skip
SHORT = {"acl": "ACL", "pcl": "PCL", "mcl": "MCL", "lcl": "LCL", "icrs": "ICRS"}


def plain(code: str | None) -> str:
    """A code as words: 'rim-abrasion' as 'rim abrasion'."""
    if not code:
        return ""
    words = code.replace("-", " ").replace("_", " ").split()
    return " ".join(SHORT.get(word, word) for word in words)


NAMES: dict[type[Known], Callable[[Any, Limits], str]] = {
    Laterality: lambda fact, limits: "side",
    Procedure: lambda fact, limits: "procedure",
    Measurement: lambda fact, limits: called(fact.what, limits, fact.site),
    Suture: lambda fact, limits: _place(fact),
    Tie: lambda fact, limits: "tie",
    Step: lambda fact, limits: plain(fact.code),
    Finding: lambda fact, limits: plain(fact.structure) or "finding",
    Device: lambda fact, limits: plain(fact.kind),
    Graft: lambda fact, limits: "graft",
    PlanItem: lambda fact, limits: plain(fact.item),
    Claim: lambda fact, limits: f"{plain(fact.what)} announced",
    Element: lambda fact, limits: plain(fact.id),
}


def name_of(fact: Known, limits: Limits) -> str:
    """What a fact is about."""
    return NAMES[type(fact)](fact, limits)


def value_of(fact: Known) -> str:
    """What a fact says."""
    return VALUES[type(fact)](fact)


def _place(fact: Suture) -> str:
    where = " ".join(plain(w) for w in (fact.region, fact.surface) if w)
    return ", ".join(w for w in (where, plain(fact.tissue)) if w) or "suture"


def procedure_words(fact: Procedure) -> str:
    """'segmental lateral meniscus transplant'."""
    words = " ".join(plain(w) for w in (fact.extent, fact.compartment, fact.code) if w)
    return words if fact.status == "performed" else f"{words} ({'earlier' if fact.status == 'prior' else 'planned'})"


def suture_words(fact: Suture) -> str:
    """'two white tapes, vertical mattress, inside-out'."""
    look = " ".join(w for w in (plain(fact.color), plain(fact.pattern), fact.form or "") if w)
    how = [plain(w) for w in (fact.configuration, fact.technique) if w]
    size = [f"size {fact.usp_size}"] if fact.usp_size else []
    count = [f"{fact.count} stitches"] if fact.count else []
    role = [plain(fact.role)] if fact.role else []
    return ", ".join([*([look] if look else []), *count, *how, *size, *role]) or "suture"


def _step(fact: Step) -> str:
    words = {"performed": "done", "planned": "planned", "conditional": "only if needed", "declined": "not done"}
    more = [w for w in (fact.detail, plain(fact.site), f"{fact.count} times" if fact.count else "") if w]
    return ", ".join([words[fact.status], *more])


def _finding(fact: Finding) -> str:
    grade = f"grade {fact.grade.value} {plain(fact.grade.system)}".strip() if fact.grade else ""
    words = [plain(w) for w in (fact.pattern, fact.finding) if w]
    text = " ".join(words) + "".join(f", {w}" for w in (plain(fact.region), grade) if w)
    return f"no {text}" if fact.status == "absent" else text


def _device(fact: Device) -> str:
    size = with_unit(number(fact.size), fact.unit) if fact.size is not None else ""
    length = with_unit(number(fact.length), fact.unit) + " long" if fact.length is not None else ""
    count = f"{fact.count} of them" if fact.count else ""
    number_said = f"identifier {fact.identifier}" if fact.identifier else ""
    return ", ".join(w for w in (size, length, count, plain(fact.site), number_said) if w) or "used"


def _graft(fact: Graft) -> str:
    expiry = f"expires {fact.expiry}" if fact.expiry else ""
    tag = f"identifier {fact.identifier}" if fact.identifier else ""
    side = f"of a {fact.side} knee" if fact.side else ""
    return ", ".join(w for w in (plain(fact.tissue), plain(fact.source), side, tag, expiry) if w) or "graft"


def _plan(fact: PlanItem) -> str:
    if isinstance(fact.value, str):
        return plain(fact.value)
    return said(Measurement(id="x", what=fact.item, value=fact.value, low=fact.low, high=fact.high, unit=fact.unit,
                            evidence=fact.evidence))  # fmt: skip


VALUES: dict[type[Known], Callable[[Any], str]] = {
    Laterality: lambda fact: str(fact.value),
    Procedure: procedure_words,
    Measurement: said,
    Suture: suture_words,
    Tie: lambda fact: (
        f"{plain(fact.between[0])} to {plain(fact.between[1])}" + (f" over {fact.over}" * bool(fact.over))
    ),
    Step: _step,
    Finding: _finding,
    Device: _device,
    Graft: _graft,
    PlanItem: _plan,
    Claim: lambda fact: f"{fact.count} {plain(fact.tissue)}".strip(),
    Element: lambda fact: str(fact.text),
}


def before_words(record: CaseRecord, fact: Known) -> str | None:
    """What a fact said before a person or an addendum changed it, where that differs."""
    review = record.review.get(fact.id)
    if not review or not review.before:
        return None
    old: dict[str, Any] = {**review.before, "id": fact.id, "certainty": fact.certainty, "evidence": fact.evidence}
    words = value_of(type(fact).model_validate(old))
    return words if words != value_of(fact) else None
