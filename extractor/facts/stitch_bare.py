"""Stitches of which no more than their number is told, where the note tells of no others."""

from __future__ import annotations

from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.facts.stitch_groups import Group, is_bare, of_root

ONLY_COUNTED = "only counted"
"""The kind of a draft that says no more of stitches than their number; `titled` makes sutures of it, or leaves it."""
INFERRED = 0.9


def only_numbers(case: Case, groups: Sequence[Group], kept: Sequence[Group], rule: str) -> list[FactDraft]:
    """Drafts of numbers that were announced and that nothing else tells of: of stitches, and of those of a root."""
    told = [g for g in groups if g.announced and not g.dropped and not g.parts]
    return [*_counted(case, told, kept, rule), *_rooted(case, told, kept, rule)]


def _counted(case: Case, told: Sequence[Group], kept: Sequence[Group], rule: str) -> list[FactDraft]:
    """'Four stitches.': the one number told of stitches of which nothing else is, where no others are told."""
    bare = [g for g in told if is_bare(g)]
    if len({g.count for g in bare}) != 1 or any(g.count for g in kept):
        return []
    return [FactDraft(ONLY_COUNTED, bare[0].fields, case.spans(bare[0].pieces, rule), INFERRED)]


def _rooted(case: Case, told: Sequence[Group], kept: Sequence[Group], rule: str) -> list[FactDraft]:
    """'Two sutures were passed through the root.': where no more is told of any, these are those of the root."""
    bare = [g for g in told if g.whole is None and g.fields.get("tissue") == "root" and (g.count or 0) > 1]
    if len(bare) != 1 or any(of_root(g) for g in kept):
        return []
    return [FactDraft("sutures", bare[0].fields, case.spans(bare[0].pieces, rule), INFERRED)]
