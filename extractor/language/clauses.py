"""Sentences and clauses: where one thought ends and the next begins.

Punctuation decides where there is any. In a long stretch without it, a new subject with its verb
('... the rim was prepared the defect measured ...') opens a sentence. A comma or 'and' between two
concepts of one list marked `coordinates` ('the medial meniscus, the lateral meniscus and the ACL
were intact') joins them and is no boundary.
"""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from functools import cached_property

from extractor.language import run_ons
from extractor.language.clause_words import (
    ASKING,
    CONNECTORS,
    DETERMINERS,
    ENDS_OBJECT,
    FINITE,
    FINITE_RUN_ON,
    NOT_HEADING,
    ORDINALS,
    PAUSES,
    POINTED,
    PREPOSITIONS,
    PRONOUNS,
    SENTENCE_END,
    TIMING,
    UNREAL,
)
from extractor.language.concepts import Concept

FRONTED, FRONTED_NOUN, FRONTED_RUN_ON = 3, 5, 1
"""Words that stand first and belong to the subject after them: 'Microfracture we discussed', 'A screw for it I had'."""
FRONTED_DENIALS = frozenset({"without", "rather", "instead"})
"""What opens with one of these is no part of what follows: 'Rather than resect | I repaired the tear'."""
INVERTING = frozenset({"did", "do", "does", "was", "were", "is", "are", "has", "have", "had", "could", "would", "will"})
NEGATIVE = frozenset({"nor", "neither", "never", "nowhere", "hardly", "rarely", "seldom"})
"""Words after which a verb comes before its subject."""
ARTICLES = frozenset({"the", "a", "an"})
AHEAD = 5
"""Words of a place told ahead of its 'it', at most: 'and from the capsule it is two millimeters'."""
NOTS = frozenset({"not", "n't", "never"})
RELATIVE = frozenset({"that", "which"})
HAVING = frozenset({"had", "has", "have"})
WORK = frozenset({"operation", "action"})
HEADING_WORDS = 3
ASKED_WORDS = 5
"""Words of a heading said as a question, at most."""
NUMBERED = frozenset({"grade", "grades", "type", "stage", "class", "number"})
"""Before a number these make it a name."""
RUN_ON = 40
"""A sentence of more words than this with hardly a pause in it is taken as speech without punctuation."""


@dataclass(frozen=True, slots=True)
class Span:
    """Tokens `[start, end)` of a sentence or clause, and its number among its kind."""

    start: int
    end: int
    number: int


@dataclass(frozen=True)
class Segmentation:
    """Sentences and clauses of a note. `level[i]`: 3 a sentence, 2 a pause, 1 a connector opens at token i."""

    sentences: tuple[Span, ...]
    clauses: tuple[Span, ...]
    level: tuple[int, ...]

    @cached_property
    def _clause_starts(self) -> list[int]:
        return [span.start for span in self.clauses]

    @cached_property
    def _sentence_starts(self) -> list[int]:
        return [span.start for span in self.sentences]

    def clause_at(self, token: int) -> Span:
        """The clause a token lies in."""
        return self.clauses[bisect_right(self._clause_starts, token) - 1]

    def sentence_at(self, token: int) -> Span:
        """The sentence a token lies in."""
        return self.sentences[bisect_right(self._sentence_starts, token) - 1]

    def clauses_of(self, sentence: Span) -> tuple[Span, ...]:
        """A sentence's clauses, in order."""
        first = self.clause_at(sentence.start).number
        last = self.clause_at(sentence.end - 1).number
        return self.clauses[first : last + 1]


def segment(
    words: list[str], concepts: list[Concept], coordinating: frozenset[str], fixed: list[tuple[int, int]]
) -> Segmentation:
    """Cut a note into sentences and clauses.

    Args:
        words: reading tokens.
        concepts: what was found in them; no boundary falls inside one.
        coordinating: lists whose concepts are joined by commas and 'and'.
        fixed: further spans no boundary may cut (quantities).
    """
    size = len(words)
    level = [0] * (size + 1)
    timed = {a for a, _ in fixed}
    for i, word in enumerate(words):
        if word in SENTENCE_END:
            level[i + 1] = 3
        elif word in PAUSES:
            level[i + 1] = max(level[i + 1], 2)
        elif word in CONNECTORS and not _within(words, i, timed):
            level[i] = max(level[i], 1)
    _hesitations(words, level)
    _join_answers(words, level)
    _join_openings(words, level, {c.start for c in concepts if c.list in {"finding", "joint"}} | {a for a, _ in fixed})
    _new_subjects(words, concepts, fixed, level)
    for start, end in [*((c.start, c.end) for c in concepts), *fixed]:
        for i in range(start + 1, min(end, size)):
            level[i] = 0
    _join_coordinates(words, concepts, coordinating, level)
    level[0] = 3
    sentences = _spans(level, size, 3)
    return Segmentation(sentences, _spans(level, size, 1), tuple(level[:size]))


