"""Words of the trade that sound like what was heard, and whether they fit their neighbors.

Built once from the grammar: the words that a layman would hardly say, each with its sounds and with the words it is
said together with in the grammar's ways of saying and examples (its company).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cache, cached_property, lru_cache

from rapidfuzz import process
from rapidfuzz.distance import Levenshtein

from extractor.grammar.confusables import as_heard
from extractor.grammar.inflect import ENDING, head, openings, parts_of, spellings, words_in
from extractor.grammar.packs import Grammar
from extractor.grammar.words import WordEntry
from extractor.language.english import plain_words
from extractor.language.numbers import NUMBERS_FILE
from extractor.language.phrases import common_lists, ways
from extractor.language.sounds import distance, frame, sound_each, sounds, weight
from extractor.language.units import TABLES, UNITS_FILE

TRADE = 3.9
"""Words up to this common (Zipf scale) are words of the trade, those above are anybody's."""
FUNCTION = 5.6
"""Words more common than this say nothing about their neighbors."""
LEAST_TO_HEAR = 3.2
"""Words with less in them than three consonants and a vowel are too easily found in anything."""
LEAST_LETTERS = 5
LOOKED_AT = 8
"""Words with the fewest letters of sound exchanged, of which the distance is told closely."""
ANYWHERE = 120
"""Words said together with more others than this ('knee') say nothing about their neighbors either."""
NOT_MEANT = frozenset(
    "elsewhere other-work not-operative uninvolved considered negation negation-ahead affirmed conditional"
    " unconditional habit history planned doing telling telling-too teller".split()
)
"""Lists that tell other notes apart, or turn what is said into its opposite: no guess may bring in their words."""
SUFFIXES = frozenset(
    " s es ed d ing al ly ally ic ics ical ically ation ations ion ions or er ors ers y ies e a ae able like wise is us"
    " i ist ists ous inous en ened ening te ted ting age ized ize".split(" ")
)
PREFIXES = frozenset(
    "re un non pre post over under sub de in im dis out anti micro mini inter intra peri para trans supra infra super"
    " retro semi hemi osteo bio".split()
)
STEM = 5
"""Words that share this many first letters may be of one family."""


@dataclass(frozen=True, eq=False)
class Trade:
    """The grammar's words laid out by sound, each part when it is first asked for: a plain sentence needs few."""

    grammar: Grammar
    _opening: dict[str, frozenset[tuple[str, ...]]] = field(default_factory=dict, repr=False)

    @cached_property
    def ways(self) -> tuple[str, ...]:
        """All ways of saying, as the lists write them."""
        return tuple(way for _, entry in self.grammar.words for way in entry.spoken)

    @cached_property
    def examples(self) -> tuple[str, ...]:
        """The sentences beside the rules."""
        return tuple(ex.rpartition("->")[0] or ex for rule in self.grammar.rules for ex in rule.examples)

    @cached_property
    def _shown(self) -> tuple[str, ...]:
        return _cut(" ".join(self.examples))

    @cached_property
    def _meant(self) -> frozenset[str]:
        """The words that may be meant by what was heard."""
        return _words(entry for name, entry in self.grammar.words if name not in NOT_MEANT)

    @cached_property
    def known(self) -> frozenset[str]:
        """Every word of the grammar."""
        others = _words(entry for name, entry in self.grammar.words if name in NOT_MEANT)
        return self._meant.union(others, self._shown, counting_words(), as_heard(self.grammar))

    @cached_property
    def literal(self) -> frozenset[str]:
        """Words that are written out in the grammar, not made by inflection."""
        written = {*_cut(" ".join(way.removeprefix(ENDING) for way in self.ways)), *self._shown}
        return frozenset(word for word in written if not word.endswith("~"))

    @cached_property
    def words(self) -> dict[str, tuple[str, ...]]:
        """Words of the trade, by the sounds of each."""
        plain = plain_words()
        rare = [word for word in sorted(self._meant) if _is_rare(word, plain)]
        by_sound: dict[str, list[str]] = {}
        for word, spelled in zip(rare, sound_each(rare), strict=True):
            by_sound.setdefault(spelled, []).append(word)
        return {spelled: tuple(same) for spelled, same in by_sound.items() if weight(spelled) >= LEAST_TO_HEAR}

    @cached_property
    def spelled(self) -> tuple[str, ...]:
        """The sounds of the words of the trade, as a list to search in."""
        return tuple(self.words)

    @cached_property
    def frames(self) -> dict[str, tuple[str, ...]]:
        """Words of the trade by their consonants."""
        found: dict[str, list[str]] = {}
        for spelled, same in self.words.items():
            found.setdefault(frame(spelled), []).extend(same)
        return {consonants: tuple(same) for consonants, same in found.items()}

    @cached_property
    def _by_first(self) -> dict[str, list[str]]:
        """Ways of saying by the words that they may open with."""
        found: dict[str, list[str]] = {}
        heads: dict[str, list[str]] = {}
        for way in self.ways:
            heads.setdefault(head(way), []).append(way)
        for opens, same in heads.items():
            for first in {cut[0] for word in openings(opens) if (cut := _cut(word))}:
                found.setdefault(first, []).extend(same)
        return found

    def is_phrase(self, words: tuple[str, ...]) -> bool:
        """Whether two words or more are a way of saying; only those that open with the first of them are made."""
        if words[0] not in self._opening:
            ways_said = self._by_first.get(words[0], ())
            self._opening[words[0]] = frozenset(_cut(form) for way in ways_said for form in spellings(way))
        return words in self._opening[words[0]]

    @cached_property
    def company(self) -> dict[str, frozenset[str]]:
        """Which words each is said together with, in a phrase or a sentence beside a rule."""
        return _company(self.ways, self.examples)


