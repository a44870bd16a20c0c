"""What a note is about, and so which packs may read it: a novel or a hip operation has no knee facts.

The words that decide stand in the lists `about`, `elsewhere`, `other-work`, `operative` and
`not-operative`; a pack for another joint adds its words to `about` and is weighed like the others.
"""

from __future__ import annotations

from dataclasses import dataclass

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.grammar.limits import limits_of
from extractor.grammar.packs import COMMON

OPERATED = frozenset({"steps", "procedures", "devices", "sutures", "ties", "measurements", "plan", "claims", "grafts"})
"""Facts only an operation has; a scan or a visit keeps its side, findings and elements."""
VISIT = 3
"""Fewer words of a visit or a scan than this make no visit."""
ARTHROSCOPIC = "arthroscopic"
"""Of the list `operative`: what other work does not say."""
PRIOR = frozenset({"prior", "planned"})


@dataclass(frozen=True)
class Scope:
    """What of a note is read: anything, the packs' own facts, facts of an operation."""

    about: bool
    packs: bool
    operation: bool

    def allows(self, pack: str) -> bool:
        """Whether a pack's rules are in force."""
        return self.about and (self.packs or pack == COMMON)


def scope_of(case: Case) -> Scope:
    """Weigh the words of a note."""
    count = {
        name: len(case.by_list[name]) for name in ("about", "elsewhere", "other-work", "operative", "not-operative")
    }
    about = count["about"] > 0 and count["about"] * 2 >= count["elsewhere"]
    arthroscopic = sum(c.name == ARTHROSCOPIC for c in case.by_list["operative"])
    packs = about and count["other-work"] <= max(1, 2 * arthroscopic)
    operation = count["operative"] >= count["not-operative"] or count["not-operative"] < VISIT
    return Scope(about, packs, operation)


def kept(case: Case, scope: Scope, drafts: list[FactDraft]) -> list[FactDraft]:
    """The facts that a note of this scope may hold; of measurements, those that `limits.toml` says are of any work."""
    if not scope.packs:
        known = limits_of(case.grammar.folders).measurements
        of_any = {what for what, limit in known.items() if limit.any_work}
        drafts = [d for d in drafts if d.kind != "measurements" or d.fields["what"] in of_any]
    if scope.operation:
        return drafts
    return [d for d in drafts if d.kind not in OPERATED or d.fields.get("status") in PRIOR]
