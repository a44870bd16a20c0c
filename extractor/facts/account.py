"""The account of a note's numbers: each one with a unit must have gone somewhere, and one that has not is flagged.

So must a number without a unit that was counted up to along a ruler's marks.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from extractor.facts.arcs import is_arc
from extractor.facts.case import UNREAL
from extractor.facts.draft import FactDraft
from extractor.facts.measures import only_tried, unread_flag
from extractor.facts.measuring import Claim
from extractor.facts.reading import Reading
from extractor.facts.size_signs import numbers_inside
from extractor.facts.told_sizes import never_made
from extractor.facts.wanted import is_along_marks
from extractor.language.quantities import Quantity

PLACES = ("fact", "device", "known", "aside", "flagged", "outside", "open")
"""Where a number can go: a fact; a device's size; known as something else (an age, a scope's angle); said of another
time, as a habit or an if, or taken back; flagged; in a note the packs do not read; nowhere, which `closed` mends."""
VALUED = frozenset({"measurements", "plan", "claims"})
BESIDE = 12
"""Tokens around a bare number in which what has sizes is named, at most."""
HOLDS = frozenset({"for", "until", "till", "and", "in", "at", "on", "then"})
"""What may follow a span of motion that was told without its unit."""
IMAGINED = UNREAL | {"conditional", "considered"}


@dataclass(frozen=True)
class Entry:
    """One number with a unit: where it went (`PLACES`), and what it was read as."""

    quantity: Quantity
    went: str
    read_as: str


def closed(reading: Reading) -> Reading:
    """The reading with a flag for each number with a unit that nothing took, however it was let fall."""
    left = [unread_flag(reading.case, e.quantity) for e in account(reading) if e.went == "open"]
    return replace(reading, flags=(*reading.flags, *left))


def account(reading: Reading) -> Iterator[Entry]:
    """Where every number with a unit went, in the order said."""
    facts = _facts(reading)
    claims = {c.slot.number: c for c in reading.claims}
    flagged = {n for flag in reading.flags for span in flag.spans for n in _inside(reading, span.start, span.end)}
    for number, q in enumerate(reading.case.note.quantities):
        if q.dimension is None and not is_along_marks(q) and not _is_motion(q, reading) and not _is_size(q, reading):
            continue
        fact = facts.get(number)
        if not reading.scope.about:
            yield Entry(q, "outside", "the note is about nothing the packs read")
        elif fact:
            yield Entry(q, "device" if fact.kind == "devices" else "fact", _named(fact))
        elif number in reading.taken:
            yield Entry(q, "device", "the size of a device")
        elif number in reading.theirs:
            yield Entry(q, "aside", "told like another's")
        else:
            yield Entry(q, *_without_fact(reading, q, claims.get(number), number in flagged))


def _is_motion(q: Quantity, reading: Reading) -> bool:
    """'Zero to ninety.': a bare span that only the motion of a knee has, with nothing counted behind it."""
    words = reading.case.words
    spans = q.kind == "quantity" and q.low == 0 and is_arc(reading.case, q)
    after = words[q.end : q.end + 1]
    return spans and "to" in words[q.start : q.end] and not (after and after[0][:1].isalpha() and after[0] not in HOLDS)


def _is_size(q: Quantity, reading: Reading) -> bool:
    """'The slot is nine by eleven.': two bare numbers by each other, where something is named that has sizes."""
    if q.product is None or q.kind != "quantity":
        return False
    case, sentence = reading.case, reading.case.sentence(q.number_start)
    start, end = max(sentence.start, q.start - BESIDE), min(sentence.end, q.end + BESIDE)
    named = case.within("graft-role", start, q.start) or case.within("thing", start, end)
    dressing = any(c.name == "dress" for c in case.within("action", start, end))
    return bool(named) and not dressing


def _without_fact(reading: Reading, q: Quantity, claim: Claim | None, flagged: bool) -> tuple[str, str]:
    if q.kind != "quantity" or q.dimension == "age":
        return "known", f"a number of another kind ({q.kind})"
    if claim and claim.rule.kind == "known":
        return "known", claim.rule.value
    if only_tried(reading.case, q):
        return "aside", "tried, and not kept"
    if claim and never_made(reading.case, claim):
        return "aside", f"said of what was not made ({claim.rule.value})"
    if flagged:
        return "flagged", "no rule reads it, so it is asked about"
    if not reading.scope.operation:
        return "outside", "the note tells of no operation"
    mood = reading.case.assertion(q.number_start).mood
    asked = reading.case.words[reading.case.sentence(q.number_start).end - 1] == "?"
    if mood in IMAGINED and not (asked and mood == "conditional"):
        return "aside", f"said as {mood} ({claim.rule.value})" if claim else f"said as {mood}"
    return "open", "nothing"


def _facts(reading: Reading) -> dict[int, FactDraft]:
    """The fact whose value each number is: its evidence holds the number. Of a device it may be a size among others."""
    found: dict[int, FactDraft] = {}
    devices = [d for d in reading.drafts if d.kind == "devices" and d.fields.get("size") is not None]
    for draft in [*(d for d in reading.drafts if d.kind in VALUED), *devices]:
        for span in draft.spans:
            for number in _inside(reading, span.start, span.end):
                found.setdefault(number, draft)
    return found


def _inside(reading: Reading, start: int, end: int) -> Iterator[int]:
    """Which of the note's quantities lie in the characters `[start, end)`."""
    return (reading.case.number_at(q) for q in numbers_inside(reading.case, start, end))


def _named(draft: FactDraft) -> str:
    fields = draft.fields
    return str(fields.get("what") or fields.get("item") or fields.get("kind") or draft.kind)
