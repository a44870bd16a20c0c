"""Stitches of the roots whose place is told in part: 'First suture in the posterior root, white. Second suture, blue'.

Or the roots are named for both ends: 'Graft roots stitched, posterior white tape, luggage tag, anterior blue tape'.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import replace

from extractor.facts.case import Case
from extractor.facts.draft import FactDraft
from extractor.language.clauses import Span

ROOT, ROOTS = "root", "roots"
PIECES, PIECE = 6, 9
"""Short sentences of a list that are looked back over, and their tokens, at most."""
ENDS = frozenset({"anterior", "posterior"})


def in_one_root(stitches: Sequence[FactDraft]) -> list[FactDraft]:
    """The stitches, those of a root that say no end of it put at the one end that the others say."""
    of_root = [d for d in stitches if d.fields.get("tissue") == ROOT]
    regions = {d.fields["region"] for d in of_root if d.fields.get("region")}
    if len(regions) != 1:
        return list(stitches)
    (region,) = regions
    unsaid = [d for d in of_root if not d.fields.get("region")]
    return [replace(d, fields={**d.fields, "region": region}) if d in unsaid else d for d in stitches]


def _heading(case: Case, sentence: Span) -> int:
    """Where the words open that a sentence hangs on: a heading, or the short pieces of a list before it."""
    opens = sentence.start
    for before in reversed(case.note.segments.sentences[max(0, sentence.number - PIECES) : sentence.number]):
        piece = before.end - before.start <= PIECE
        if not piece and case.words[before.end - 1] != ":":
            return opens
        opens = before.start
        if case.words[before.end - 1] == ":" or not {ROOT, ROOTS}.isdisjoint(case.words[opens : before.end]):
            return opens
    return sentence.start


def at_both_roots(case: Case, stitches: Sequence[FactDraft]) -> list[FactDraft]:
    """The stitches, those at an end put in its root where their sentence names the roots, and no surface of a rim."""
    starts = case.note.tokens.starts
    found: list[FactDraft] = []
    for draft in stitches:
        at = bisect_left(starts, max((s.start for s in draft.spans), default=0))
        sentence = case.sentence(min(at, len(starts) - 1))
        opens = _heading(case, sentence)
        said = case.words[opens : sentence.end]
        rooted = ROOTS in said or (ROOT in said and bool(draft.fields.get("configuration")))
        rooted = rooted and not any(c.name.endswith(f"_{ROOT}") for c in case.within("region", opens, sentence.end))
        faced = bool(case.within("surface", sentence.start, sentence.end))
        if rooted and not faced and draft.fields.get("region") in ENDS and not draft.fields.get("surface"):
            draft = replace(draft, fields={**draft.fields, "region": f"{draft.fields['region']}_{ROOT}"})
        found.append(draft)
    return found
