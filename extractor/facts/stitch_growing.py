"""Stitches counted up: 'one stitch, then a second one, a third', 'three, then one more there, so four in all'."""

from __future__ import annotations

from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.facts.stitch_groups import Group
from extractor.facts.stitch_heads import COUNTED_UP

WAYS = ("technique", "configuration", "usp_size")
FURTHER = frozenset({"more", "ordinal"})
BESIDE = (["next", "to", "it"], ["beside", "it"], ["next", "to", "that"], ["alongside"], ["right", "there"])
BESIDE_IT = 8
"""Tokens from 'another' to where it lies, at most: 'another all-inside stitch right next to it'."""
TOLD = frozenset({"count", "technique", "form", "usp_size"})
"""What may be said again of one more of the same."""


def go_on(before: Sequence[Group], groups: Sequence[Group]) -> None:
    """'Inside-out, three stitches in the posterior horn. Two in the body.': the next ones elsewhere, in the same way.

    Told at once behind stitches of one technique, with a number and a part of their own, and no part of theirs.
    """
    last = [g for g in before if not g.dropped and not g.announced]
    ways = {g.fields.get("technique") for g in last}
    regions = {g.fields.get("region") for g in last}
    if len(ways) != 1 or ways == {None} or None in regions:
        return
    for group in groups:
        own = group.head is not None and group.head.way == "counted" and group.count and group.whole is None
        apart = group.fields.get("region") not in {None, *regions}
        if own and apart and not group.dropped and "technique" not in group.fields and not {"role"} & set(group.fields):
            group.take(last[-1], WAYS)
            group.announced = False


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
