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
from extractor.language.clause_words import DENIERS
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

ALL = frozenset({"both", "all", "each", "are", "were", "every"})
SAID_OF_ALL = frozenset({"both", "all", "each", "every"})
ALL_WITHIN = 4
WHOLE_SIZES = (0, 1, 2, 5)
WHOLLY = frozenset({"all", "every", "each"})
MADE_OF_WITHIN = 2
"""Words from 'all' to what all are made of, at most: 'all plain suture'."""
SIZED_WITHIN = 5
"""Words from 'all' to their size, at most: 'every one of them a size zero'."""
TWO_OF = ["the", "two", "of"]
"""'..., tapes the two of them.'"""
POINTING = frozenset({"these", "those", "they", "both", "all"})
POINTED_WORDS = 6
"""Words of 'All four of them are tapes.', at most."""
NOUN_NEAR = 4
"""Tokens between the word for sutures and the size of all of them, at most: 'sutures of size two zero'."""
SIZED = 8
"""Looks that a size said at their head holds for, at most: four corners of each tissue."""
CARRIED = 4
"""Sentences with looks that a form said before them holds for, at most."""
IS = frozenset({"is", "was", "one", "a", "an", "the", "being", "'s", ",", "actually", "in", "fact"})
"""Plain words between a look and what more is told of it, beside those of `told-of-look`: 'the white limb is a tape'.
"""
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
    found = _sized(case, _called(case, found))
    starts = [k.start for k in found]
    heading: Concept | None = None
    left = 0
    before: tuple[int, int] = (0, 0)
    chain, told_in = 0, -1
    for sentence in case.note.segments.sentences:
        a, b = bisect_left(starts, sentence.start), bisect_left(starts, sentence.end)
        heads = [c for c in case.within("form", sentence.start, sentence.end) if _heads(case, sentence, c)]
        if a == b:
            if heads and _points_back(case, sentence) and before[0] < before[1]:
                all_of_them = not WHOLLY.isdisjoint(sentence.said)
                _give(found, (chain, before[1]) if all_of_them else before, heads[-1].name)
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
        chain = chain if sentence.number - told_in == 1 else a
        told_in = sentence.number
        if heads and _of_the_chain(case, heads[-1]):
            _give(found, (chain, b), heads[-1].name)
        left -= 1
        heading = heading if left > 0 else None
        before = (a, b)
    return _told_later(case, found)


def _of_the_chain(case: Case, form: Concept) -> bool:
    """'... purple, all plain suture': what closes a row of looks told one by one, however it was cut into sentences."""
    sentence = case.sentence(form.start)
    lead = case.words[max(sentence.start, form.start - MADE_OF_WITHIN) : form.start]
    return "all" in lead and _closes(case, form)


def _give(looks: list[Look], those: tuple[int, int], form: str) -> None:
    for n in range(*those):
        if looks[n].form is None:
            looks[n] = replace(looks[n], form=form)


def _heads(case: Case, sentence: Span, form: Concept) -> bool:
    """Whether a form is said of several; 'sutures' only beside tapes of which that is said as well.

    'All suture', in the singular, is what they are made of.
    """
    if not _of_several(case, sentence, form):
        return False
    return form.name == "tape" or _made_of(case, sentence, form) or _beside_tapes(case, sentence)


def _made_of(case: Case, sentence: Span, form: Concept) -> bool:
    lead = case.words[max(sentence.start, form.start - MADE_OF_WITHIN) : form.start]
    return not case.words[form.end - 1].endswith("s") and not WHOLLY.isdisjoint(lead)


def _of_several(case: Case, sentence: Span, form: Concept) -> bool:
    """Whether a form is said in the plural, or after 'both'."""
    lead = case.words[max(sentence.start, form.start - ALL_WITHIN) : form.start]
    denied = lead[-1:] and (lead[-1] in DENIERS or lead[-1] == "not")
    own = any(c.end == form.start for c in case.within("color", form.start - 1, form.start))
    if own and not case.words[form.end - 1].endswith("s") and not SAID_OF_ALL & set(lead):
        return False  # 'the superior sutures are white tape posteriorly and green anteriorly'
    return not denied and (case.words[form.end - 1].endswith("s") or not ALL.isdisjoint(lead))


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
    lead, behind = case.words[max(0, form.start - ALL_WITHIN) : form.start], case.words[form.end : form.end + 3]
    return not {"both", "all", "each"}.isdisjoint(lead) or behind[:1] in (["both"], ["all"]) or behind == TWO_OF


