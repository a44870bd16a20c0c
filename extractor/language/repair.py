"""Words of the trade that the recognizer misheard, read as what was said.

Two ways, both only in a note that is about the knee. Confusables (`sounds*.txt` of the packs) are known mishearings,
repaired where their surroundings say so; most are good English words ("route"). Any other stretch is repaired by sound
where the words heard are no words, or make no phrase, and a word of the trade sounds nearly like them, the nearer the
less its neighbors speak for it. Numbers, units, sides and denials are never part of a stretch repaired by sound.

The note's text is never rewritten: a repair gives reading tokens that hold the characters of the words heard.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from extractor.grammar.confusables import NUMBER, Confusable, Phrase, Surroundings, confusables_of
from extractor.grammar.inflect import spellings
from extractor.grammar.packs import Grammar
from extractor.language.by_place import by_place
from extractor.language.hearing import Change, by_sound
from extractor.language.likeness import Trade, counting_words, trade_of
from extractor.language.numbers import number_words
from extractor.language.tokens import Tokens

ROUNDS = 2
"""A repair may be what settles the next ('and terrier in theory are'); more rounds than this find nothing new."""
NEAR = 10
"""Words on either side, within the sentence, that count as near."""
KEPT = ("side", "negation", "negation-ahead", "color", "compartment", "region", "surface", "portal-site")
"""Lists whose words no repair by sound takes into its stretch."""
TITLES = ("name-title", "element-word")
"""Lists of words after which names stand."""
OPERATIVE = 4
"""Words of an operation that make a note with no word of the knee one that may be repaired."""
ENDS = frozenset({".", "?", "!", ";", "\n"})
COMMA, PERIOD = "comma", "period"
LEAST_COMMAS = 2
"""A note that says so many dictates its commas."""


@dataclass(frozen=True)
class Repair:
    """A stretch of the note read otherwise: characters `[start, end)`. Not settled: other readings remain possible."""

    start: int
    end: int
    heard: str
    read_as: str
    why: str
    settled: bool = True


@dataclass(frozen=True)
class _Heard:
    """The confusables whose words heard open with one word.

    `sizes` are the numbers of words of those that go on with a word, the longest first; where none does, those of the
    word `alone`. Most words that open one are common ones, and few go on so.
    """

    phrases: dict[Phrase, list[Confusable]]
    sizes: dict[str, tuple[int, ...]]
    alone: tuple[int, ...]


def _heard(phrases: dict[Phrase, list[Confusable]]) -> _Heard:
    alone = tuple({len(phrase) for phrase in phrases if len(phrase) == 1})
    sizes: dict[str, set[int]] = {}
    for phrase in phrases:
        if len(phrase) > 1:
            sizes.setdefault(phrase[1], {*alone}).add(len(phrase))
    return _Heard(phrases, {word: tuple(sorted(own, reverse=True)) for word, own in sizes.items()}, alone)


@dataclass(frozen=True)
class Hearing:
    """A grammar's confusables and words made ready."""

    trade: Trade
    by_first: dict[str, _Heard]
    """Confusables by the word that opens what is heard."""
    about: frozenset[str]
    elsewhere: frozenset[str]
    operative: frozenset[str]
    kept: frozenset[str]
    titles: frozenset[str]


@lru_cache(maxsize=8)
def hearing_of(grammar: Grammar) -> Hearing:
    """Make a grammar's confusables and words ready."""
    by_first: dict[str, dict[Phrase, list[Confusable]]] = {}
    for confusable in confusables_of(grammar):
        for phrase in confusable.heard:
            by_first.setdefault(phrase[0], {}).setdefault(phrase, []).append(confusable)
    return Hearing(
        trade_of(grammar),
        {word: _heard(own) for word, own in by_first.items()},
        _words_of(grammar, ("about",)),
        _words_of(grammar, ("elsewhere",)),
        _words_of(grammar, ("operative",)),
        _words_of(grammar, KEPT) | counting_words(),
        _words_of(grammar, TITLES),
    )


def _words_of(grammar: Grammar, lists: Iterable[str]) -> frozenset[str]:
    forms = (form for name, entry in grammar.words if name in lists for way in entry.spoken for form in spellings(way))
    return frozenset(form for form in forms if " " not in form)


