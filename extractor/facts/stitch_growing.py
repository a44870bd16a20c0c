"""Stitches counted up: 'one stitch, then a second one, a third', 'three, then one more there, so four in all'."""

from __future__ import annotations

from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.facts.stitch_groups import Group
from extractor.facts.stitch_heads import COUNTED_UP

FURTHER = frozenset({"more", "ordinal"})
BESIDE = (["next", "to", "it"], ["beside", "it"], ["next", "to", "that"], ["alongside"], ["right", "there"])
BESIDE_IT = 8
"""Tokens from 'another' to where it lies, at most: 'another all-inside stitch right next to it'."""
TOLD = frozenset({"count", "technique", "form", "usp_size"})
"""What may be said again of one more of the same."""


def grown(case: Case, before: Sequence[Group], groups: Sequence[Group]) -> list[Group]:
    """The groups of a sentence without those that only go on counting; the stitches they count up are made more.

    Nothing is told of these but that they are one more: a second stitch elsewhere, or laid otherwise, is another.
    """
    total = next((g for g in groups if g.head and g.head.total), None)
    rest = [g for g in groups if g is not total]
    last = before[-1] if before else None
    if total and last and rest and last.count and total.count and total.count != last.count and not last.parts:
        more = [g for g in rest if g.head and g.head.way == "more" and _adds(last, g)]
        if (
            len(more) == len(rest)
            and last.count + sum(g.count or 1 for g in more) == total.count
            and _adds(last, total)
        ):
            _raise(last, [*more, total], total.count)
            return []
    out: list[Group] = []
    for group in groups:
        base = out[-1] if out else last
        if base is not None and base.count and not base.parts and _is_next(case, base, group):
            _raise(base, [group], base.count + 1)
        else:
            out.append(group)
    return out


def _is_next(case: Case, base: Group, group: Group) -> bool:
    """Whether a group is only the next of those counted: 'a second one' behind one, 'a third' behind two."""
    head = group.head
    if head is None or head.way not in FURTHER or group.count not in (None, 1) or not _adds(base, group):
        return False
    if case.words[head.start] == "another":
        behind = case.words[head.end : head.end + BESIDE_IT]
        return any(behind[i : i + len(s)] == s for s in BESIDE for i in range(len(behind)))
    sewn = "technique" in base.fields or {"configuration", "count"} <= set(base.fields)
    if not sewn or not case.words[head.start - 1 : head.start] == ["a"]:
        return False
    word = case.words[head.start]
    return word in COUNTED_UP and COUNTED_UP.index(word) == base.count


def _adds(base: Group, group: Group) -> bool:
    """Whether nothing is told of stitches that is not told of those they are added to."""
    return all(base.fields.get(k) == v for k, v in group.fields.items() if k not in TOLD)


def _raise(base: Group, further: Sequence[Group], count: int) -> None:
    base.fields["count"] = count
    base.pieces += [piece for g in further for piece in g.pieces[:1]]
