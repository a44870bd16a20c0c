"""What would come of other readings of words, many of them tried in one reading of the note.

Most rivals change nothing, and reading the note anew is what trying one costs. So words that stand apart are changed
together: what comes of it rests on words, and these tell of which change it comes. Only what stays unclear is tried one
by one. Changes that only together agree with the rest of the case ('four, and two below' heard for 'three' and 'three')
may be kept so where each alone would not be; `solve` weighs them. A number said twice may be heard wrong twice: what
the rest of the case speaks against in one place is tried in both.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import replace

from extractor.record.facts import Evidence
from extractor.record.models import CaseRecord, Flag
from extractor.second_reading.change import gained, lost
from extractor.second_reading.slots import Slot, primary_facts, value_of
from extractor.second_reading.solve import Read, cost_of

APART = 120
"""Characters at least between words that are changed together."""
SPARED = 1.0
"""Nats that the checks may say more against a rival of a number heard surely, for it to be listened to at all."""
SAID = 2
"""Other places at most where a number that was said again is changed with it."""
Change = tuple[Slot, str]
Key = tuple[int, int, str]


class Trying:
    """Rivals tried on one note. What was tried is kept: a slot may come again with other rivals."""

    def __init__(self, record: CaseRecord, read: Read, against: Mapping[str, float]) -> None:
        """Take the case as heard.

        Args:
            record: the case.
            read: reads the case with other words in some slots.
            against: nats against a reading, by the check it raises.
        """
        self._record, self._read, self._against = record, read, against
        self._own = cost_of(record, record, against)
        self._facts = len(primary_facts(record))
        self._worth: dict[Key, bool] = {}
        self._numbers: Sequence[Slot] = ()

    def worth_hearing(self, slots: Sequence[Slot], beside: Sequence[Slot] = ()) -> list[Slot]:
        """Slots with the rivals worth listening to; `beside` are others of the note that are listened to anyway.

        Of a number these are the rivals that the checks say no more against than against what was heard; of a word on
        which no fact rests those that give primary facts, of a listed one also those that take some away.
        """
        self._numbers = [slot for slot in (*slots, *beside) if slot.number]
        ordered = sorted(slots, key=lambda slot: slot.start)
        changes = [(slot, rival) for slot in ordered for rival in dict.fromkeys(slot.rivals)]
        waiting = [change for change in changes if _key(*change) not in self._worth]
        while waiting:
            together: list[Change] = []
            later: list[Change] = []
            for change in waiting:
                apart = not together or change[0].start - together[-1][0].end >= APART
                (together if apart else later).append(change)
            for change in self._try(together):
                self._worth[_key(*change)] = self._alone(change)
            waiting = later
        return [replace(s, rivals=tuple(r for r in s.rivals if self._worth[_key(s, r)])) for s in slots]

    def _alone(self, change: Change) -> bool:
        slot, _ = change
        other = self._read(dict([change]))
        if slot.number:
            again = self._said_again(change)
            return self._fits(other) or (bool(again) and self._fits(self._read(dict([change, *again]))))
        return bool(gained(self._record, other)) or (not slot.open and bool(lost(self._record, other)))

    def _fits(self, other: CaseRecord) -> bool:
        return cost_of(other, self._record, self._against) <= self._own + SPARED

    def _said_again(self, change: Change) -> list[Change]:
        """The same change of the same number elsewhere in the note."""
        slot, rival = change
        value = value_of(slot.heard)
        return [
            (other, again)
            for other in self._numbers
            if (other.end <= slot.start or slot.end <= other.start) and value_of(other.heard) == value
            for again in other.rivals
            if value_of(again) == value_of(rival)
        ][:SAID]

    def _try(self, changes: Sequence[Change]) -> list[Change]:
        """Try changes together and keep what is clear of each; those that must be tried alone are given back."""
        if len(changes) == 1:
            return list(changes)
        other = self._read(dict(changes))
        before, after = _places(changes)
        new = [_on(fact.evidence, after) for fact in gained(self._record, other)]
        gone = [_on(fact.evidence, before) for fact in lost(self._record, other)]
        raised = [(self._against.get(flag.check, 0.0), _on(flag.evidence, after)) for flag in self._raised(other)]
        raised = [(nats, on) for nats, on in raised if nats]
        fewer = len(primary_facts(other)) < self._facts
        unclear: list[Change] = []
        for i, change in enumerate(changes):
            slot, _ = change
            if slot.number:
                own = [(nats, on) for nats, on in raised if i in on or not on]
                fits = sum(nats for nats, _ in own) <= SPARED
                if fewer or any(len(on) != 1 for _, on in own) or (not fits and self._said_again(change)):
                    unclear.append(change)
                else:
                    self._worth[_key(*change)] = fits
            elif not all(new) or (not slot.open and not all(gone)):
                unclear.append(change)
            else:
                self._worth[_key(*change)] = any(i in on for on in new)
        return unclear

    def _raised(self, other: CaseRecord) -> list[Flag]:
        """Flags of checks that speak more often against the other reading than against the record."""
        before, after = (Counter(flag.check for flag in case.flags) for case in (self._record, other))
        there = {(flag.check, flag.message) for flag in self._record.flags}
        return [f for f in other.flags if after[f.check] > before[f.check] and (f.check, f.message) not in there]


def _key(slot: Slot, rival: str) -> Key:
    return slot.start, slot.end, rival


def _places(changes: Sequence[Change]) -> tuple[list[tuple[int, int]], list[tuple[int, int]]]:
    """Characters of each change in the text as heard, and in the changed text."""
    before: list[tuple[int, int]] = []
    after: list[tuple[int, int]] = []
    moved = 0
    for slot, rival in changes:
        before.append((slot.start, slot.end))
        after.append((slot.start + moved, slot.start + moved + len(rival)))
        moved += len(rival) - (slot.end - slot.start)
    return before, after


def _on(evidence: Sequence[Evidence], places: Sequence[tuple[int, int]]) -> set[int]:
    """Which of the places some evidence touches."""
    return {i for i, (first, last) in enumerate(places) if any(e.start < last and first < e.end for e in evidence)}