def repair(tokens: Tokens, grammar: Grammar, given: Sequence[Repair] = ()) -> tuple[Tokens, tuple[Repair, ...]]:
    """Read the misheard words of a note as what was said, in time linear in its length.

    Args:
        tokens: the reading tokens, before spoken punctuation is applied.
        grammar: the packs in force.
        given: repairs decided elsewhere (by the sound itself); they come first.

    Returns:
        The tokens with the repaired stretches replaced (the same tokens where there is nothing to repair), and the
        repairs in the order of the text.
    """
    hearing = hearing_of(grammar)
    repairs: dict[int, Repair] = {}
    if given:
        tokens = _laid_over(tokens, _changes(tokens, given), repairs)
    if not _about_the_knee(frozenset(tokens.words), hearing):
        return tokens, tuple(repairs[start] for start in sorted(repairs))
    dictated = (_known_beside_commas,) if tokens.words.count(COMMA) >= LEAST_COMMAS else ()
    found_none = False
    for step in (*[_known] * ROUNDS, _unknown, _placed, *[_known] * ROUNDS, *dictated):
        if step is _known and found_none:  # nothing was changed since it found nothing
            continue
        changes = step(tokens, hearing)
        if changes:
            tokens = _laid_over(tokens, changes, repairs)
        found_none = not changes and (step is _known or found_none)
    return tokens, tuple(repairs[start] for start in sorted(repairs))


def _changes(tokens: Tokens, given: Sequence[Repair]) -> list[Change]:
    """Repairs by their characters as changes of the tokens they hold; one that holds no token is left out."""
    changes: list[Change] = []
    for one in sorted(given, key=lambda r: r.start):
        own = range(bisect_left(tokens.starts, one.start), bisect_left(tokens.starts, one.end))
        if own:
            changes.append(Change(own.start, own.stop, tuple(one.read_as.split()), one.why, one.settled))
    return changes


def _about_the_knee(said: frozenset[str], hearing: Hearing) -> bool:
    """Whether a note is about the knee as far as its words go; where 'knee' itself was misheard, by the work done."""
    about, elsewhere = len(said & hearing.about), len(said & hearing.elsewhere)
    return about >= elsewhere if about else not elsewhere and len(said & hearing.operative) >= OPERATIVE


def _unknown(tokens: Tokens, hearing: Hearing) -> list[Change]:
    return by_sound(tokens, hearing.trade, hearing.kept, hearing.titles)


def _placed(tokens: Tokens, hearing: Hearing) -> list[Change]:
    return by_place(tokens, hearing.trade, hearing.kept)


def _laid_over(tokens: Tokens, changes: list[Change], repairs: dict[int, Repair]) -> Tokens:
    """The tokens with the changes made; the repairs, by their first character, are brought up to date."""
    out = Tokens(tokens.text)
    at = 0
    for change in changes:
        for i in range(at, change.start):
            out.add(tokens.words[i], tokens.starts[i], tokens.ends[i])
        start, end = tokens.starts[change.start], tokens.ends[change.end - 1]
        for word in change.read:
            out.add(word, start, end)
        earlier = [repairs.pop(own, None) for own in dict.fromkeys(tokens.starts[change.start : change.end])]
        settled = change.settled and all(r is None or r.settled for r in earlier)
        repairs[start] = Repair(start, end, tokens.text[start:end], " ".join(change.read), change.why, settled)
        at = change.end
    for i in range(at, len(tokens)):
        out.add(tokens.words[i], tokens.starts[i], tokens.ends[i])
    return out


@dataclass(frozen=True)
class _Line:
    """A note's words without commas and dashes, which a recognizer sets at any pause; `places` are their tokens."""

    words: list[str]
    marked: list[str]
    places: list[int]
    said: frozenset[str]

    def unbroken(self, start: int, end: int) -> bool:
        """Whether no comma or dash lies within the words `[start, end)`."""
        return self.places[end - 1] - self.places[start] == end - 1 - start

    def holds(self, around: Surroundings, start: int, end: int) -> str | None:
        """What of the surroundings stands around the words `[start, end)`, numbers as they are or as any number."""
        if around.entry is None:
            return None
        held = around.hold(self.words, start, end)
        return held or (around.hold(self.marked, start, end) if around.numbered else None)