@dataclass(frozen=True)
class Likeness:
    """The sounds of a word of the trade and how far they are from those heard."""

    sound: str
    off: float


@lru_cache(maxsize=8)
def trade_of(grammar: Grammar) -> Trade:
    """A grammar's words, to be laid out as they are asked for."""
    return Trade(grammar)


def _words(entries: Iterable[WordEntry]) -> frozenset[str]:
    """The words of all ways of saying."""
    return frozenset(_cut(" ".join(words_in(way for entry in entries for way in entry.spoken))))


@lru_cache(maxsize=1)
def counting_words() -> frozenset[str]:
    """The words of numbers and units; a repair leaves them alone."""
    units = [own for own in common_lists(UNITS_FILE).values() if own.name not in TABLES]
    lists = [*common_lists(NUMBERS_FILE).values(), *units]
    said = (part for word_list in lists for way, _ in ways(word_list) for part in way.split())
    return frozenset(word for word in said if len(word) > 1)


def _cut(text: str) -> tuple[str, ...]:
    words = text.lower().replace("-", " ").replace(".", " ").replace(",", " ").replace("'", " '").split()
    return tuple(words)


def _is_rare(word: str, plain: dict[str, float]) -> bool:
    return len(word) >= LEAST_LETTERS and word.isascii() and word.isalpha() and plain.get(word, 0.0) < TRADE


def telling(text: str) -> list[str]:
    """The words of a text that say something about their neighbors, in order."""
    plain = plain_words()
    return [w for w in _cut(text) if w.isalpha() and len(w) > 2 and plain.get(w, 0.0) < FUNCTION]


def _company(ways: Iterable[str], sentences: Iterable[str]) -> dict[str, frozenset[str]]:
    """The words that each is said together with in a form of a way of saying, or in a sentence.

    The forms are not made, of which there are some hundred thousand: what stands for one part of a way of saying is
    said together with all that stands for another part.
    """
    plain = plain_words()

    @cache
    def tells(text: str) -> frozenset[str]:
        return frozenset(w for w in _cut(text) if w.isalpha() and plain.get(w, 0.0) < FUNCTION)

    together: dict[str, set[str]] = {}
    for own in map(tells, set(sentences)):
        for word in own:
            together.setdefault(word, set()).update(own)
    for parts in {parts for way in set(ways) for parts in parts_of(way)}:
        said = [frozenset().union(*map(tells, part)) for part in parts]
        for at, part in enumerate(parts):
            others = frozenset().union(*said[:at], *said[at + 1 :])
            for own in map(tells, part):
                for word in own:
                    together.setdefault(word, set()).update(own, others)
    anywhere = {word for word, all_own in together.items() if len(all_own) > ANYWHERE}
    return {word: frozenset(beside) for word, all_own in together.items() if (beside := all_own - anywhere - {word})}


@lru_cache(maxsize=4096)
def alike(trade: Trade, heard: tuple[str, ...]) -> tuple[Likeness, ...]:
    """Words of the trade that sound much like the words heard, nearest first."""
    return _alike(trade, sounds(heard))


@lru_cache(maxsize=4096)
def _alike(trade: Trade, heard: str) -> tuple[Likeness, ...]:
    by_letters = Levenshtein.normalized_distance
    near = process.extract(heard, trade.spelled, scorer=by_letters, score_cutoff=0.5, limit=LOOKED_AT)
    likes = [Likeness(meant, distance(heard, meant)) for meant, _, _ in near]
    return tuple(sorted(likes, key=lambda like: (like.off, like.sound)))


def kin(heard: str, word: str) -> bool:
    """Whether two words are of one family, so that the one was rightly heard: 'arthroscopist' and 'arthroscopy'."""
    stem = 0
    while stem < min(len(heard), len(word)) and heard[stem] == word[stem]:
        stem += 1
    if any(heard[k:] in SUFFIXES and word[k:] in SUFFIXES for k in range(STEM, stem + 1)):
        return True
    return any(len(a) >= LEAST_LETTERS and a == b for a in _bare(heard) for b in _bare(word))


def _bare(word: str) -> Iterable[str]:
    """A word with and without its prefix."""
    yield word
    for size in range(2, 6):
        if word[:size] in PREFIXES:
            yield word[size:]
