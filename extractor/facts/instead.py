"""What was used in the place of a device that was only thought of, the device itself left unsaid.

'The rep recommends the nine millimeter screw. An eight went in', 'he wanted a fifth implant; I stopped at four'.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.facts.case import Case
from extractor.language.concepts import Concept
from extractor.language.corrections import put_right
from extractor.language.quantities import Quantity

ARTICLES = frozenset({"a", "an"})
WHO = frozenset({"i", "we", "it", "he", "she", "they", "you"})
MORE = frozenset({"second", "third", "fourth", "fifth", "sixth", "another", "further", "additional", "more", "extra"})
"""Before a device that was not used these tell that there were others of it."""
ENDS = frozenset({".", ",", ";", "and", "!"})
BEFORE = 3
"""Tokens from 'a fifth' to the device, and from the verb to the number, at most."""
LEAST = 2
"""A size in millimeters, at least."""
CLAUSES = 3
"""Clauses behind a device in which the number of those used may be told, at most."""


CHANGED_TO = frozenset({"to", "for", "with", "by"})
LEADS = CHANGED_TO | ARTICLES | {"the", "up", "down", "out", "over", "was", "were", "then", "and", "one", "size", "of"}
"""Words between a device, or a word of changing it, and the size it was changed to."""
CHANGE_WITHIN = 6
MAKE = frozenset({"make", "it", "a", "an", "the", "that", "rather", "i", "mean"})


def changed_to(case: Case, device: Concept, end: int) -> list[Quantity]:
    """'I upsized the screw to nine millimeters', 'swapped the eight millimeter screw for a nine': the size it got."""
    clause = case.clause(device.start)
    q = next((q for q in case.numbers(end, end + CHANGE_WITHIN) if q.dimension in (None, "length")), None)
    q = _span_of_change(case, q) if q else None
    if q is None or q.value is None or q.value < LEAST or q.product is not None:
        return []
    cues = {i for c in case.within("resized", end, q.start) for i in range(c.start, c.end)}
    told = all(
        i in cues or case.words[i] in LEADS | {"from"} for i in range(end, q.start)
    ) and not CHANGED_TO.isdisjoint(case.words[end : q.number_end])
    return [q] if told and case.within("resized", clause.start, q.start) else []


def _span_of_change(case: Case, q: Quantity) -> Quantity:
    """'Upsized from seven to eight': the size it came to."""
    if q.low is None or q.high is None:
        return q
    down = any(w.startswith("down") for w in case.words[case.clause(q.start).start : q.start])
    return replace(q, value=q.low if down else q.high, low=None, high=None)


def used_of_them(case: Case, device: Concept) -> int | None:
    """'Five implants were opened, four were used': how many of those at hand."""
    clause, sentence = case.clause(device.start), case.sentence(device.start)
    if not case.within("at-hand", device.end, clause.end):
        return None
    put = case.grammar.plain_words("put-in")
    for q in case.numbers(clause.end, sentence.end):
        verb = case.words[q.end : q.end + 2]
        if _whole(q) and verb[:1] in (["were"], ["was"]) and verb[-1] in put and not _thing_between(case, device, q):
            return int(q.value or 0)
    return None


def _whole(q: Quantity) -> bool:
    return q.dimension is None and q.value is not None and float(q.value).is_integer()


def _thing_between(case: Case, device: Concept, q: Quantity) -> bool:
    return any(case.within(name, device.end, q.start) for name in ("device", "tool", "thing"))


def sizes_changed(case: Case, told: Sequence[Concept]) -> list[Concept]:
    """'We began with a seven millimeter cannula but went up to an eight': another size of the device last named."""
    found = []
    for cue in case.by_list["resized"]:
        q = next(iter(case.numbers(cue.end, cue.end + CHANGE_WITHIN)), None)
        sentence = case.sentence(cue.start)
        if q is None or q.dimension not in (None, "length") or q.value is None or q.value < LEAST or q.part:
            continue
        between = case.words[cue.end : q.start]
        leads = set(between) <= LEADS and bool(CHANGED_TO & {*between, case.words[cue.end - 1]})
        end = [p for p in case.numbers(q.start, q.end + CHANGE_WITHIN) if p is q or p.product == q.product is not None][
            -1
        ].end
        closed = end >= len(case.words) or case.words[end] in ENDS
        floor = case.note.segments.sentences[max(0, sentence.number - 1)].start
        last = max((c for c in told if floor <= c.start < cue.start), key=lambda c: c.start, default=None)
        if leads and closed and last is not None and _sized(case, last) and end < len(case.words):
            found.append(Concept(last.list, last.name, end, end + 1))
    return found


def said_wrong(case: Case, end: int, start: int) -> bool:
    """'An eight millimeter screw, correction, a nine millimeter screw': the first was said for the second."""
    return end < start <= end + CHANGE_WITHIN and put_right(case.words, end, start, MAKE)


def sizes_instead(case: Case, told: Sequence[Concept]) -> list[Concept]:
    """Another size of the device last named, where that one was not used: the device it stands for."""
    found = []
    put = case.grammar.plain_words("put-in")
    for q in case.note.quantities:
        if q.dimension or q.value is None or q.value < LEAST or case.words[q.start - 1] not in ARTICLES | {"the"}:
            continue
        clause = case.clause(q.start)
        closed = q.end >= len(case.words) or case.words[q.end] in ENDS or case.words[q.end] in put
        if not closed or put.isdisjoint(clause.said):
            continue
        if not case.note.assertions[clause.number].done:
            continue
        sentence = case.sentence(q.start)
        floor = case.note.segments.sentences[max(0, sentence.number - 1)].start
        last = max((c for c in told if floor <= c.start < q.start), key=lambda c: c.start, default=None)
        if last is not None and _not_used(case, last) and _sized(case, last):
            found.append(Concept(last.list, last.name, q.end, q.end + 1))
    return found


def counted_instead(case: Case, device: Concept) -> int | None:
    """How many were used of a device of which one more was refused: 'a fifth implant; I stopped at four'."""
    if MORE.isdisjoint(case.words[max(0, device.start - BEFORE) : device.start]):
        return None
    clauses = case.note.segments.clauses
    keeping = case.grammar.plain_words("kept-at")
    number = case.clause(device.start).number
    last = case.sentence(device.start).number + 1
    for clause in clauses[number + 1 : number + 1 + CLAUSES]:
        if case.sentence(clause.start).number > last:
            return None
        said = case.words[clause.start : clause.end]
        own = [q for q in case.numbers(clause.start, clause.end) if _bare(case, q)]
        who = next((i for i, w in enumerate(said) if w in WHO), None)
        acted = who is not None and bool(keeping & set(said[who : who + BEFORE]))
        if acted and len(own) == 1 and case.note.assertions[clause.number].done:
            return int(own[0].value or 0)
    return None


def _bare(case: Case, q: Quantity) -> bool:
    """Whether a number counts what was named before: nothing that it could count follows."""
    return _whole(q) and (q.end >= len(case.words) or case.words[q.end] in ENDS)


def _not_used(case: Case, device: Concept) -> bool:
    assertion = case.assertion(device.start)
    return assertion.mood != "performed" or assertion.declines(device.start)


def _sized(case: Case, device: Concept) -> bool:
    """Whether a size was said of a device."""
    clause = case.clause(device.start)
    return any(q.dimension == "length" or q.dimension is None for q in case.numbers(clause.start, clause.end))