def _line_of(tokens: Tokens, dictated: bool = False) -> _Line:
    passed_over = {",", "-", COMMA} if dictated else {",", "-"}
    places = [i for i, word in enumerate(tokens.words) if word not in passed_over]
    words = ["." if dictated and tokens.words[i] == PERIOD else tokens.words[i] for i in places]
    cardinals = number_words().cardinals
    marked = [NUMBER if word[0].isdigit() or word in cardinals else word for word in words]
    return _Line(words, marked, places, frozenset(words))


def _known(tokens: Tokens, hearing: Hearing) -> list[Change]:
    """Repairs of known mishearings, left to right, the longest stretch first."""
    return _known_in(_line_of(tokens), hearing)


def _known_beside_commas(tokens: Tokens, hearing: Hearing) -> list[Change]:
    """The same where commas and full stops are dictated: 'no flexion comma passed ninety degrees'."""
    return _known_in(_line_of(tokens, dictated=True), hearing)


def _known_in(line: _Line, hearing: Hearing) -> list[Change]:
    changes: list[Change] = []
    i = 0
    words, by_first = line.words, hearing.by_first
    while i < len(words):
        opens = by_first.get(words[i])
        if opens is None or not (opens.alone or words[i + 1 : i + 2] and words[i + 1] in opens.sizes):
            i += 1  # as nearly always
            continue
        found = _best(line, i, opens)
        if found is None:
            i += 1
            continue
        size, read, why, settled = found
        changes.append(Change(line.places[i], line.places[i + size - 1] + 1, read, why, settled))
        i += size
    return changes


def _best(line: _Line, i: int, opens: _Heard) -> tuple[int, Phrase, str, bool] | None:
    """The confusable that reads best at word `i`: the longest heard, then the one its surroundings say most for."""
    found: list[tuple[tuple[int, int, int], Phrase, str]] = []
    sizes = opens.sizes.get(line.words[i + 1], opens.alone) if i + 1 < len(line.words) else opens.alone
    for size in sizes:
        if found:
            break
        if i + size > len(line.words):
            continue
        own = opens.phrases.get(tuple(line.words[i : i + size]))
        for confusable in own if own and line.unbroken(i, i + size) else ():
            ground = _ground(line, i, i + size, confusable)
            if ground is not None:
                found.append(((size, *ground[0]), confusable.read, ground[1]))
    if not found:
        return None
    found.sort(key=lambda f: f[0], reverse=True)
    (size, sure, _), read, why = found[0]
    if len(found) > 1 and found[1][0] == found[0][0] and found[1][1] != read:
        return None  # two readings and nothing to tell them apart
    return size, read, why, sure > 0


def _ground(line: _Line, start: int, end: int, confusable: Confusable) -> tuple[tuple[int, int], str] | None:
    """Why a known mishearing is to be repaired here: how sure (0 in doubt) and how much says so; None to leave it."""
    ground = _speaks_for_it(line, start, end, confusable)
    return None if ground is None or line.holds(confusable.never, start, end) else ground


def _speaks_for_it(line: _Line, start: int, end: int, confusable: Confusable) -> tuple[tuple[int, int], str] | None:
    """What speaks for repairing it, whatever forbids it."""
    around = line.holds(confusable.where, start, end)
    if around:
        return (3, len(around.split())), f"stands in '{around}'"
    near = confusable.near & _near(line.words, start, end) if confusable.near else frozenset()
    if near:
        return (2, len(near)), f"'{min(near)}' is near"
    noted = confusable.note & line.said
    if noted:
        return (2, 0), f"the note says '{min(noted)}'"
    if confusable.anywhere:
        return (1, 0), "is no term of this work and a known mishearing"
    around = line.holds(confusable.doubt, start, end)
    return ((0, len(around.split())), f"stands in '{around}', but may have been meant") if around else None


def _near(words: list[str], start: int, end: int) -> frozenset[str]:
    first = start
    while first > max(0, start - NEAR) and words[first - 1] not in ENDS:
        first -= 1
    last = end
    while last < min(len(words), end + NEAR) and words[last] not in ENDS:
        last += 1
    return frozenset((*words[first:start], *words[end:last]))
