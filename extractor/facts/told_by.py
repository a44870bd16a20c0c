"""Who tells a number: somebody who is not operating, of what was written, booked, feared, wished or claimed.

'The scheduler had typed in a tunnel of nine', 'her coach swore to twenty millimeters', 'I warned him of a rim of two'.
Which verbs measure nothing stands in the list `telling`; those that a gauge may have as well in `telling-too`, which
count where a `teller` is their subject.
"""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.language.clause_words import FINITE
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

LEADING = frozenset("and but so well now then also though although while because since even as".split())
"""Words before the subject of a clause."""
OURS = frozenset({"i", "we"})
NO_TELLER = frozenset("it this that there which what these those here you nobody none neither no".split())
"""Subjects that stand for something else, or for nobody."""
TURNS = frozenset({"but", "yet", "still", "so"})
"""What opens so is told for itself, whoever expected what before: 'nobody expected it | but there was ...'."""
MEASURES = frozenset({"thing", "structure", "device", "tissue", "finding", "dimension", "region", "surface", "tool"})
"""Lists of what is looked at or measures: as a subject these tell of today."""
SUBJECT = 7
"""Tokens of a subject at most."""
CHARTED = frozenset({"time", "volume", "pressure"})
"""What the people in the room write down as it happens."""
PASSIVE = frozenset({"was", "were", "been", "is", "are"})
PARTICIPLES = frozenset(
    "feared promised predicted claimed quoted booked guessed estimated wanted demanded imagined".split()
)
"""Verbs of telling that a size 'was' as well: 'a rim of three was predicted'."""
TELLING = ("telling", "telling-too")
BACK = ("now", "own-view", "this-case")
FOREWARNED = frozenset({"warned", "warns", "prepared", "promised", "quoted", "feared"})
"""What one who operates does with a size that is none yet: 'I warned him of a rim of two'."""


def told_by_others(case: Case, token: int, clauses: list[Span]) -> bool:
    """Whether a number stands behind a verb of telling, in one of these clauses, that measures nothing.

    Args:
        case: the note.
        token: where the number opens.
        clauses: its clause, and the few words before it on which it may hang.
    """
    q = case.number_over(token)
    if _told_behind(case, q, clauses[-1]):
        return True
    hangs = clauses if case.words[clauses[-1].start] not in TURNS else clauses[-1:]
    for clause in hangs:
        if clause.lists.isdisjoint(TELLING):
            continue
        cues = [c for name in TELLING for c in case.within(name, clause.start, clause.end)]
        for cue in sorted((c for c in cues if c.end <= token), key=lambda c: (c.start, -c.end)):
            if _comes_back(case, cue, token):
                continue
            charted = q is not None and q.dimension in CHARTED and not _is_away(case, clause, cue)
            if (not charted or _forewarns(case, cue)) and _tells(case, clause, cue):
                return True
    return False


def _told_behind(case: Case, q: Quantity | None, clause: Span) -> bool:
    """'A rim of three was what I had feared', 'a rim of three had been promised': told behind the size."""
    if q is None:
        return False
    for cue in case.within("telling", q.end, clause.end):
        said = case.words[q.end : cue.start]
        verb = next((i for i, word in enumerate(said) if word in FINITE), len(said))
        behind = said[verb + 1 :]  # of what the size is of, and its verb
        passive = verb < len(said) and PASSIVE.issuperset(behind) and said[-1] in PASSIVE
        passive = passive and not PARTICIPLES.isdisjoint(case.words[cue.start : cue.end])
        if passive or (said[verb : verb + 1] and said[verb] in PASSIVE and behind[:1] == ["what"]):
            return not any(case.within(name, q.end, clause.end) for name in BACK)
    return False


def _forewarns(case: Case, cue: Concept) -> bool:
    return not FOREWARNED.isdisjoint(case.words[cue.start : cue.end])


def _tells(case: Case, clause: Span, cue: Concept) -> bool:
    """Whether the subject of a verb of telling is one that measures nothing here."""
    start = clause.start
    while start < cue.start and case.words[start] in LEADING:
        start += 1
    said = case.words[start : cue.start]
    if not 0 < len(said) <= SUBJECT or not NO_TELLER.isdisjoint(said[:1]):
        return False
    if cue.list == "telling-too":
        return _is_away(case, clause, cue)
    if not OURS.isdisjoint(said[:1]):
        return _forewarns(case, cue)
    return not any(c.list in MEASURES and c.end <= cue.start for c in case.in_clause[clause.number])


def _is_away(case: Case, clause: Span, cue: Concept) -> bool:
    return bool(case.within("teller", clause.start, cue.start)) and OURS.isdisjoint(
        case.words[clause.start : cue.start]
    )


def _comes_back(case: Case, cue: Concept, token: int) -> bool:
    """Whether between a verb and a number the talk is of this case again, or of what we did."""
    ours = not OURS.isdisjoint(case.words[cue.end : token])
    return ours or any(case.within(name, cue.end, token) for name in BACK)
