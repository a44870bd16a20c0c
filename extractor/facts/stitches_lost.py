"""Stitches that did not stay: 'Five stitches, one pulled out, so four', 'One more backfired and I took it out'."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.facts.case import Case
from extractor.facts.stitch_counts import MORE, Head, is_count
from extractor.facts.stitch_groups import Group
from extractor.facts.stitch_heads import COUNTED_UP
from extractor.facts.stitch_meant import used_behind
from extractor.facts.stitch_sums import PRONOUNS
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

BEFORE = 8
"""Tokens from the number of stitches that were lost to what befell them, at most."""
BEHIND = 2
"""Tokens from a verb of taking out to the number of stitches it takes, at most."""
TAKEN = frozenset({"out", "of", "again", "because", "when", ",", ".", "and"})
"""What follows such a number where it is stitches that were taken out."""
FURTHER_ONE = frozenset({"another", "extra", "additional", "spare"})
LEAST = 2
"""Stitches of which one by its number, or another one, is told to be lost, at least."""
NEVER_IN = frozenset({"bin", "bucket", "trash", "floor"})
REDONE_WITHIN = 5
"""Tokens from 'one of which' to the word that it was done anew, at most."""
STAYED = frozenset({"successfully", "properly", "good"})
PUT_IN = (["went", "in"], ["went", "into"], ["are", "in"], ["were", "put", "in"])
"""What went in is not lowered by what ended in the bin."""
OUT = frozenset({"out", "off", "cut", "away"})
"""Before 'again' these say that it was undone."""
ONLY_WITH_OUT = frozenset({"took", "take", "takes", "taking", "taken", "pulled", "pull", "got", "brought"})
AGAIN = 4
"""Tokens between two words of one loss, and from 'a replacement' to the number it is for, at most."""
THROUGH = 4
"""Tokens from 'pulled through' to what a suture is drawn through, at most."""
DENIALS = frozenset({"not", "n't", "never", "without", "no"})


def without_lost(case: Case, sentence: Span, told: list[Group], open_groups: Sequence[Group]) -> list[Group]:
    """The groups of a sentence as they stayed: fewer by those that were lost, or without the one named last.

    Those lost may be of the stitches told a sentence before (`open_groups`), whose number is lowered.
    """
    if not told and not open_groups:
        return told
    for c, q in _losses(case, sentence):
        own = next((g for g in told if q and g.head and q.start in (g.head.start, g.head.end)), None)
        if q is not None and own is not None and own.head and own.head.end > q.end + 1:
            if (whole := _of_how_many(case, own.head)) > (own.count or 0):
                _leave(case, own, whole, c, sentence)
                continue  # 'I lost one of the five stitches'
        left = [g for g in told if g is not own]
        groups = [g for g in left if g.head and q and g.head.start < q.start] or open_groups
        if q is not None and MORE.isdisjoint(case.words[q.start - 1 : q.end + 1]):
            if _lower(case, q, c, groups, sentence):
                told = left
                continue
        last = max((g.head.start for g in told if g.head and g.head.start < c.start), default=None)
        if q is None and last is not None and _beyond(case, told, last, c):
            continue
        gone = [g for g in told if g.head and g.head.start == last]
        told = [g for g in told if g not in gone]
        if gone and not told and (used := used_behind(case, c.end, sentence)):
            gone[0].fields["count"] = int(used.value or 0)
            gone[0].pieces.append((used.start, used.end))
            told = gone[:1]  # 'One implant was wasted, four were used'
    told = [g for g in told if not _only_redone(case, g)]
    return [] if _keep(case, sentence, told, open_groups) else told


def _only_redone(case: Case, group: Group) -> bool:
    """'..., one of which had to be revised': no stitch beside those it is one of."""
    head = group.head
    if head is None or head.way != "part" or PRONOUNS.isdisjoint(case.words[head.start : head.end + 1]):
        return False
    behind = case.words[head.end : min(head.end + REDONE_WITHIN, case.sentence(head.start).end)]
    return not case.grammar.plain_words("stitched-anew").isdisjoint(behind)


def _beyond(case: Case, told: Sequence[Group], last: int, lost: Concept) -> bool:
    """'Four implants, and a fifth jammed and was discarded': what was lost is none of those told."""
    group = next(g for g in told if g.head and g.head.start == last)
    between = case.words[last + 1 : lost.start]
    if not group.count or group.count < LEAST:
        return False
    if not FURTHER_ONE.isdisjoint(between):
        return True
    place = next((COUNTED_UP.index(w) + 1 for w in between if w in COUNTED_UP), 0)
    if 0 < place <= group.count and case.grammar.plain_words("stitched-anew").isdisjoint(
        case.words[lost.end : case.sentence(lost.start).end]
    ):
        group.fields["count"] = group.count - 1  # 'three implants, the third pulled out'
    return place > 0


def _of_how_many(case: Case, head: Head) -> int:
    """The greater number of 'one of the five'; 0 where none is told."""
    numbers = [q for q in case.numbers(head.start + 1, head.end) if is_count(q)]
    return int(numbers[-1].value or 0) if numbers else 0


def _leave(case: Case, group: Group, whole: int, lost: Concept, sentence: Span) -> None:
    """Make of a part that was lost the stitches that were left of the `whole`, or all where it was put in anew."""
    anew = not case.grammar.plain_words("stitched-anew").isdisjoint(case.words[lost.start : sentence.end])
    group.fields["count"] = whole if anew else whole - (group.count or 0)
    group.head = replace(group.head, way="counted", noun=True) if group.head else None


def _losses(case: Case, sentence: Span) -> list[tuple[Concept, Quantity | None]]:
    """What befell stitches, and how many of them: 'one tore through', 'I cut one out'."""
    lost = [c for c in case.within("stitch-lost", sentence.start, sentence.end) if not _drawn(case, c)]
    found: list[tuple[Concept, Quantity | None]] = []
    for c in lost:
        q = _how_many(case, sentence, c)
        again = found and (q is found[-1][1] or q is None) and c.start - found[-1][0].end <= AGAIN
        if not again:  # 'one did not hold and came out'
            found.append((c, q))
    verbs, taken_by = case.grammar.plain_words("stitch-taken"), TAKEN | case.grammar.plain_words("stitch-word")
    if verbs.isdisjoint(sentence.said):
        return found
    for i in range(sentence.start, sentence.end):
        if case.words[i] not in verbs or any(c.start <= i < c.end for c, _ in found):
            continue
        numbers = case.numbers(i + 1, i + 1 + BEHIND)
        q = next((q for q in numbers if is_count(q) and q.end <= sentence.end), None)
        taken = q is not None and taken_by.issuperset(case.words[q.end : q.end + 1])
        if q is not None and case.words[i] in ONLY_WITH_OUT:
            taken = taken and not OUT.isdisjoint(case.words[q.end : q.end + AGAIN])  # 'I took two sutures, outside-in'
        if taken and case.assertion(i).mood == "performed" and not case.assertion(i).declines(i):
            found.append((Concept("stitch-lost", "stitch-lost", i, i + 1), q))
    return found


def _drawn(case: Case, c: Concept) -> bool:
    """'Two sutures were passed and pulled through a tibial tunnel': brought where they belong."""
    ways = case.grammar.concepts_in("drawn-through")
    ahead = [o for name in ("thing", "device") for o in case.within(name, c.end, c.end + THROUGH)]
    return case.words[c.end - 1] == "through" and any(o.key in ways for o in ahead)


def _keep(case: Case, sentence: Span, told: Sequence[Group], open_groups: Sequence[Group]) -> bool:
    """'Five went in and four held', 'net four': so many are left of the stitches told last.

    Returns whether they were told in a sentence before, and this one tells no more than what became of them.
    """
    kept, left = case.grammar.plain_words("stitch-kept"), case.grammar.plain_words("stitch-left")
    for q in case.numbers(sentence.start, sentence.end):
        if not is_count(q) or not case.note.assertions[case.clause(q.start).number].done:
            continue
        at = q.end + (case.words[q.end : q.end + 1] in (["are"], ["were"]))
        said = case.words[at : at + 1] and case.words[at] in kept
        used = at > q.end and case.words[at : at + 1] == ["used"] and case.words[at + 1 : at + 2] in ([], ["."], [","])
        said = said or used
        if not said and case.words[q.start - 1] not in left:
            continue
        groups = [*reversed(told), *reversed(open_groups)]
        group = next((g for g in groups if (g.count or 0) > int(q.value or 0)), None)
        if group is not None and not group.parts:
            group.fields["count"] = int(q.value or 0)
            group.pieces.append((q.start, min(q.end + 1, len(case.words))))
            return group not in told and not any("technique" in g.fields for g in told)
    return False


def _how_many(case: Case, sentence: Span, lost: Concept) -> Quantity | None:
    """The number of stitches that were lost, told last before what befell them."""
    near = case.numbers(max(sentence.start, lost.start - BEFORE), lost.start)
    return next((q for q in reversed(near) if is_count(q) and q.end <= lost.start), None)


def _one_beyond(case: Case, q: Quantity, groups: Sequence[Group]) -> bool:
    """Whether a stitch told by its place is one more than were told: 'a fourth one' of three."""
    lead = case.words[max(0, q.start - 2) : q.start]
    if lead[-1:] == [] or lead[-1] not in COUNTED_UP or case.words[q.start] != "one":
        return False
    place = COUNTED_UP.index(lead[-1]) + 1
    return place > LEAST and (lead[0] in {"a", "an"} or place > sum(g.count or 0 for g in groups))


def _lower(case: Case, q: Quantity, lost: Concept, groups: Sequence[Group], sentence: Span) -> bool:
    """Take what was lost off the number told last; whether that could be done, or they were put in anew."""
    behind = case.words[lost.end : sentence.end]
    if _one_beyond(case, q, groups):
        return bool(groups)  # 'Two vertical, one horizontal. A fourth one misfired.'
    if not case.grammar.plain_words("stitch-replacing").isdisjoint(case.words[max(0, q.start - AGAIN) : q.start]):
        return bool(groups)  # 'the last a replacement for one that failed'
    if not case.grammar.plain_words("stitched-anew").isdisjoint(case.words[q.end : lost.start]):
        return bool(groups)  # 'one of them replaced after it broke'
    anew = case.grammar.plain_words("stitched-anew")
    again = next((i for i, w in enumerate(behind) if w in anew and case.words[lost.end + i - 1] not in OUT), None)
    if again is not None and DENIALS.isdisjoint(behind[:again]):
        return bool(groups)
    told = case.words[sentence.start : q.start]
    if not NEVER_IN.isdisjoint(case.words[lost.start : lost.end]) and any(
        told[i : i + len(s)] == s for s in PUT_IN for i in range(len(told))
    ):
        return bool(groups)
    alone = sum(is_count(o) for o in case.numbers(sentence.start, q.start)) == 1
    if (alone and not STAYED.isdisjoint(told)) or told[-1:] == ["after"]:
        return bool(groups)  # 'four good stitches after one was lost'
    fewer = int(q.value or 0)
    group = next((g for g in reversed(groups) if (g.count or 0) > fewer), None)
    if group is None or group.count is None:
        return False
    group.fields["count"] = group.count - fewer
    group.pieces.append((q.start, lost.end))
    return True
