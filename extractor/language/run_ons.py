"""Speech without punctuation: where one thought ends and the next begins when nobody pauses."""

from __future__ import annotations

from bisect import bisect_left

from extractor.language.clause_words import (
    CONNECTORS,
    DENIERS,
    DETERMINERS,
    FINAL,
    FINITE,
    LEADS,
    PREPOSITIONS,
    PRONOUNS,
)
from extractor.language.concepts import Concept

HAD_WITHIN = 7
"""Words from 'I had the ...' to what was done to it, at most."""
LINK = 4
"""Words of a link in a chain of 'and then', at least."""
MERCURY = frozenset({"mercury", "mmhg"})
OBJECTS = DETERMINERS | {"it", "them"}
"""Words that open what a verb is done to."""
OPENING = frozenset({"action", "weight-bearing-status"})
"""Lists whose words open a clause where no punctuation does: '... brace given | full weight bearing from tomorrow'."""
LONGEST_NAME = 3
"""Words of a structure's name, spelt out, at most."""


def places_ahead(words: list[str], concepts: list[Concept]) -> dict[int, int]:
    """Where a place opens that the surface said next is of: 'a white suture | at the front end the top one is'."""
    surfaces = {c.start for c in concepts if c.list == "surface"}
    found = {}
    for c in concepts:
        if c.list == "region" and c.start > 1 and c.end + 1 in surfaces and words[c.end] in DETERMINERS:
            opens = c.start - (words[c.start - 1] in DETERMINERS) - 1
            if words[opens] in PREPOSITIONS:
                found[c.end] = opens
    return found


def close_final(words: list[str], level: list[int], start: int, stop: int) -> None:
    """Some words end what is said: '... did not catch anymore | lateral femoral condyle ...'."""
    for i in range(start, stop - 1):
        if words[i] in FINAL or (i > start and words[i - 1 : i + 1] == ["at", "all"]):
            level[i + 1] = max(level[i + 1], 1)


def pressures_close(words: list[str], measured: set[int], level: list[int], start: int, stop: int) -> None:
    """Nothing is of a pressure in mercury: '... two fifty millimeters of mercury | portals and a look'."""
    for i in range(start + 1, stop):
        if i in measured and words[i - 1] in MERCURY and words[i].isalpha() and words[i] not in PREPOSITIONS:
            level[i] = max(level[i], 1)


def chained(words: list[str], level: list[int], start: int, stop: int) -> None:
    """'... and then ... and then ...': in a chain without end each link is a sentence of its own."""
    last = start
    for i in range(start + 1, stop - 1):
        if words[i] == "and" and words[i + 1] == "then" and i - last >= LINK:
            level[i] = 3
        if level[i] == 3:
            last = i


def actions_open(words: list[str], concepts: list[Concept], level: list[int], start: int, stop: int) -> None:
    """Without punctuation an action that nothing leads up to opens a clause: 'stays shut | took the knee'."""
    nouns = {c.end: c.start for c in concepts if c.list in {"thing", "structure", "tissue", "form", "joint", "device"}}
    for c in concepts:
        if c.list not in OPENING or not start < c.start < stop:
            continue
        at = c.start
        while nouns.get(at, -1) > start:
            at = nouns[at]
        past = words[c.start].endswith("ed")
        if words[at - 1] in DENIERS and at < c.start and past:
            if words[c.end] not in OBJECTS:
                continue  # 'no graft trimmed'
            at = c.start  # 'no outside-in stitch | probed the whole thing'
        elif words[at - 1] in DENIERS and not past and at > start + 1:
            at -= 1
        if past and _had_done(words, max(start, at - HAD_WITHIN), at):
            continue
        before = words[at - 1]
        led = (
            before in LEADS
            or before in FINITE
            or before in DETERMINERS
            or before in PREPOSITIONS
            or before in CONNECTORS
        )
        if not led and not before.endswith("ly"):
            level[at] = max(level[at], 1)


def _had_done(words: list[str], start: int, at: int) -> bool:
    """'I had the needles opened': what somebody had done to a thing opens nothing."""
    return any(
        words[i] in {"had", "have", "got"} and words[i - 1] in PRONOUNS and words[i + 1] in DETERMINERS
        for i in range(start + 1, at - 1)
    )


def last_thing(things: dict[int, Concept], verb: int) -> int | None:
    """'... out the cannula | graft was thawed', 'brace locked | cuff was let down': of two things the last is meant."""
    own = things.get(verb)
    before = things.get(own.start) if own else None
    return own.start if own and before and own.name != before.name else None


def last_structure(structures: list[int], at: int, verb: int) -> int:
    """'... this ACL complete tear from femoral side | PCL is normal': of two structures the last is the subject."""
    inside = structures[bisect_left(structures, at) : bisect_left(structures, verb)]
    return inside[-1] if len(inside) > 1 and verb - inside[-1] <= LONGEST_NAME else at
