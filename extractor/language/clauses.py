"""Sentences and clauses: where one thought ends and the next begins.

Punctuation decides where there is any. In a long stretch without it, a new subject with its verb
('... the rim was prepared the defect measured ...') opens a sentence; where a note has none at all, what
`unpunctuated` weighs does, too. A comma or 'and' between two
concepts of one list marked `coordinates` ('the medial meniscus, the lateral meniscus and the ACL
were intact') joins them and is no boundary.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

from extractor.grammar.packs import Grammar
from extractor.language.clause_words import (
    ASKING,
    CONNECTORS,
    DETERMINERS,
    FINITE,
    NOT_HEADING,
    PAUSES,
    POINTED,
    PREPOSITIONS,
    PRONOUNS,
    SENTENCE_END,
    TIMING,
)
from extractor.language.concepts import Concept
from extractor.language.coordinates import join_coordinates
from extractor.language.corrections import cue_at
from extractor.language.numbers import atom_at
from extractor.language.run_on import (
    actions_open,
    chained,
    close_final,
    contrasts_open,
    pressures_close,
    sizes_open,
    statements_open,
    turns_open,
    within_runs,
)
from extractor.language.subjects import SUBJECTS, SUBJECTS_RUN_ON, nouns_of, subject_at
from extractor.language.unpunctuated import thoughts_open
from extractor.language.values import value

FRONTED, FRONTED_NOUN, FRONTED_RUN_ON = 3, 5, 1
"""Words that stand first and belong to the subject after them: 'Microfracture we discussed', 'A screw for it I had'."""
FRONTED_DENIALS = frozenset({"without", "rather", "instead"})
"""What opens with one of these is no part of what follows: 'Rather than resect | I repaired the tear'."""
INVERTING = frozenset({"did", "do", "does", "was", "were", "is", "are", "has", "have", "had", "could", "would", "will"})
NEGATIVE = frozenset({"nor", "neither", "never", "nowhere", "hardly", "rarely", "seldom"})
"""Words after which a verb comes before its subject."""
DEEDS = frozenset({"action", "verb"})
POINTED_AT = 4
"""Words behind 'that' among which a verb makes it open a clause."""
ARTICLES = frozenset({"the", "a", "an"})
AHEAD = 5
"""Words of a place told ahead of its 'it', at most: 'and from the capsule it is two millimeters'."""
LED_BY = 5
"""Words of a place that leads in a subject where nothing is punctuated, at most: 'then for the body | I'."""
HEADING_WORDS = 3
SETTLED = frozenset({"in", "on", "up", "down", "out", "off"})
"""Words behind which a 'nothing' opens a thought of its own: 'Graft in, | nothing was caught'."""
ASKED_WORDS = 5
"""Words of a heading said as a question, at most."""
SPEAKERS = frozenset({"i", "we"})
TURNED = frozenset({"anyway", "okay", "now", "well", "too", "next", "right"})
"""Words behind which the talk begins anew."""
PARTICIPLES = frozenset({"done", "made", "taken", "put", "given", "kept", "met", "heard", "drilled"})
RUN_ON = 40
"""A sentence of more words than this with hardly a pause in it is taken as speech without punctuation."""


@value(frozen=True, slots=True)
class Span:
    """Tokens `[start, end)` of a sentence or clause, and its number among its kind.

    `said` are its words, `lists` those lists of which a concept opens in it: what looks for words or concepts that are
    not among them need not look further.
    """

    start: int
    end: int
    number: int
    said: frozenset[str] = field(compare=False, repr=False)
    lists: frozenset[str] = field(compare=False, repr=False)


NAMES_IT = (["that", "'s"], ["that", "is"], ["this", "is"], ["that", "was"], ["this", "was"])
IS_IT = (["is"], ["was"], ["for"])
BEFORE_NUMBER = frozenset({"and", "then"})
NAMED_WITHIN = 6
"""Words from 'that's' to the dimension it names, at most."""


