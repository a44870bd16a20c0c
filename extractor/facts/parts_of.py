"""Sizes of a thing's parts, which are none of its own: 'The plugs of the graft, the back one eight wide'.

What has parts with sizes of their own, and which, stands in the list `sized-part`.
"""

from __future__ import annotations

from collections.abc import Iterable

from extractor.facts.case import Case
from extractor.language.clause_words import DETERMINERS
from extractor.language.concepts import Concept

OF = frozenset({"of", "on", "at", "from"})
OWNING = DETERMINERS | {"our", "donor", "both", "bone"}
FEW = 4
"""Tokens between a part and its owner, at most."""
ONES = frozenset({"one", "ones", "other"})
EACH = frozenset({"each", "both", "they"})
OPENS = 4
"""Tokens at the head of a sentence in which it points to one of several."""


def measured_by_parts(case: Case, start: int, things: Iterable[Concept]) -> frozenset[Concept]:
    """Those of the things whose parts are measured instead, in a sentence that opens at the token `start`."""
    parts = case.grammar.concepts_in("sized-part")
    one_of = _points_to_part(case, start, parts)
    return frozenset(c for c in things if (one_of and c.start < start and c.key not in parts) or _owns(case, c, parts))


def _owns(case: Case, c: Concept, part_keys: frozenset[str]) -> bool:
    """'The plug | of the graft': what stands behind a part of it."""
    before = next(case.backwards("thing", c.start, max(0, c.start - FEW)), None)
    if before is None or before.key not in part_keys:
        return False
    gap = case.words[before.end : c.start]
    return bool(gap) and gap[0] in OF and OWNING.issuperset(gap[1:])


def _points_to_part(case: Case, start: int, part_keys: frozenset[str]) -> bool:
    """'The graft came with two plugs. | The front one ...': whether a sentence points to a part named last."""
    words = case.words[start : start + OPENS]
    if not start or (ONES.isdisjoint(words) and EACH.isdisjoint(words[:1])):
        return False
    named = case.within("thing", case.sentence(start - 1).start, start)
    return any(c.key in part_keys and case.words[c.end - 1].endswith("s") for c in named)