def _sized(case: Case, looks: list[Look]) -> list[Look]:
    """'All suture number zero', 'all four 2-0': a size said of all holds for those told around it.

    Behind them in one sentence it is of those before it, else of those that follow in this and the next sentences.
    """
    said = [q for q in case.note.quantities if (q.kind == "suture-size" and q.text) or _numbered(case, q)]
    sizes = [q for q in said if _of_all(case, q.start)]
    out = list(looks)
    starts = [k.start for k in looks]
    for size in said:
        for n in _headed(case, starts, size) if size not in sizes else ():
            if out[n].usp_size is None:
                out[n] = replace(out[n], usp_size=size.text or f"{size.value:g}")
    for size in sizes:
        sentence = case.sentence(size.start)
        own = [n for n, k in enumerate(out) if sentence.start <= k.start < size.start]
        own = own or (_chain_before(case, out, sentence) if _points_back(case, sentence) else [])
        last = case.note.segments.sentences[min(sentence.number + CARRIED, len(case.note.segments.sentences) - 1)]
        those = own or [n for n, k in enumerate(out) if size.end <= k.start < last.end]
        for n in those:
            if out[n].usp_size is None:
                out[n] = replace(out[n], usp_size=size.text or f"{size.value:g}")
    return out


def _headed(case: Case, starts: Sequence[int], size: Quantity) -> list[int]:
    """'Native sutures of size two zero are laid as follows: ...': which looks a size said of sutures holds for.

    It stands before all looks of its sentence, beside the word for sutures in the plural, and of no technique. Without
    any there it is of those of the next sentences, as long as each tells some and none names another tissue.
    """
    sentence = case.sentence(size.start)
    nouns = case.within("form", max(sentence.start, size.start - NOUN_NEAR), size.end + NOUN_NEAR)
    plural = any(case.words[c.end - 1].endswith("s") for c in nouns)
    plural = plural or "throughout" in case.words[size.end : sentence.end]
    at = bisect_left(starts, sentence.start)
    if not plural or (at < len(starts) and starts[at] < size.end):
        return []
    if case.within("technique", sentence.start, sentence.end) or case.within("color", size.end, size.end + 1):
        return []
    found: list[int] = []
    number = sentence.number
    tissues = {c.name for c in case.within("tissue", sentence.start, sentence.end)}
    for n in range(at, len(starts)):
        own = case.sentence(starts[n])
        named = {c.name for c in case.within("tissue", own.start, own.end)}
        if own.number - number > 1 or len(found) >= SIZED or (named and own != sentence and not named <= tissues):
            break
        if found and number == sentence.number != own.number:
            break  # the list of its own sentence is all it heads
        found.append(n)
        number = own.number
    return found if len(found) > 1 else []


def _numbered(case: Case, q: Quantity) -> bool:
    """'Number two tapes': a number of what sutures are made of is their size."""
    return q.kind == "ordinal" and q.value in WHOLE_SIZES and bool(case.within("form", q.end, q.end + 1))


def _chain_before(case: Case, looks: Sequence[Look], sentence: Span) -> list[int]:
    """Which looks were told in the sentences right before one, as far back as each of them tells any."""
    found: list[int] = []
    number = sentence.number
    for n in range(bisect_left([k.start for k in looks], sentence.start) - 1, -1, -1):
        told_in = case.sentence(looks[n].start).number
        if number - told_in > 1:
            break
        found.append(n)
        number = told_in
    return found


def _of_all(case: Case, start: int) -> bool:
    sentence = case.sentence(start)
    lead = case.words[max(sentence.start, start - SIZED_WITHIN) : start]
    return not WHOLLY.isdisjoint(lead) and not case.within("stitch-noun", start - len(lead), start)


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
    said = IS | case.grammar.plain_words("told-of-look")
    for name in ("pattern", "form"):
        for c in case.within(name, look.end, sentence.end):
            between = case.words[look.end : c.start]
            if between and all(w in said for w in between) and not {"is", "was", "a"}.isdisjoint(between):
                return c
    return None
