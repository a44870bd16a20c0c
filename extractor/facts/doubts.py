"""Repairs of misheard words as the record lists them, and the flag where a fact rests on one that is not settled."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from extractor.facts.draft import FactDraft, FlagDraft, RepairDraft, Span
from extractor.language.repair import Repair

PRIMARY = frozenset({"laterality", "measurements", "sutures", "ties"})
RULE = "term repair"


def repair_drafts(repairs: Iterable[Repair]) -> tuple[RepairDraft, ...]:
    """What the record lists of the repairs of a note."""
    return tuple(RepairDraft(r.heard, r.read_as, r.why, (Span(r.start, r.end, RULE),)) for r in repairs)


def doubtful_terms(
    drafts: tuple[FactDraft, ...], repairs: Iterable[Repair]
) -> tuple[tuple[FactDraft, ...], tuple[FlagDraft, ...]]:
    """Flag the repairs in doubt that a primary fact rests on.

    Returns:
        The drafts, those concerned with a key by which the flags point at them, and the flags.
    """
    keyed = list(drafts)
    flags: list[FlagDraft] = []
    for r in repairs:
        if r.settled:
            continue
        keys: list[str] = []
        for i, draft in enumerate(keyed):
            if draft.kind in PRIMARY and any(span.start < r.end and r.start < span.end for span in draft.spans):
                keyed[i] = replace(draft, key=draft.key or f"{RULE} {i}")
                keys.append(keyed[i].key)
        if keys:
            message = f"'{r.heard}' was heard and is read as '{r.read_as}'; nothing beside it settles that"
            where = (Span(r.start, r.end, RULE),)
            flags.append(FlagDraft("term-uncertain", message, where, tuple(keys), f"confirm '{r.read_as}'"))
    return tuple(keyed), tuple(flags)
