"""Where the subject of a verb opens: the noun before it, as far back as it goes."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass

from extractor.grammar.packs import Grammar
from extractor.language.clause_words import (
    CONNECTORS,
    DETERMINERS,
    ENDS_OBJECT,
    FINITE,
    FINITE_RUN_ON,
    ORDINALS,
    PAUSES,
    PREPOSITIONS,
    PRONOUNS,
    SENTENCE_END,
    UNREAL,
)
from extractor.language.concepts import Concept
from extractor.language.run_on import HAVING, NOUNS, behind_verb, last_thing, places_ahead, sizes_closed

LONGEST_SUBJECT, LONGEST_NUMBER = 8, 16
"""Words of a subject, at most, and of a number spelt out in it, which are not counted."""
LONGEST_NAME = 3
"""Words of a structure's name, spelt out, at most."""
NOTS = frozenset({"not", "n't", "never"})
RELATIVE = frozenset({"that", "which"})
WORK = frozenset({"operation", "action"})


SUBJECTS = FINITE | PRONOUNS | {"had"}
SUBJECTS_RUN_ON = SUBJECTS | FINITE_RUN_ON
"""Words at which a subject may be found: its verb, or a pronoun; the latter in speech without punctuation."""


@dataclass(frozen=True)
class Nouns:
    """What nouns are told apart by: where they end and begin, and what lies between them and a verb."""

    ends: dict[int, int]
    structures: list[int]
    joints: set[int]
    after_work: dict[int, int]
    spelt: set[int]
    places: dict[int, int]
    measured: set[int]
    closed: set[int]
    sized: dict[int, int]
    things: dict[int, Concept]
    positions: dict[int, int]
    numbered: set[int]
    named: frozenset[str]
    """Words before a number that make it a name."""


def nouns_of(words: list[str], concepts: list[Concept], fixed: list[tuple[int, int]], grammar: Grammar) -> Nouns:
    """The nouns of a note, from its concepts and the spans of its quantities."""
    spelt = {
        i
        for c in concepts
        if c.end - c.start > 1 and len(words[c.start]) == 1 and all(len(w) == 1 for w in words[c.start : c.end])
        for i in range(c.start, c.end)
    }
    spelt |= {i for a, b in fixed if b - a > 1 for i in range(a, b)}  # the 'four' of 'four weeks' counts no noun
    return Nouns(
        _noun_ends(words, concepts),
        sorted({c.start for c in concepts if c.list == "structure"}),
        {c.end for c in concepts if c.list == "joint" or c.key == "noun:the-knee"},
        _after_work(concepts),
        spelt,
        places_ahead(words, concepts),
        {b for _, b in fixed},
        sizes_closed(words, concepts, fixed, grammar),
        # '... thirty mm depth | tibial jig kept at fifty': what a size is of goes with it
        {c.start: c.end for c in concepts if c.list == "dimension"},
        {c.end: c for c in concepts if c.list in {"thing", "device"}},
        _positions(concepts),
        _numbers_of_things(words, concepts, fixed, grammar),
        grammar.plain_words("before-name"),
    )


def _numbers_of_things(
    words: list[str], concepts: list[Concept], fixed: list[tuple[int, int]], grammar: Grammar
) -> set[int]:
    """Tokens of an identifier and of the word that bears it: 'tissue I D five one nine'."""
    named = {c.end: c.start for c in concepts if c.list == "identifier"}
    bears = grammar.plain_words("bears-number")
    return {i for a, b in fixed if words[a - 1] in bears or a in named for i in range(named.get(a, a), b)}


def _positions(concepts: list[Concept]) -> dict[int, int]:
    """Where a place in two words ends and begins: 'posterior superior'."""
    surfaces = {c.start: c.end for c in concepts if c.list == "surface"}
    return {surfaces[c.end]: c.start for c in concepts if c.list == "region" and c.end in surfaces}


def _noun_ends(words: list[str], concepts: list[Concept]) -> dict[int, int]:
    told = {
        c.end
        for c in concepts
        if (
            (c.list == "finding" or (c.end - c.start == 1 and words[c.start][-2:] == "ed"))
            and behind_verb(words, c.start)
        )
        or (c.list == "dimension" and PREPOSITIONS & set(words[c.start - 1 : c.start + 1]))
    }
    ends = {c.end: c.start for c in concepts if c.end not in told}  # '... is normal | lateral meniscus is ...'
    for c in concepts:
        if c.list in NOUNS and c.end in ends and words[c.start] not in PREPOSITIONS:
            ends[c.end] = min(c.start, ends[c.end])  # the 'quad tendon', not the 'tendon'
    return ends