def _within(words: list[str], i: int, timed: set[int]) -> bool:
    """Whether a connecting word opens nothing: 'after that the shaver', 'shall come after two weeks'."""
    if words[i] == "then" and i > 0 and words[i - 1] in FINITE:
        return True  # 'the tibia was then drilled'
    return (words[i] == "that" and i > 0 and words[i - 1] in POINTED) or (words[i] in TIMING and i + 1 in timed)


def _hesitations(words: list[str], level: list[int]) -> None:
    """'She was, um, asleep': of a hesitation the tokens keep only its commas, and these part nothing."""
    for i in range(len(words) - 2):
        if words[i] == "," == words[i + 1]:
            level[i + 1] = level[i + 2] = 0


def _join_answers(words: list[str], level: list[int]) -> None:
    """'Medial meniscus? Intact.' 'Tourniquet time? Forty minutes.': a form read aloud, each heading with its answer."""
    ends = [i for i, word in enumerate(words) if word in SENTENCE_END]
    for before, end, after in zip([-1, *ends], ends, ends[1:], strict=False):
        asked = words[before + 1 : end] if end - before - 1 <= ASKED_WORDS else []
        if words[end] == "?" and asked and not ASKING & set(asked) and words[after] not in {"?", "\n"}:
            level[end + 1] = 2


def _spans(level: list[int], size: int, least: int) -> tuple[Span, ...]:
    starts = [i for i in range(size) if level[i] >= least] or [0]
    return tuple(Span(a, b, n) for n, (a, b) in enumerate(zip(starts, [*starts[1:], size], strict=True)))


def _join_openings(words: list[str], level: list[int], found: set[int]) -> None:
    """'Tourniquet, inflated.' 'Irrigation, yes.': a few words before the first comma head what follows."""
    start = 0
    for i, word in enumerate(words):
        if word in SENTENCE_END:
            start = i + 1
        elif word in PAUSES:
            opening = words[start:i]
            follows = words[i + 1] if i + 1 < len(words) else ""
            if (
                word == ","
                and follows not in CONNECTORS
                and 0 < len(opening) <= HEADING_WORDS
                and not NOT_HEADING & set(opening)
                and not found & set(range(start, i))
            ):
                level[i + 1] = 0
            start = len(words)  # only the first comma of a sentence


def _new_subjects(words: list[str], concepts: list[Concept], fixed: list[tuple[int, int]], level: list[int]) -> None:
    measured = {b for _, b in fixed}
    told = {c.end for c in concepts if c.list == "finding" and c.start and words[c.start - 1] in FINITE}
    ends = {c.end: c.start for c in concepts if c.end not in told}  # '... is normal | lateral meniscus is ...'
    structures = sorted({c.start for c in concepts if c.list == "structure"})
    things = {c.end: c for c in concepts if c.list in {"thing", "device"}}
    after_work = _after_work(concepts)
    spelt = {
        i
        for c in concepts
        if c.end - c.start > 1 and all(len(w) == 1 for w in words[c.start : c.end])
        for i in range(c.start, c.end)
    }
    spelt |= {a for a, b in fixed if b - a > 1}  # the 'four' of 'four weeks' counts no noun
    places = run_ons.places_ahead(words, concepts)
    # '... thirty mm depth | tibial jig kept at fifty': what a size is of goes with it
    sized = {c.start: c.end for c in concepts if c.list == "dimension"}
    start = 0
    for stop in [i + 1 for i, w in enumerate(words) if w in SENTENCE_END] + [len(words)]:
        pauses = sum(words[i] in PAUSES for i in range(start, stop))
        run_on = stop - start > RUN_ON and pauses * 25 < stop - start
        for i in range(start + 1, stop):
            at = None
            if words[i] in FINITE or (run_on and words[i] in FINITE_RUN_ON):
                at = run_ons.last_thing(things, i) if run_on else None
                at = at or _behind_another(words, ends, start, i)
                at = at or _subject_start(words, ends, after_work, spelt, start, i)
                at = run_ons.last_structure(structures, at, i) if run_on and at is not None else at
            elif words[i] in PRONOUNS and i not in spelt and words[i - 1] not in PREPOSITIONS:
                at = i
            if words[i] == "had" and _is_inverted(words, start, i):
                at = i
            if at is None or at <= start or level[at] >= 2:
                continue
            opened = next((j for j in range(at - 1, start, -1) if level[j] >= 1), start)
            lead = words[opened:at]
            if lead and _leads_on(lead, words[at]):
                continue
            if (
                not FINITE & set(lead)
                and lead[0] not in FRONTED_DENIALS
                and (
                    (words[at] in PRONOUNS and _is_fronted(lead, run_on))
                    or (lead and lead[0] in PREPOSITIONS and len(lead) <= 7 and not run_on)
                    or (words[at] == "it" and lead[0] == "and" and 1 < len(lead) <= AHEAD and lead[1] in PREPOSITIONS)
                )
            ):
                continue  # 'Microfracture we have discussed', 'In the graft we passed': what stands first belongs to it
            at = places.get(at, at) if run_on else at
            at = _led_in(words, ends, measured if run_on else set(), at)
            at = sized.get(at, at) if run_on and at in measured else at
            if at > start and words[at - 1] not in ARTICLES:
                level[at] = 3 if run_on and words[at] not in CONNECTORS else max(level[at], 1)
        if run_on:
            run_ons.close_final(words, level, start, stop)
            run_ons.actions_open(words, concepts, level, start, stop)
            run_ons.pressures_close(words, measured, level, start, stop)
            run_ons.chained(words, level, start, stop)
        start = stop


