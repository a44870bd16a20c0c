"""What is said of the looks of several sutures at once, or of one later: 'both are tapes', 'the blue one is striped'.

A plural form heads the looks behind it ('the upper tapes: white in front, black behind'), or closes those before it
('..., both tapes'). 'Sutures' means a form only where tapes are told beside them; else it is what all are called.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import replace

from extractor.facts.case import Case
from extractor.facts.looks import Look
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

ALL = frozenset({"both", "all", "each", "are", "were", "every"})
ALL_WITHIN = 4
POINTING = frozenset({"these", "those", "they", "both", "all"})
POINTED_WORDS = 6
"""Words of 'All four of them are tapes.', at most."""
CARRIED = 4
"""Sentences with looks that a form said before them holds for, at most."""
IS = frozenset(
    {"is", "was", "one", "suture", "limb", "strand", "a", "an", "the", "being", "'s", ",", "actually", "in", "fact"}
)
IS_NOW = frozenset({"is", "was", "being"})
TYPE, TYPE_WITHIN = frozenset({"type", "form", "kind", "material"}), 5
LATER = 3
"""Sentences after a look in which more of it may be told."""
CALLED = (
    ["call", "it"],
    ["call", "that"],
    ["make", "it"],
    ["make", "that"],
    ["i", "mean"],
    ["or", "rather"],
    ["that", "is"],
)
CALLED_WITHIN = 6


def shared_looks(case: Case, looks: Sequence[Look]) -> list[Look]:
    """The looks with what a head, a close or a later word adds to them."""
    found = list(looks)
    if not found or not (case.by_list["form"] or case.by_list["pattern"]):
        return found
    found = _called(case, found)
    starts = [k.start for k in found]
    heading: Concept | None = None
    left = 0
    before: tuple[int, int] = (0, 0)
    for sentence in case.note.segments.sentences:
        a, b = bisect_left(starts, sentence.start), bisect_left(starts, sentence.end)
        heads = [c for c in case.within("form", sentence.start, sentence.end) if _heads(case, sentence, c)]
        if a == b:
            if heads and _points_back(case, sentence):
                _give(found, before, heads[-1].name)
            elif heads:
                heading, left = heads[-1], CARRIED
            continue
        if heads or case.within("tissue", sentence.start, sentence.end) and left < CARRIED:
            heading = None
        for n in range(a, b):
            own = [c for c in heads if c.start < found[n].start] or ([heading] if heading else [])
            close = heads[-1] if heads and not own and _closes(case, heads[-1]) else None
            given = close or (own[-1] if own else None) or _subject(case, found, n)
            if given and found[n].form is None:
                found[n] = replace(found[n], form=given.name)
        left -= 1
        heading = heading if left > 0 else None
        before = (a, b)
    return _told_later(case, found)


def _give(looks: list[Look], those: tuple[int, int], form: str) -> None:
    for n in range(*those):
        if looks[n].form is None:
            looks[n] = replace(looks[n], form=form)


def _heads(case: Case, sentence: Span, form: Concept) -> bool:
    """Whether a form is said of several; 'sutures' only beside tapes of which that is said as well."""
    if not _of_several(case, sentence, form):
        return False
    return form.name == "tape" or _beside_tapes(case, sentence)


def _of_several(case: Case, sentence: Span, form: Concept) -> bool:
    """Whether a form is said in the plural, or after 'both'."""
    lead = case.words[max(sentence.start, form.start - ALL_WITHIN) : form.start]
    return case.words[form.end - 1].endswith("s") or not ALL.isdisjoint(lead)


def _beside_tapes(case: Case, sentence: Span) -> bool:
    sentences = case.note.segments.sentences
    return any(
        c.name == "tape" and _of_several(case, near, c)
        for near in sentences[max(0, sentence.number - 1) : sentence.number + 2]
        for c in case.within("form", near.start, near.end)
    )


def _subject(case: Case, looks: list[Look], n: int) -> Concept | None:
    """'The tape on top is white', 'color white, type tape': the one form of a clause that tells one look.

    A suture is one only beside a tape.
    """
    look = looks[n]
    clause, sentence = case.clause(look.start), case.sentence(look.start)
    alone = all(not clause.start <= k.start < clause.end for k in looks[max(0, n - 1) : n] + looks[n + 1 : n + 2])
    forms = [c for c in case.within("form", clause.start, look.start) if alone]
    if len(forms) == 1 and not IS_NOW.isdisjoint(case.words[forms[0].end : look.start]):
        tapes = any(c.name == "tape" for c in case.within("form", sentence.start, sentence.end))
        return forms[0] if tapes else None
    behind = case.within("form", look.end, min(sentence.end, look.end + TYPE_WITHIN))
    typed = [c for c in behind if case.words[c.start - 1] in TYPE]
    return typed[0] if typed else None


def _closes(case: Case, form: Concept) -> bool:
    return not {"both", "all", "each"}.isdisjoint(case.words[form.start - ALL_WITHIN : form.start])


def _points_back(case: Case, sentence: Span) -> bool:
    """'These are tapes.', 'All four are tapes.', and no more."""
    words = [w for w in case.words[sentence.start : sentence.end] if w.isalnum()]
    placed = any(case.within(name, sentence.start, sentence.end) for name in ("tissue", "region", "surface"))
    return len(words) <= POINTED_WORDS and not placed and not POINTING.isdisjoint(words)


def _called(case: Case, looks: Sequence[Look]) -> list[Look]:
    """'White and blue, well, call it striped': the pattern of the look before; of two colors joined, the first."""
    out: list[Look] = []
    for n, look in enumerate(looks):
        stop = looks[n + 1].start if n + 1 < len(looks) else len(case.words)
        pattern = _called_pattern(case, look.end, min(stop, look.end + CALLED_WITHIN + 2))
        if pattern is None:
            out.append(look)
            continue
        if out and case.words[out[-1].end : look.start] in (["and"], ["-"], ["/"]):
            look = out.pop()
        out.append(replace(look, pattern=pattern.name))
    return out


def _called_pattern(case: Case, start: int, end: int) -> Concept | None:
    for pattern in case.within("pattern", start, end):
        if any(case.words[i : i + 2] in CALLED for i in range(start, pattern.start)):
            colored = case.within("color", pattern.end, pattern.end + 2)
            return None if colored else pattern
    return None


def _told_later(case: Case, looks: list[Look]) -> list[Look]:
    """'The blue one is striped', 'the white is a tape': more of a look told before, by its color."""
    out: list[Look] = []
    for look in looks:
        sentence = case.sentence(look.start)
        attribute = None if _placed(case, sentence) else _attribute(case, look, sentence)
        same = _lately(case, out, look, sentence) if attribute else []
        if attribute is None or len(same) != 1:
            out.append(look)
            continue
        name = attribute.name
        out[same[0]] = replace(out[same[0]], **{attribute.list: name})  # type: ignore[arg-type]
    return out


def _lately(case: Case, before: Sequence[Look], look: Look, sentence: Span) -> list[int]:
    """Which of the looks told a little before have the color of this one."""
    floor = case.note.segments.sentences[max(0, sentence.number - LATER)].start
    found = []
    for n in range(len(before) - 1, -1, -1):
        if before[n].start < floor:
            break
        if before[n].color == look.color and before[n].start < sentence.start:
            found.append(n)
    return found


def _placed(case: Case, sentence: Span) -> bool:
    lists = ("region", "surface", "suture-region", "suture-surface", "position-code", "tie")
    return any(case.within(name, sentence.start, sentence.end) for name in lists)


def _attribute(case: Case, look: Look, sentence: Span) -> Concept | None:
    for name in ("pattern", "form"):
        for c in case.within(name, look.end, sentence.end):
            between = case.words[look.end : c.start]
            if between and all(w in IS for w in between) and not {"is", "was", "a"}.isdisjoint(between):
                return c
    return None
