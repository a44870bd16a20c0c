"""What a note is about, and so which packs may read it: a novel or a hip operation has no knee facts.

The words that decide stand in the lists `about`, `elsewhere`, `other-work`, `operative` and
`not-operative`; a pack for another joint adds its words to `about` and is weighed like the others.
"""

from __future__ import annotations

from dataclasses import dataclass

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.grammar.packs import COMMON

OPERATED = frozenset({"steps", "procedures", "devices", "sutures", "ties", "measurements", "plan", "claims", "grafts"})
"""Facts only an operation has; a scan or a visit keeps its side, findings and elements."""
VISIT = 3
"""Fewer words of a visit or a scan than this make no visit."""
ANY_OPERATION = frozenset({
    "tourniquet.time", "tourniquet.pressure", "blood_loss.volume", "fluid.volume", "incision.length", "knee.extension",
    "knee.flexion", "knee.hyperextension",
})  # fmt: skip
"""What is measured in open and replacement surgery as well; a guide or a correction is another thing there."""
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
    arthroscopic = len([c for c in case.by_list["operative"] if case.words[c.start].startswith("arthroscop")])
    packs = about and count["other-work"] <= max(1, 2 * arthroscopic)
    operation = count["operative"] >= count["not-operative"] or count["not-operative"] < VISIT
    return Scope(about, packs, operation)


def kept(scope: Scope, drafts: list[FactDraft]) -> list[FactDraft]:
    """The facts that a note of this scope may hold."""
    if not scope.packs:
        drafts = [d for d in drafts if d.kind != "measurements" or d.fields["what"] in ANY_OPERATION]
    if scope.operation:
        return drafts
    return [d for d in drafts if d.kind not in OPERATED or d.fields.get("status") in PRIOR]