def _leads_on(lead: list[str], word: str) -> bool:
    """Whether what stands before is one with what follows: 'Trimming the graft was ...', 'Not a shred of it was ...'.

    So it is where a denial puts the verb first: 'nor did the meniscus have a tear', 'at no point was the cuff up'.
    """
    gerund = len(lead) == 1 and lead[0].endswith("ing") and word in DETERMINERS
    denies = lead[0] in NEGATIVE or (lead[0] in PREPOSITIONS and lead[1:2] == ["no"]) or lead[:2] == ["not", "once"]
    inverted = denies and lead[-1] in INVERTING
    return gerund or lead[-1] == "not" or inverted


def _is_inverted(words: list[str], start: int, had: int) -> bool:
    """Whether a 'had' is an 'if': 'I would have used a second one | had it gapped'."""
    follows = words[had + 1] if had + 1 < len(words) else ""
    unreal = any(words[i] == "have" and words[i - 1] in UNREAL for i in range(start + 1, had))
    return unreal and (follows in PRONOUNS or follows in {"it", "the", "that", "this"})


def _is_fronted(lead: list[str], run_on: bool) -> bool:
    if run_on:
        return len(lead) <= FRONTED_RUN_ON
    noun = bool(lead) and lead[0] in DETERMINERS and not PAUSES & set(lead)
    return len(lead) <= (FRONTED_NOUN if noun else FRONTED)


def _after_work(concepts: list[Concept]) -> dict[int, int]:
    """Ends and starts of structures named right behind some work: 'no microfracture | menisci are intact'."""
    worked = {c.end for c in concepts if c.list in WORK}
    return {c.end: c.start for c in concepts if c.list == "structure" and c.start in worked}


def _led_in(words: list[str], ends: dict[int, int], measured: set[int], at: int) -> int:
    """Where a subject opens with what leads it in: '| and the rim was', '... forty millimeters | tibia we set ...'."""
    if words[at - 1] in CONNECTORS:
        return at - 1
    return ends[at] if words[at] in PRONOUNS and ends.get(at) in measured else at


def _behind_another(words: list[str], ends: dict[int, int], floor: int, verb: int) -> int | None:
    """'... on the right knee | first ACL was ...': a subject that its number parts from the thing before it."""
    at = ends.get(verb, floor) - 1
    if at <= floor or words[at] not in ORDINALS or words[at - 1] in DETERMINERS | PREPOSITIONS:
        return None
    return at if at in ends else None


def _no_article(words: list[str], spelt: set[int], i: int) -> bool:
    """Whether what looks like an article is none: the 'a' of 'A C L', the 'one' of 'grade one softening'."""
    apart = i in spelt and (len(words[i]) == 1 or words[i] in DETERMINERS)
    return apart or (i > 0 and words[i - 1] in NUMBERED)


def _subject_start(
    words: list[str], ends: dict[int, int], after_work: dict[int, int], spelt: set[int], floor: int, verb: int
) -> int | None:
    """First token of the noun phrase before a finite verb, None where none is seen within eight words."""
    i, found = verb, None
    while i > floor and verb - i < 8:
        i -= 1
        word = words[i]
        if word in SENTENCE_END or word in PAUSES or word in FINITE:
            break
        if word in CONNECTORS and word != "or":
            break
        if _no_article(words, spelt, i):
            continue
        if word in DETERMINERS or word in PRONOUNS or word in {"it", "no"}:
            found = i
            if i > floor and words[i - 1] in PREPOSITIONS:
                continue
            if word not in {"two", "three", "four", "one", "all", "both"}:
                break
    named = verb
    while named in ends and ends[named] >= floor:
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


def _join_coordinates(
    words: list[str], concepts: list[Concept], coordinating: frozenset[str], level: list[int]
) -> None:
    listed = [c for c in concepts if c.list in coordinating]
    by_start: dict[int, list[Concept]] = {}
    for c in listed:
        by_start.setdefault(c.start, []).append(c)
    for left in listed:
        i, joined = left.end, False
        while i < len(words) and i - left.end < 5:
            if joined and i in by_start:
                break
            if words[i] in {",", "and", "or", "/", "as", "well"}:
                joined = True
            elif words[i] not in {"the", "a", "an", "both"}:
                break
            i += 1
        if joined and any(c.list == left.list for c in by_start.get(i, ())):
            for j in range(left.end, i + 1):
                level[j] = 0