@dataclass(frozen=True)
class Segmentation:
    """Sentences and clauses of a note. `level[i]`: 3 a sentence, 2 a pause, 1 a connector opens at token i."""

    sentences: tuple[Span, ...]
    clauses: tuple[Span, ...]
    level: tuple[int, ...]

    @cached_property
    def said(self) -> frozenset[str]:
        """The words of the note."""
        return frozenset().union(*(span.said for span in self.sentences))

    @cached_property
    def lists(self) -> frozenset[str]:
        """The lists of which it has a concept."""
        return frozenset().union(*(span.lists for span in self.sentences))

    @cached_property
    def clause_by_token(self) -> list[Span]:
        """The clause of each token."""
        return [span for span in self.clauses for _ in range(span.start, span.end)]

    @cached_property
    def sentence_by_token(self) -> list[Span]:
        """The sentence of each token."""
        return [span for span in self.sentences for _ in range(span.start, span.end)]

    @cached_property
    def _clauses_by_sentence(self) -> list[tuple[Span, ...]]:
        ends = [self.clause_at(span.end - 1).number + 1 for span in self.sentences]
        return [self.clauses[first:end] for first, end in zip([0, *ends], ends, strict=False)]

    def clause_at(self, token: int) -> Span:
        """The clause a token lies in."""
        return self.clause_by_token[token] if 0 <= token < len(self.level) else self.clauses[-1]

    def sentence_at(self, token: int) -> Span:
        """The sentence a token lies in."""
        return self.sentence_by_token[token] if 0 <= token < len(self.level) else self.sentences[-1]

    def clauses_of(self, sentence: Span) -> tuple[Span, ...]:
        """A sentence's clauses, in order."""
        return self._clauses_by_sentence[sentence.number]

    def by_clause(self, concepts: Sequence[Concept]) -> list[list[Concept]]:
        """What opens in each clause, of concepts that are in order."""
        starts = [c.start for c in concepts]
        ends = [bisect_left(starts, span.end) for span in self.clauses]
        return [list(concepts[first:end]) for first, end in zip([0, *ends], ends, strict=False)]


def segment(
    words: list[str],
    concepts: list[Concept],
    coordinating: frozenset[str],
    fixed: list[tuple[int, int]],
    grammar: Grammar,
) -> Segmentation:
    """Cut a note into sentences and clauses.

    Args:
        words: reading tokens.
        concepts: what was found in them, by place; no boundary falls inside one.
        coordinating: lists whose concepts are joined by commas and 'and'.
        fixed: further spans no boundary may cut (quantities).
        grammar: the packs that read the note.
    """
    size = len(words)
    level = [0] * (size + 1)
    timed = {a for a, _ in fixed}
    deeds = {c.end for c in concepts if c.list in DEEDS}
    for i, word in enumerate(words):
        if word in SENTENCE_END:
            level[i + 1] = 3
        elif word in PAUSES:
            level[i + 1] = max(level[i + 1], 2)
        elif word in CONNECTORS and not _within(words, i, timed) and not (i in deeds and _points(words, i)):
            level[i] = max(level[i], 1)
    _hesitations(words, level)
    _join_answers(words, level)
    _join_openings(words, level, {c.start for c in concepts if c.list in {"finding", "joint"}} | {a for a, _ in fixed})
    _new_subjects(words, concepts, fixed, level, grammar)
    _join_names(words, concepts, fixed, level)
    for start, end in [*[(c.start, c.end) for c in concepts if c.end - c.start > 1], *fixed]:
        for i in range(start + 1, min(end, size)):
            level[i] = 0
    join_coordinates(words, concepts, coordinating, level)
    level[0] = 3
    thoughts_open(words, concepts, fixed, level, grammar)
    return Segmentation(_spans(level, words, concepts, 3), _spans(level, words, concepts, 1), tuple(level[:size]))


def _points(words: list[str], i: int) -> bool:
    """'Tidy that edge up': right behind what is done, a 'that' points at a thing, and opens nothing."""
    after = words[i + 1 : i + 1 + POINTED_AT]
    plain = bool(after) and after[0].isalpha() and after[0] not in DETERMINERS | PRONOUNS | PREPOSITIONS | {"it"}
    return words[i] == "that" and plain and FINITE.isdisjoint(after)


def _within(words: list[str], i: int, timed: set[int]) -> bool:
    """Whether a connecting word opens nothing: 'after that the shaver', 'shall come after two weeks'."""
    if words[i] == "then" and i > 0 and words[i - 1] in FINITE:
        return True  # 'the tibia was then drilled'
    return (words[i] == "that" and i > 0 and words[i - 1] in POINTED) or (words[i] in TIMING and i + 1 in timed)


