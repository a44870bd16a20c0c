"""The note as the rules see it: concepts by clause and sentence, and what was last said of each list.

This is the small running context: a clause that leaves the tissue, the structure or the compartment
unsaid takes the one last named, and the evidence says so.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property, lru_cache

from extractor.facts.draft import Span
from extractor.facts.other_knee import SIDES, frames_the_next, is_subject_across, readied, sized_there
from extractor.facts.over_there import over_there
from extractor.facts.whose_knee import only_beside
from extractor.language.annotate import Note
from extractor.language.asserted import Assertion
from extractor.language.clause_words import FINITE
from extractor.language.clauses import Span as Stretch
from extractor.language.concepts import Concept
from extractor.language.corrections import only_fillers, taken_back
from extractor.language.quantities import Quantity
from extractor.language.verbs import verbal

OTHER_KNEE = Assertion("history")
OTHER = frozenset({"other", "opposite", "contralateral"})
OF_BOTH = frozenset({"aside", "donor-side", "harvest-word", "joint-exam"})
"""Lists whose words beside 'the other knee' tell of this case too: it was compared, or the graft was taken there."""
WHEN = frozenset({"when", "while", "back"})
GOES_ON = frozenset({"that", "which", "it", "this", "who"})
"""Words that point back to what the clause before told, ahead of a verb."""
MEANT_FIRST = Assertion("planned")
TURNED = 8
"""Tokens of what was meant first, at most."""
BECAME = frozenset({"to", "into", "ended", "became", "finished", "turned", ","})
UNREAL = frozenset({"history", "habit", "withdrawn"})
"""Moods whose words do not move the running context."""
IMAGINED = UNREAL | {"conditional"}
"""... and of which nothing is read that holds for the case as a whole."""
THERE = frozenset({"in", "on", "across"})
OWNING = frozenset({"the", "his", "her", "their"})
"""Between 'in' and the knee that it is."""
LEAD = 24
"""Tokens looked at for a word of correction before what it puts right."""


class Case:
    """One note with its indexes. Built once a note, then only read.

    Whatever looks something up does so by place (`within`, `last`, `numbers`) and never runs through the whole
    note: a rule is tried on every clause, so that a look through all would take time with the square of the length.
    """

    def __init__(
        self, note: Note, elsewhere: frozenset[int] = frozenset(), across: frozenset[int] = frozenset()
    ) -> None:
        """Index the note's concepts by list and by clause.

        The clauses `elsewhere` are about the other knee, and of other clauses the tokens `across`.
        """
        self.note = note
        self.grammar = note.grammar
        self.words = note.words  # the reading tokens
        self._size = len(self.words)
        self._clauses, self._sentences = note.segments.clause_by_token, note.segments.sentence_by_token
        self.by_list: dict[str, list[Concept]] = defaultdict(list)
        self.in_clause = note.segments.by_clause(note.concepts)
        for c in note.concepts:
            self.by_list[c.list].append(c)
        self._starts = {name: [c.start for c in found] for name, found in self.by_list.items()}
        self._longest: dict[str, int] = {}
        self._lasting: dict[str, tuple[list[int], list[Concept]]] = {}
        self._number_starts = [q.start for q in note.quantities]
        self._final_starts = [q.number_start for q in note.quantities]
        self._sized = [q for q in note.quantities if q.dimension]
        self.limb = note.grammar.plain_words("limb-word")
        self._across = across
        self._elsewhere = self._other_knee() | elsewhere
        self._elsewhere |= over_there(self, self._elsewhere)
        self.clause_keys = [frozenset([c.key for c in own]) for own in self.in_clause]
        self.keys = frozenset().union(*self.clause_keys)
        self.meant_keys = self._meant()

    def _meant(self) -> frozenset[str]:
        """Keys of what is meant at least once."""
        meant: set[str] = set()
        for number, own in enumerate(self.in_clause):
            if self.note.assertions[number].done and number not in self._elsewhere and not self._turned_from:
                meant |= self.clause_keys[number]
            else:
                meant.update([c.key for c in own if c.key not in meant and self._is_meant(c)])
        return frozenset(meant)

    def _is_meant(self, c: Concept) -> bool:
        """Whether a thing is told of, and not only thought of, denied, or done by others."""
        told = self.assertion(c.start)
        return told.mood not in {"considered", "conditional", "habit"} and not told.declines(c.start)

    def _other_knee(self) -> frozenset[int]:
        """Clauses about the knee that is not operated on: a side, its joint, and a word that it is not this one."""
        found = set()
        for side in self.by_list["side"]:
            clause = self.clause(side.start)
            apart = [c for c in self.in_clause[clause.number] if c.list == "uninvolved"]
            if apart and not only_beside(self, side) and not all(self.said_of_part(clause, c) for c in apart):
                found.add(clause.number)
        for c in self.by_list["uninvolved"]:
            own = {c.list for c in self.in_clause[self.clause(c.start).number]}
            said = set(self.words[c.start : c.end])
            if said & OTHER and said & self.limb and own.isdisjoint(OF_BOTH):
                found.add(self.clause(c.start).number)
            elif is_subject_across(self, c) and not readied(self, c):
                found.add(self.clause(c.start).number)
        across = [self._looked_across(c) for c in self.by_list["uninvolved"]]
        found |= {clause.number for clause in across if clause}
        on = {n + 1 for n in found if self._says_it_of(n + 1, n) or frames_the_next(self, n)}
        return frozenset(found | on | {n for number in found for n in self._going_on(number)})

    @property
    def elsewhere(self) -> frozenset[int]:
        """Clauses that tell of the other knee."""
        return self._elsewhere

    def said_of_part(self, clause: Stretch, sound: Concept) -> bool:
        """'Right knee, trochlea is fine', 'the lateral is fine': what is said of a part is not said of the knee."""
        found = self.within("finding", sound.start, sound.start + 1)
        named = self.within("structure", clause.start, sound.start) or self.within(
            "compartment", sound.start - 1, sound.start
        )
        return bool(named and found)

    def _looked_across(self, other: Concept) -> Stretch | None:
        """The clause of a word for the other knee that tells of it alone: 'in the opposite knee the tear was ...'."""
        clause = self.clause(other.start)
        at = other.start - 1
        while at > clause.start and self.words[at] in OWNING:
            at -= 1
        joints = [c for c in self.in_clause[clause.number] if c.list == "joint"]
        near = any(other.start < c.end <= other.end + 1 for c in joints)
        there = at >= clause.start and self.words[at] in THERE
        near = near or self.words[other.end - 1] in SIDES | self.limb
        compared = any(c.key == "aside:compared" and c.start >= other.end for c in self.in_clause[clause.number])
        return clause if near and (there or compared) else None

    def _says_it_of(self, number: int, before: int) -> bool:
        """Whether a clause goes on about what the one before named: '... | and it goes to one forty-five'."""
        clauses = self.note.segments.clauses
        if number >= len(clauses) or self.sentence(clauses[number].start) != self.sentence(clauses[before].start):
            return False
        said = self.words[clauses[number].start : clauses[number].start + 2]
        return said[:1] == ["it"] or said == ["and", "it"]

    def _going_on(self, number: int) -> Iterator[int]:
        """The clauses behind one that go on about what it told: 'the other knee in March, that was an 8 mm graft'."""
        clauses = self.note.segments.clauses
        sentence = self.sentence(clauses[number].start)
        for clause in clauses[number + 1 :]:
            if clause.start >= sentence.end or clause.end - clause.start < 2:
                return
            goes_on = self.words[clause.start] in GOES_ON and self.words[clause.start + 1] in FINITE
            listed = self.words[clause.start] == "and" and not verbal(self.words, clause)
            goes_on = goes_on or (listed and clause.number == number + 1)  # '... has a button | and a screw in it'
            goes_on = goes_on or sized_there(self, clause, number)
            if not goes_on and self.words[clause.start] not in WHEN:
                return
            yield clause.number

    def clause(self, token: int) -> Stretch:
        """The clause a token lies in."""
        return self._clauses[token] if 0 <= token < self._size else self.note.segments.clauses[-1]

    def sentence(self, token: int) -> Stretch:
        """The sentence a token lies in."""
        return self._sentences[token] if 0 <= token < self._size else self.note.segments.sentences[-1]

    def assertion(self, token: int) -> Assertion:
        """What the clause around a token asserts."""
        number = self.clause(token).number
        if token in self._turned_from:
            return MEANT_FIRST
        return OTHER_KNEE if number in self._elsewhere or token in self._across else self.note.assertions[number]

    @cached_property
    def _turned_from(self) -> frozenset[int]:
        """Tokens of what was meant first: 'changed from | a root repair | to a meniscectomy'."""
        found: set[int] = set()
        for c in self.by_list["turned-from"]:
            end = min(c.end + TURNED, self.clause(c.start).end)
            found.update(range(c.end, next((i for i in range(c.end, end) if self.words[i] in BECAME), end)))
        return frozenset(found)

    def correction(self, token: int, floor: int = 0) -> tuple[str, int] | None:
        """The word of correction that leads up to a token: in its sentence, or all that the sentence before says.

        Returns its strength ("strong", "halt" or "weak") and the token after it. Nothing before `floor` counts.
        """
        sentence = self.sentence(token)
        start = max(sentence.start, token - LEAD)
        if sentence.number and start == sentence.start:
            before = self.note.segments.sentences[sentence.number - 1]
            short = before.end - before.start <= LEAD
            start = before.start if short and only_fillers(self.words, before.start, before.end) else start
        return taken_back(self.words, max(start, floor), token)

    def within(self, list_name: str, start: int, end: int) -> list[Concept]:
        """Concepts of one list that open in the tokens `[start, end)`."""
        starts = self._starts.get(list_name)
        if starts is None or starts[-1] < start or starts[0] >= end:
            return []  # as it mostly is
        first = bisect_left(starts, start)
        return self.by_list[list_name][first : bisect_left(starts, end, first)]

    def opening(self, start: int, end: int) -> Sequence[Concept]:
        """Concepts of any list that open in the tokens `[start, end)`."""
        first = bisect_left(self._opened, start)
        return self.note.concepts[first : bisect_left(self._opened, end, first)]

    @cached_property
    def _opened(self) -> list[int]:
        return [c.start for c in self.note.concepts]

    def first(self, keys: frozenset[str], start: int, end: int) -> Concept | None:
        """The first concept with one of these keys in the tokens `[start, end)`; of two there the longer."""
        found = [c for name in lists_of(keys) for c in self.within(name, start, end) if c.key in keys]
        return min(found, key=lambda c: (c.start, -c.end, c.key), default=None)

    def said(self, keys: frozenset[str], sentence: Stretch) -> bool:
        """Whether a concept with one of these keys opens in a sentence."""
        return not keys.isdisjoint(self._sentence_keys[sentence.number])

    def part(self, start: int, whole: Stretch, end: int | None = None) -> Stretch:
        """A part of a sentence or clause, from one token up to another, or to its end."""
        end = whole.end if end is None else end
        lists = frozenset([c.list for c in self.opening(start, end)])
        return Stretch(start, end, whole.number, frozenset(self.words[start:end]), lists)

    @cached_property
    def _sentence_keys(self) -> list[set[str]]:
        keys: list[set[str]] = [set() for _ in self.note.segments.sentences]
        for clause, own in zip(self.note.segments.clauses, self.clause_keys, strict=True):
            keys[self.sentence(clause.start).number] |= own
        return keys

    def really_said(self, keys: frozenset[str], sentence: Stretch) -> bool:
        """Whether a concept with one of these keys opens in a sentence, where it only hangs on an 'if'."""
        if not self.said(keys, sentence):
            return False
        clauses = self.note.segments.clauses_of(sentence)
        sure = [c.number for c in clauses if self.note.assertions[c.number].mood != "conditional"]
        return len(sure) == len(clauses) or any(keys & self.clause_keys[n] for n in sure)

    def backwards(self, list_name: str, before: int, floor: int) -> Iterator[Concept]:
        """Concepts of a list that open in the tokens `[floor, before)`, the last said first."""
        starts = self._starts.get(list_name, [])
        for i in range(bisect_left(starts, before) - 1, bisect_left(starts, floor) - 1, -1):
            yield self.by_list[list_name][i]

    def latest(self, keys: frozenset[str], before: int, floor: int) -> Concept | None:
        """The concept with one of these keys that opens last in the tokens `[floor, before)`."""
        found = [c for key in keys if (c := self._last_of(key, before)) and c.start >= floor]
        return max(found, key=lambda c: (c.start, -c.end, c.key), default=None)

    def _last_of(self, key: str, before: int) -> Concept | None:
        told = self._by_key.get(key)
        at = bisect_left(told, before, key=lambda c: c.start) if told else 0
        return told[at - 1] if told and at else None

    @cached_property
    def _by_key(self) -> dict[str, list[Concept]]:
        told: dict[str, list[Concept]] = defaultdict(list)
        for c in self.note.concepts:
            told[c.key].append(c)
        return dict(told)

    def earlier(self, list_name: str, before: int) -> Iterator[Concept]:
        """Concepts of a list said before a token in clauses about this operation, the last said first."""
        starts, found = self._real(list_name)
        for i in range(bisect_left(starts, before) - 1, -1, -1):
            yield found[i]

    def last(self, list_name: str, before: int, floor: int = 0) -> Concept | None:
        """The concept of a list last said before a token, in a clause that is about this operation."""
        last = next(self.earlier(list_name, before), None)
        return last if last and last.start >= floor else None

    def _real(self, list_name: str) -> tuple[list[int], list[Concept]]:
        """Concepts of a list in clauses that are about this operation, and where they open."""
        if list_name not in self._lasting:
            found = [c for c in self.by_list.get(list_name, ()) if self.assertion(c.start).mood not in UNREAL]
            self._lasting[list_name] = ([c.start for c in found], found)
        return self._lasting[list_name]

    def nearest(self, list_name: str, token: int, start: int, end: int) -> Concept | None:
        """The concept of a list nearest to a token within `[start, end)`; of two as near the one before."""
        starts = self._starts.get(list_name)
        if not starts:
            return None
        listed = self.by_list[list_name]
        first, stop = bisect_left(starts, start), bisect_left(starts, end)
        at = min(max(bisect_right(starts, token), first), stop)
        found = listed[at : at + 1] if at < stop else []
        best = found[0].start - token if found else None
        longest = self._longest.get(list_name)
        if longest is None:
            longest = self._longest[list_name] = max(c.end - c.start for c in listed)
        for i in range(at - 1, first - 1, -1):
            if best is not None and token - starts[i] - longest >= best:
                break  # what opens still earlier ends too early
            found.append(listed[i])
            near = distance(listed[i], token)
            best = near if best is None else min(best, near)
        found.reverse()
        return min(found, key=lambda c: (distance(c, token), c.start > token, c.start, -c.end), default=None)

    def numbers(self, start: int, end: int) -> tuple[Quantity, ...]:
        """The note's quantities that open in the tokens `[start, end)`; they never overlap."""
        starts = self._number_starts
        return self.note.quantities[bisect_left(starts, start) : bisect_left(starts, end)]

    def finals(self, start: int, end: int) -> tuple[Quantity, ...]:
        """The note's quantities whose final number opens in the tokens `[start, end)`."""
        starts = self._final_starts
        return self.note.quantities[bisect_left(starts, start) : bisect_left(starts, end)]

    def number_over(self, token: int) -> Quantity | None:
        """The quantity whose final number holds a token."""
        at = bisect_right(self._final_starts, token) - 1
        q = self.note.quantities[at] if at >= 0 else None
        return q if q and token < q.number_end else None

    def numbers_before(self, token: int) -> Iterator[Quantity]:
        """The note's quantities that end before a token, the last one first."""
        for i in range(bisect_left(self._number_starts, token) - 1, -1, -1):
            if self.note.quantities[i].end <= token:
                yield self.note.quantities[i]

    def sized_before(self, token: int) -> Quantity | None:
        """The note's last quantity with a unit that ends before a token; quantities do not overlap."""
        at = bisect_right(self._sized, token, key=lambda q: q.end)
        return self._sized[at - 1] if at else None

    def number_at(self, q: Quantity) -> int:
        """Which of the note's quantities one is."""
        return bisect_left(self._number_starts, q.start)

    @cached_property
    def vocabulary(self) -> frozenset[str]:
        """Every word of the note, once."""
        return frozenset(self.words)

    @cached_property
    def lengths_named(self) -> frozenset[str]:
        """The words behind which no mercury is told: its millimeters are no length."""
        words = self.words
        mercury = self.grammar.plain_words("of-mercury")
        return frozenset(w for i, w in enumerate(words) if mercury.isdisjoint(words[i + 1 : i + 3]))

    @cached_property
    def units(self) -> frozenset[str | None]:
        """Units of all quantities of the note."""
        return frozenset(q.unit for q in self.note.quantities)

    def span(self, start: int, end: int, rule: str) -> Span:
        """Characters of the tokens `[start, end)`, as evidence."""
        tokens = self.note.tokens
        end = max(end, start + 1)
        return Span(tokens.starts[start], tokens.ends[end - 1], rule)

    def spans(self, pieces: Iterable[tuple[int, int]], rule: str) -> tuple[Span, ...]:
        """Several stretches as evidence, the first being the place itself."""
        starts, ends = self.note.tokens.starts, self.note.tokens.ends
        said = dict.fromkeys([(starts[a], ends[max(a, b - 1)]) for a, b in pieces])
        return tuple([Span(start, end, rule) for start, end in said])


@lru_cache(maxsize=4096)
def lists_of(keys: frozenset[str]) -> frozenset[str]:
    """The lists that the concepts of some keys stand in."""
    return frozenset(key.split(":", 1)[0] for key in keys)


def distance(concept: Concept, token: int) -> int:
    """Tokens between a concept and a token, 0 inside it."""
    if concept.start <= token < concept.end:
        return 0
    return concept.start - token if concept.start > token else token - concept.end + 1
