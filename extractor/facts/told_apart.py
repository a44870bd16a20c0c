"""Things of one name that a case may have several of, told apart where their sizes differ.

'The guide at 55 for the first and 60 for the second', 'PCL first. Tibial tunnel ...': what tells which one is meant
stands in two lists named after the measurement ('tunnel-diameter-ones', said beside the size; 'tunnel-diameter-owner',
which holds until another is named). One size said twice stays one fact, whichever of them it is said of.
"""

from __future__ import annotations

from bisect import bisect_right
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.language.concepts import Concept

ONES, OWNER = "-ones", "-owner"
"""What the lists are called, behind the name of the measurement."""
SEVERAL = "several"
"""'Two tunnels, one of 2.4 and one of 2.8': each is one of them, as they are told."""
VALUES = ("value", "low", "high")


def told_apart(case: Case, drafts: Sequence[FactDraft]) -> list[FactDraft]:
    """All drafts; of several that differ in value each says which one of its kind it is of, where that was said."""
    alike: dict[tuple[object, object], list[int]] = defaultdict(list)
    for n, d in enumerate(drafts):
        thing = _listed(d)
        listed = case.by_list.get(thing + ONES) or case.by_list.get(thing + OWNER)
        if d.kind == "measurements" and d.fields.get("role") != "reference" and listed:
            alike[d.fields["what"], d.fields.get("site")].append(n)
    out = list(drafts)
    for group in alike.values():
        if len({tuple(out[n].fields.get(k) for k in VALUES) for n in group}) < 2:
            continue
        told = {out[n].fields.get("which") for n in group}
        for at, n in enumerate(group, 1):
            if len(told) > 1 and out[n].fields.get("which"):
                continue
            which = _which(case, out[n])
            if which or None not in told:
                which = f"{at}" if which == SEVERAL else which
                out[n] = replace(out[n], fields={**out[n].fields, "which": which})
    return out


def _which(case: Case, draft: FactDraft) -> str | None:
    """Which one a size is of: said in its clause, else last before it in its sentence or the one before."""
    thing = _listed(draft)
    at = bisect_right(case.note.tokens.starts, draft.spans[0].start) - 1
    clause, sentence = case.clause(at), case.sentence(at)
    before = case.note.segments.sentences[max(0, sentence.number - 1)]
    near = case.nearest(thing + ONES, at, clause.start, clause.end)
    near = near or next(case.backwards(thing + ONES, clause.start, before.start), None)
    near = near or case.nearest(thing + OWNER, at, clause.start, clause.end)
    near = near or next((c for c in case.backwards(thing + OWNER, clause.start, 0) if not _only_found(case, c)), None)
    return near.name if near else None


def _only_found(case: Case, c: Concept) -> bool:
    """'ACL intact': what was looked at owns no tunnel for that."""
    return any(other.list == "finding" for other in case.in_clause[case.clause(c.start).number])


def _listed(draft: FactDraft) -> str:
    return str(draft.fields.get("what")).replace(".", "-").replace("_", "-")