def _hesitations(words: list[str], level: list[int]) -> None:
    """'She was, um, asleep': of a hesitation the tokens keep only its commas, and these part nothing.

    In 'four stitches, um, no, five' what follows takes something back, and is apart.
    """
    for i in range(len(words) - 2):
        cue = cue_at(words, i + 2) if words[i] == "," == words[i + 1] else None
        set_off = cue is not None and words[cue[1] : cue[1] + 1] == [","]
        if words[i] == "," == words[i + 1] and not set_off:
            level[i + 1] = level[i + 2] = 0


def _join_answers(words: list[str], level: list[int]) -> None:
    """'Medial meniscus? Intact.' 'Tourniquet time? Forty minutes.': a form read aloud, each heading with its answer."""
    ends = [i for i, word in enumerate(words) if word in SENTENCE_END]
    for before, end, after in zip([-1, *ends], ends, ends[1:], strict=False):
        asked = words[before + 1 : end] if end - before - 1 <= ASKED_WORDS else []
        if words[end] == "?" and asked and not ASKING & set(asked) and words[after] not in {"?", "\n"}:
            level[end + 1] = 2


def named_behind(words: Sequence[str], at: int) -> int:
    """Where the name of a number that ends at a token opens: 'nine, that's | rim to free edge'; the token if not so."""
    opens = at + (words[at : at + 1] in ([","], ["."]))
    if list(words[opens : opens + 2]) in NAMES_IT:
        return opens + 2
    return at + 1 if words[at : at + 1] in IS_IT else at


def _join_names(words: list[str], concepts: list[Concept], fixed: list[tuple[int, int]], level: list[int]) -> None:
    """'Twenty millimeters, that's the defect along the rim': what a number opens with is named behind it."""
    dimensions = sorted((c.start, c.end) for c in concepts if c.list == "dimension")
    ends = {end for _, end in dimensions}
    for start, end in fixed:
        opens = named_behind(words, end)
        named = bisect_left(dimensions, (opens, 0))
        if opens == end or named == len(dimensions) or dimensions[named][0] >= opens + NAMED_WITHIN:
            continue
        if start in ends:
            level[start] = max(level[start], 1)  # 'eight, that's rim to free edge | twelve, that's off the root'
        if level[start] or words[start - 1] in BEFORE_NUMBER:
            level[end : opens + 1] = [0] * (opens + 1 - end)


def _spans(level: list[int], words: list[str], concepts: list[Concept], least: int) -> tuple[Span, ...]:
    size = len(words)
    starts = [i for i in range(size) if level[i] >= least] or [0]
    opens, lists = [c.start for c in concepts], [c.list for c in concepts]
    found: list[Span] = []
    first = 0
    for start, end in zip(starts, [*starts[1:], size], strict=True):
        last = bisect_left(opens, end, first)
        found.append(Span(start, end, len(found), frozenset(words[start:end]), frozenset(lists[first:last])))
        first = last
    return tuple(found)


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
                and not (follows == "nothing" and opening[-1] in SETTLED)
                and not NOT_HEADING & set(opening)
                and not found & set(range(start, i))
            ):
                level[i + 1] = 0
            start = len(words)  # only the first comma of a sentence


TAKES_ONE = frozenset({"get", "got", "need", "want", "take", "took", "use", "make", "do", "place", "add", "have"})
"""Verbs of which a 'one' behind is the object."""


def _new_subjects(
    words: list[str], concepts: list[Concept], fixed: list[tuple[int, int]], level: list[int], grammar: Grammar
) -> None:
    nouns = nouns_of(words, concepts, fixed, grammar)
    techniques = {c.start for c in concepts if c.list == "technique"}
    start, runs = 0, []
    for stop in [i + 1 for i, w in enumerate(words) if w in SENTENCE_END] + [len(words)]:
        run_on = stop - start > RUN_ON and sum([w in PAUSES for w in words[start:stop]]) * 25 < stop - start
        verbs = SUBJECTS_RUN_ON if run_on else SUBJECTS
        for i in [i for i in range(start + 1, stop) if words[i] in verbs]:
            at = subject_at(words, nouns, start, i, run_on=run_on)
            if at is None or at <= start or level[at] >= 2:
                continue
            at += words[at] == "one" and words[at - 1] in TAKES_ONE  # '... and did not get one | had it buckled ...'
            opened = next((j for j in range(at - 1, start, -1) if level[j] >= 1), start)
            if _is_place(words, opened, at):
                continue
            if _belongs_before(words[opened:at], words[at], run_on=run_on):
                continue
            at = nouns.places.get(at, at) if run_on else at
            at = _led_in(words, nouns.ends, nouns.measured if run_on else set(), at)
            at = nouns.sized.get(at, at) if run_on and at in nouns.measured else at
            at = _object_first(words, nouns.ends, at) if run_on else at
            counted = at in techniques and atom_at(words, at - 1) is not None  # 'eight | all inside stitches were'
            if at > start and words[at - 1] not in ARTICLES and not counted:
                level[at] = 3 if run_on and words[at] not in CONNECTORS else max(level[at], 1)
        if run_on:
            runs.append((start, stop))
            close_final(words, level, start, stop)
        start = stop
    for (start, stop), own in zip(runs, within_runs(runs, concepts), strict=True):
        actions_open(words, own, level, start, stop, grammar)
        sizes_open(words, own, fixed, level, start, stop, grammar)
        pressures_close(words, nouns.measured, level, start, stop, grammar)
        chained(words, level, start, stop)
        turns_open(words, level, start, stop, grammar)
    statements_open(words, concepts, fixed, runs, level, grammar)
    contrasts_open(words, concepts, level)


