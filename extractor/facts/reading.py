"""Everything read from one note: its facts, its doubts, and which rule took which number."""

from __future__ import annotations

from dataclasses import dataclass, field

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft, FlagDraft
from extractor.facts.measuring import Claim
from extractor.facts.scope import Scope


@dataclass(frozen=True)
class Reading:
    """What was read, and how the numbers of the note were shared out.

    Attributes:
        case: the note with its indexes.
        scope: what of it is read.
        drafts: the facts.
        flags: the doubts.
        claims: the rule that took each number, also where that made no fact.
        taken: numbers (in the note's quantities) that are sizes of devices.
        theirs: numbers that no rule reads and that are told like another's (`others_sizes`).
    """

    case: Case = field(compare=False, repr=False)
    scope: Scope
    drafts: tuple[FactDraft, ...] = ()
    flags: tuple[FlagDraft, ...] = ()
    claims: tuple[Claim, ...] = ()
    taken: frozenset[int] = frozenset()
    theirs: frozenset[int] = frozenset()
