"""What is said once of several stitches: '..., all in vertical mattress', 'verticals for all: two here, two there'."""

from __future__ import annotations

from collections.abc import Sequence

from extractor.facts.case import Case
from extractor.facts.looks import Look
from extractor.facts.stitch_counts import Head
from extractor.facts.stitch_groups import PLACED, PLACES, Group
from extractor.facts.stitch_words import PAUSES, look_of, numbered, place_of, size_of, ways
from extractor.language.clauses import Span
from extractor.language.verbs import has_verb

SPREADING = frozenset({"all", "both", "each", "every", "these", "they", "everything", "always"})
"""Words that open what holds for every stitch told before."""
OPENING = frozenset({"in", "at", "the", "for", "all", "inside", "-", ",", "outside", "out"})
"""Words before a place that opens a sentence, with the technique: 'all-inside, posterior horn, two ...'."""
CARRYING = frozenset({"was", "were", "went", "are", "is"})
HEADING = frozenset({"all", "throughout", "everywhere", "every", "each", "everything", "always"})
"""With one of these a way said ahead of all numbers holds for each: 'vertical configuration for all: ...'."""


def head_all(case: Case, sentence: Span, groups: Sequence[Group]) -> None:
    """'Vertical configuration for all: three inside-out here, two there': a way said ahead of all numbers."""
    if len(groups) < 2 or any(g.head is None for g in groups):
        return
    first = min(g.head.start for g in groups if g.head)
    if case.words[first - 1] != ":" and HEADING.isdisjoint(case.words[sentence.start : first]):
        return
    said = ways(case, sentence.start, (sentence.start, first), False)
    for group in groups:
        group.fields.update({k: v for k, v in said.items() if k not in group.fields})


def place_all(case: Case, sentence: Span, groups: Sequence[Group]) -> None:
    """'Posterior horn, two all-inside vertical, one all-inside horizontal': a place that opens holds for each."""
    heads = [g.head for g in groups if g.head]
    if len(heads) != len(groups) or len(groups) < 2 or len({g.fields.get("technique") for g in groups}) > 1:
        return
    place = next(iter(case.within("region", sentence.start, heads[0].start)), None)
    opens = place is not None and set(case.words[sentence.start : place.start]) <= OPENING
    if place is None or not opens or case.words[place.end] not in {",", ":"}:
        return
    if groups[0].fields.get("region") != place.name or any(PLACED & set(g.fields) for g in groups[1:]):
        return
    for group in groups[1:]:
        group.fields["region"] = place.name


def join_subjects(case: Case, groups: Sequence[Group]) -> None:
    """'A loop stitch and a simple stitch were placed in the root': what is told behind two subjects is of both."""
    heads = [g.head for g in groups if g.head]
    if len(heads) != len(groups) or len(groups) < 2:
        return
    joined = case.words[heads[0].end : heads[-1].start]
    if "and" not in joined or "," in joined or has_verb(joined):
        return
    last = groups[-1]
    behind = case.words[heads[-1].end : last.pieces[-1][1]]
    if not any(w in CARRYING for w in behind) or any(PLACED & set(g.fields) for g in groups[:-1]):
        return
    for group in groups[:-1]:
        group.take(last, ("tissue", "technique", *PLACES))


def spread(case: Case, sentence: Span, groups: list[Group], looks: Sequence[Look]) -> None:
    """What a sentence says at its end of all its stitches: '..., all in vertical mattress'."""
    heads = [g.head for g in groups if g.head]
    if not groups:
        return
    last = heads[-1].end if heads else groups[-1].pieces[0][1]
    level = case.note.segments.level
    inside = {c.start for c in case.within("technique", last, sentence.end)}
    closing = _closing(case, last, sentence)
    own = (
        bool(heads) and heads[-1].way == "part" and case.words[last : last + 1] == [","]
    )  # 'the other two, green, in the body'
    for i in range(last, sentence.end):
        elliptical = bool(heads) and not heads[-1].noun and not own
        apart = elliptical and level[i] >= 2 and not case.within("tie", i, sentence.end)
        opens = apart or case.words[i] in SPREADING and (level[i] >= 1 or level[i - 1] >= 1) and i not in inside
        carried = case.words[i] in CARRYING and not all(g.head and g.head.noun for g in groups)
        if i == closing or opens or (carried and not _of_one(heads)):
            share = (i, sentence.end)
            said = ways(case, i, share, False) | look_of(case, i, share, looks) | place_of(case, i, share)
            size = size_of(case, i, *share)
            for group in groups:
                fill = {k: v for k, v in {**said, "usp_size": size}.items() if v and k not in group.fields}
                if "color" in said and "color" in group.fields:
                    fill.pop("form", None)  # 'the one is white, the other is a blue tape'
                group.fields.update(fill)
                if str(said.get("region", "")).startswith(f"{group.fields.get('region')}_"):
                    group.fields["region"] = said["region"]  # 'from the back, two ..., all in the posterior horn'
            break
    _size_behind(case, sentence, groups, last)


def _of_one(heads: Sequence[Head]) -> bool:
    """'A third was vertical', 'two are on top, the third is below': what is said of the last alone."""
    if not heads:
        return False
    counted = len(heads) > 1 and heads[-1].way == "ordinal" and heads[-2].way != "ordinal"
    return heads[-1].way == "more" or counted


def _size_behind(case: Case, sentence: Span, groups: Sequence[Group], last: int) -> None:
    """'Inside-out x4 above, x2 below, 2-0.': the one size said, set off behind all numbers, is the size of each."""
    sizes = [q for q in case.numbers(sentence.start, sentence.end) if q.kind == "suture-size" or numbered(case, q)]
    if len(sizes) != 1 or len(groups) < 2 or len({g.fields.get("technique") for g in groups}) > 1:
        return
    (q,) = sizes
    behind = case.words[q.end : q.end + 1]
    apart = q.start > last and case.words[q.start - 1] == "," and (not behind or behind[0] in PAUSES)
    if apart and groups[-1].head is not None and not PLACED.isdisjoint(groups[-1].fields):
        size = size_of(case, q.start, q.start, sentence.end)
        for group in groups:
            group.fields.setdefault("usp_size", size)


def _closing(case: Case, start: int, sentence: Span) -> int:
    """The pause before '..., verticals, all of them.'; -1 where the sentence does not close so."""
    words = [w for w in case.words[start : sentence.end] if w.isalpha()]
    if words[-3:] != ["all", "of", "them"] and words[-2:] not in (["every", "one"], ["the", "lot"]):
        return -1
    level = case.note.segments.level
    return next((i for i in range(start, sentence.end) if level[i] >= 2), -1)