def _is_place(words: list[str], opened: int, at: int) -> bool:
    """'The suggestion to do a clot there was not followed': a 'there' that only says where, and opens nothing."""
    opened += words[opened] in CONNECTORS
    if words[at] != "there" or words[opened] not in DETERMINERS or words[at + 2 : at + 3] not in (["not"], ["n't"]):
        return False
    passive = words[at + 3 : at + 4] and (words[at + 3].endswith("ed") or words[at + 3] in PARTICIPLES)
    return bool(passive) and FINITE.isdisjoint(words[opened:at])


def _belongs_before(lead: list[str], word: str, *, run_on: bool) -> bool:
    """Whether what stands first belongs to what follows: 'Microfracture we discussed', 'In the graft we passed'."""
    if not lead:
        return False
    if _leads_on(lead, word):
        return True
    fronted = word in PRONOUNS and _is_fronted(lead, run_on)
    placed = lead[0] in PREPOSITIONS and len(lead) <= 7 and not run_on
    led = run_on and word in PRONOUNS and len(lead) <= LED_BY and lead[0] in CONNECTORS
    placed = placed or (led and lead[1:2] != [] and lead[1] in PREPOSITIONS)  # '... and for the body we went over to'
    ahead = word == "it" and lead[0] == "and" and 1 < len(lead) <= AHEAD and lead[1] in PREPOSITIONS
    return not FINITE & set(lead) and lead[0] not in FRONTED_DENIALS and (fronted or placed or ahead)


def _leads_on(lead: list[str], word: str) -> bool:
    """Whether what stands before is one with what follows: 'Trimming the graft was ...', 'Not a shred of it was ...'.

    So it is where a denial puts the verb first: 'nor did the meniscus have a tear', 'at no point was the cuff up'.
    """
    gerund = len(lead) == 1 and lead[0].endswith("ing") and word in DETERMINERS
    denies = lead[0] in NEGATIVE or (lead[0] in PREPOSITIONS and lead[1:2] == ["no"]) or lead[:2] == ["not", "once"]
    inverted = (denies and lead[-1] in INVERTING) or lead == ["had"]  # 'Had they left a gap, | I would have ...'
    return gerund or lead[-1] == "not" or inverted


def _is_fronted(lead: list[str], run_on: bool) -> bool:
    if run_on:
        return len(lead) <= FRONTED_RUN_ON
    noun = bool(lead) and (lead[0] in DETERMINERS or "of" in lead) and not PAUSES & set(lead)
    return len(lead) <= (FRONTED_NOUN if noun else FRONTED)


def _led_in(words: list[str], ends: dict[int, int], measured: set[int], at: int) -> int:
    """Where a subject opens with what leads it in: '| and the rim was', '... forty millimeters | tibia we set ...'."""
    if words[at - 1] in CONNECTORS:
        return at - 1
    return ends[at] if words[at] in PRONOUNS and ends.get(at) in measured else at


def _object_first(words: list[str], ends: dict[int, int], at: int) -> int:
    """'... too anyway | the rim i freshened with the biter': what was done to it stands before 'I' and its verb."""
    noun = ends.get(at, at) - 1
    if words[at] not in SPEAKERS or noun < 1 or noun + 1 == at or words[noun] not in DETERMINERS:
        return at
    without_object = words[at + 2 : at + 3] and words[at + 2] in PREPOSITIONS
    return noun if without_object and words[noun - 1] in TURNED else at
