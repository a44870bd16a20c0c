"""Stitches told without their technique take the one that the repair is called by: 'Outside-in repair of a tear'."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.stitch_bare import ONLY_COUNTED

REPAIR = "cue:repair-word"
CERTAINTY = 0.85
NOT_OF_A_REPAIR = ("color", "role", "surface", "tissue")
"""What sutures of a graft or a root are told by."""
LAID = frozenset({"count", "configuration"})


def titled(case: Case, stitches: Sequence[FactDraft]) -> list[FactDraft]:
    """The stitches, with the technique of the repair where no stitch has one of its own and the note names one only."""
    stitches = _in_force(case, stitches)
    told = [d for d in stitches if d.kind == "sutures"]
    if any("technique" in d.fields for d in told) or not any(_of_a_repair(d) for d in told):
        return list(stitches)
    named = [
        c
        for c in case.by_list["technique"]
        if REPAIR in case.clause_keys[case.clause(c.start).number] and case.assertion(c.start).done
    ]
    if len({c.name for c in named}) != 1:
        return list(stitches)
    technique, spans = named[0].name, case.spans([(named[0].start, named[0].end)], "<technique> repair")
    return [
        replace(d, fields={**d.fields, "technique": technique}, spans=(*d.spans, *spans), certainty=CERTAINTY)
        if _of_a_repair(d)
        else d
        for d in stitches
    ]


def _in_force(case: Case, stitches: Sequence[FactDraft]) -> list[FactDraft]:
    """'Four stitches.' and no more: of the one technique that the note tells of, before or behind; else left out."""
    ways = [c for c in case.by_list["technique"] if case.assertion(c.start).done]
    told = [d for d in stitches if d.kind != ONLY_COUNTED]
    if len({c.name for c in ways}) != 1:
        return told
    spans = case.spans([(ways[0].start, ways[0].end)], "the <technique> in force")
    return told + [
        FactDraft("sutures", {**d.fields, "technique": ways[0].name}, (*d.spans, *spans), CERTAINTY)
        for d in stitches
        if d.kind == ONLY_COUNTED
    ]


def _of_a_repair(draft: FactDraft) -> bool:
    return draft.kind == "sutures" and set(draft.fields) >= LAID and not any(k in draft.fields for k in NOT_OF_A_REPAIR)