def subject_at(words: list[str], nouns: Nouns, start: int, i: int, *, run_on: bool) -> int | None:
    """Where the subject of the verb at token `i` opens, or that a pronoun there is."""
    if words[i] == "had" and _is_inverted(words, start, i):
        return i
    owned = words[i : i + 2] == ["'s", "own"]  # 'fourteen millimeters from the graft's own root'
    if not owned and (words[i] in FINITE or (run_on and words[i] in FINITE_RUN_ON)):
        at = last_thing(nouns.things, i) or _last_place(nouns, i) if run_on else None
        at = at or _behind_another(words, nouns.ends, start, i)
        at = at or _subject_start(words, nouns, start, i)
        if not run_on:
            return at
        at = _behind_size(nouns.ends, nouns.closed, nouns.sized, start, i) or at
        return at if at is None else _last_structure(nouns.structures, nouns.joints, at, i)
    way = i - nouns.ends.get(i, i) > 1  # 'instead of an outside-in | I did ...'
    pronoun = words[i] in PRONOUNS and i not in nouns.spelt and (way or words[i - 1] not in PREPOSITIONS)
    return i if pronoun else None


def _last_place(nouns: Nouns, verb: int) -> int | None:
    """'... no tissue bridge | posterior superior was knotted': a place behind a thing is what is told of."""
    at = nouns.positions.get(verb)
    return at if at in nouns.things else None


def _after_work(concepts: list[Concept]) -> dict[int, int]:
    """Ends and starts of structures named right behind some work: 'no microfracture | menisci are intact'."""
    worked = {c.end for c in concepts if c.list in WORK}
    return {c.end: c.start for c in concepts if c.list == "structure" and c.start in worked}


def _behind_another(words: list[str], ends: dict[int, int], floor: int, verb: int) -> int | None:
    """'... on the right knee | first ACL was ...': a subject that its number parts from the thing before it."""
    at = ends.get(verb, floor) - 1
    if at <= floor or words[at] not in ORDINALS or words[at - 1] in DETERMINERS | PREPOSITIONS:
        return None
    return at if at in ends else None


def _no_article(words: list[str], nouns: Nouns, i: int) -> bool:
    """Whether what looks like an article is none: the 'a' of 'A C L', the 'one' of 'grade one softening'."""
    apart = i in nouns.spelt and (len(words[i]) == 1 or words[i] in DETERMINERS)
    apart = apart or i in nouns.numbered
    return apart or (i > 0 and words[i - 1] in nouns.named)


def _subject_start(words: list[str], nouns: Nouns, floor: int, verb: int) -> int | None:
    """First token of the noun phrase before a finite verb, None where none is seen within so many words."""
    ends, after_work = nouns.ends, nouns.after_work
    i, found, far = verb, None, verb
    while i > floor and far - i < LONGEST_SUBJECT:
        i -= 1
        word = words[i]
        far -= i in nouns.numbered and verb - far < LONGEST_NUMBER  # '| the tissue number h 7 7 1 2 was thawed'
        if word in SENTENCE_END or word in PAUSES or word in FINITE:
            break
        if word in CONNECTORS and word != "or":
            break
        if _no_article(words, nouns, i):
            continue
        if word in DETERMINERS or word in PRONOUNS or word in {"it", "no"}:
            found = i
            if i > floor and words[i - 1] in PREPOSITIONS:
                continue
            if word not in {"two", "three", "four", "one", "all", "both"}:
                break
    named = verb
    while named in ends and ends[named] >= floor and not (named < verb and words[named - 1] in ENDS_OBJECT):
        named = ends[named]
    if named < verb and words[named - 1] in ENDS_OBJECT:
        return named  # '... consented her for it | tourniquet time was ...'
    if found is not None:
        denied = words[found] == "no" and verb in after_work
        return after_work[verb] if denied else None if found > floor and words[found - 1] in PREPOSITIONS else found
    start = verb
    while start in ends and ends[start] >= floor and not (start < verb and words[ends[start] - 1] in FINITE):
        start = ends[start]  # no further than what the verb before says: '... is white | posterior inferior is blue'
    relative = start > 2 and words[start - 3] in RELATIVE and words[start - 1] in HAVING
    apart = words[start] in NOTS or (relative and words[start].endswith("ed"))  # 'the one that I had prepared was not'
    return start if start < verb and words[start - 1] not in PREPOSITIONS and not apart else None


def _last_structure(structures: list[int], joints: set[int], at: int, verb: int) -> int:
    """'... this ACL complete tear from femoral side | PCL is normal': of two structures the last is the subject.

    So is one right behind the joint: '... we scoped the joint | lateral meniscus looked normal'.
    """
    inside = structures[bisect_left(structures, at) : bisect_left(structures, verb)]
    told = inside and (len(inside) > 1 or inside[-1] in joints)
    return inside[-1] if told and verb - inside[-1] <= LONGEST_NAME else at


def _behind_size(ends: dict[int, int], closed: set[int], sized: dict[int, int], floor: int, verb: int) -> int | None:
    """'... a length of sixty millimeters | portals were made': a subject right behind a size that is told in full."""
    start = verb
    while start in ends and ends[start] >= floor and start not in closed:
        start = ends[start]
    return start if start in closed and sized.get(start, start) < verb else None


def _is_inverted(words: list[str], start: int, had: int) -> bool:
    """Whether a 'had' is an 'if': 'I would have used a second one | had it gapped'."""
    follows = words[had + 1] if had + 1 < len(words) else ""
    unreal = any(words[i] == "have" and words[i - 1] in UNREAL for i in range(start + 1, had))
    return unreal and (follows in PRONOUNS or follows in {"it", "the", "that", "this"})
