"""Repairs of misheard words as the record lists them, and the flag where a fact rests on one that is not settled."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable
from dataclasses import replace

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft, FlagDraft, RepairDraft, Span
from extractor.language.repair import Repair

PRIMARY = frozenset({"laterality", "measurements", "sutures", "ties"})
PLACED_BY = ("region", "structure")
RULE = "term repair"
NUMBER = "a number said in two ways"


def doubtful_numbers(case: Case, drafts: Iterable[FactDraft]) -> tuple[list[FactDraft], list[FlagDraft]]:
    """Flag counts and sizes of stitches and devices that may be another; measurements have flags of their own."""
    keyed: list[FactDraft] = []
    flags: list[FlagDraft] = []
    starts = case.note.tokens.starts
    for i, draft in enumerate(drafts):
        where = (bisect_left(starts, s) for s in (draft.spans[0].start, draft.spans[0].end))
        rivals = [q for q in case.numbers(*where) if q.rivals]
        for q in rivals:
            draft = replace(draft, key=draft.key or f"{draft.kind} number {i}")
            said = case.note.tokens.said(q.start, q.end)
            others = " or ".join(f"{r:g}" for r in q.rivals)
            told = q.text or f"{q.value:g}"
            message = f"'{said}' says two numbers: {told} or {others}; which one is meant?"
            flags.append(FlagDraft("number-uncertain", message, case.spans([(q.start, q.end)], NUMBER), (draft.key,)))
        keyed.append(draft)
    return keyed, flags


def _says(draft: FactDraft, word: str) -> bool:
    """Whether what was found was placed by a word: the 'anterior' of the anterior horn."""
    return any(word in str(draft.fields.get(name)).replace("_", "-").split("-") for name in PLACED_BY)


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
            concerned = draft.kind in PRIMARY or (draft.kind == "findings" and _says(draft, r.read_as))
            if concerned and any(span.start < r.end and r.start < span.end for span in draft.spans):
                keyed[i] = replace(draft, key=draft.key or f"{RULE} {i}")
                keys.append(keyed[i].key)
        if keys:
            message = f"'{r.heard}' was heard and is read as '{r.read_as}'; nothing beside it settles that"
            where = (Span(r.start, r.end, RULE),)
            flags.append(FlagDraft("term-uncertain", message, where, tuple(keys), f"confirm '{r.read_as}'"))
    return tuple(keyed), tuple(flags)
