"""Stitches told with an exception: 'eight sutures, vertical except for the last two, which were horizontal'."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.facts.stitch_counts import ORDINALS, is_count
from extractor.facts.stitch_groups import PLACES, Group
from extractor.facts.stitch_words import place_of, ways
from extractor.language.clauses import Span

EXCEPT = (["except"], ["excepting"], ["apart", "from"], ["aside", "from"], ["other", "than"], ["save"], ["barring"])
BUT = ["but"]
"""It sets apart only where all were spoken of before it."""
ALL = frozenset({"all", "every", "everything", "each"})
WITHIN = 6
"""Tokens from the word that sets apart to how many are set apart, at most."""
SINGLED = frozenset({*ORDINALS, "most", "one"})


def with_exceptions(case: Case, sentence: Span, told: list[Group]) -> list[Group]:
    """The groups of a sentence, a number of stitches parted where some of them are said to be laid otherwise."""
    total = next((g for g in told if g.head and g.head.noun and (g.count or 0) > 1), None)
    if total is None or total.head is None:
        return told
    found = _set_apart(case, sentence)
    if found is None:
        return told
    at, apart, end = found
    if apart >= (total.count or 0):
        return told
    start = sentence.start if total.head.start < at else at
    usual, other = _fields(case, total.head.start, (start, at)), _fields(case, end, (end, sentence.end))
    if "configuration" not in usual and "configuration" in total.fields:
        usual["configuration"] = total.fields["configuration"]
    clauses = case.note.segments.level
    pause = next((i for i in range(end, sentence.end) if clauses[i] >= 1), sentence.end)
    if not usual and pause < sentence.end:  # 'all but two vertical, the two horizontal'
        usual, other = _fields(case, end, (end, pause)), _fields(case, pause, (pause, sentence.end))
    kinds = [k for k in ("configuration", "surface") if k in usual and k in other and usual[k] != other[k]]
    if not kinds:
        return told
    rest = [g for g in told if g is not total and g.head and not at <= g.head.start and g.head.start < total.head.start]
    here = place_of(case, total.head.start, (start, at)) if start < at else {}
    elsewhere = {k: None for k in PLACES if k in total.fields and k not in here}
    most = total.copy(**elsewhere | {k: usual[k] for k in kinds}, count=(total.count or 0) - apart)
    few = total.copy(**other, count=apart)
    few.pieces.append((at, sentence.end))
    most.whole = few.whole = None
    return [*rest, most, few]


def _fields(case: Case, at: int, share: tuple[int, int]) -> dict[str, object]:
    if share[0] >= share[1]:
        return {}
    placed = place_of(case, at, share)
    return ways(case, at, share, False) | {k: v for k, v in placed.items() if k in ("surface", "region")}


def _set_apart(case: Case, sentence: Span) -> tuple[int, int, int] | None:
    """Where something is set apart, how many that are, and where the words for them end."""
    words = case.words
    for i in range(sentence.start, sentence.end - 1):
        cue = next((c for c in (*EXCEPT, BUT) if words[i : i + len(c)] == c), None)
        if cue is None or (cue == BUT and ALL.isdisjoint(words[sentence.start : i])):
            continue
        start = i + len(cue)
        near = range(start, min(start + WITHIN, sentence.end))
        singled = any(words[k] in SINGLED for k in near)
        number = next((q for q in case.numbers(start, start + WITHIN) if is_count(q) and q.end <= sentence.end), None)
        if number is None and not singled:
            continue
        if number:
            return i, int(number.value or 1), number.end
        return i, 1, next(k for k in near if words[k] in SINGLED) + 1
    return None
