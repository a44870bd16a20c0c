"""Repairs by place: a word that the grammar does not know, where its neighbors are mostly said with one like it.

Good English words are left alone by `hearing`; here one is read as another word of the grammar ('the harsh weight
bearing' as partial) because of what stands beside it: in the sentences beside the rules the neighbor is often said
right next to that word, or both neighbors are, and the sounds are not far off. Which words stand side by side is laid
out once, when a word is first doubted.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from rapidfuzz import process
from rapidfuzz.distance import Levenshtein

from extractor.language.english import plain_words
from extractor.language.hearing import Change
from extractor.language.likeness import ANYWHERE, FUNCTION, Trade, kin, telling
from extractor.language.sounds import distance, sound, weight
from extractor.language.tokens import Tokens

OFTEN = 0.12
"""How large a share of a neighbor's company the word must be, to be read there on the word of one neighbor."""
LEAST_TIMES = 3
BY_ONE, BY_BOTH = 0.5, 0.36
"""How far the sounds may be off where one neighbor is often said with the word, and where both are said with it."""
SURE = 0.3
"""Farther off than this it is read, and asked about."""
MARGIN = 0.03
"""Of two words, the nearer must be nearer by this."""
SHORTEST = 4
LEAST_TO_HEAR = 2.0
TOO_COMMON = 5.2
"""More common words than this (Zipf scale) are never read by their place."""
LOOKED_AT = 16
STOPS = frozenset({".", "?", "!", "\n"})
START = "."
"""What stands before the first word of a sentence and after the last."""


@dataclass(frozen=True, eq=False)
class Places:
    """Which telling words stand side by side in the sentences beside the rules, and the words by their sounds."""

    pairs: Counter[tuple[str, str]]
    first: Counter[str]
    second: Counter[str]
    anywhere: frozenset[str]
    words: dict[str, tuple[str, ...]]
    spelled: tuple[str, ...]


@lru_cache(maxsize=8)
def places_of(trade: Trade, kept: frozenset[str]) -> Places:
    """Lay out which words stand side by side."""
    plain = plain_words()
    pairs: Counter[tuple[str, str]] = Counter()
    for example in trade.examples:
        words = telling(example)
        pairs.update(pairwise((START, *words, START)))
    first: Counter[str] = Counter()
    second: Counter[str] = Counter()
    company: dict[str, set[str]] = {}
    for (a, b), times in pairs.items():
        first[a] += times
        second[b] += times
        company.setdefault(a, set()).add(b)
        company.setdefault(b, set()).add(a)
    by_sound: dict[str, list[str]] = {}
    for word in sorted(company):
        heard = sound(word)
        if len(word) < SHORTEST or weight(heard) < LEAST_TO_HEAR or word in kept or plain.get(word, 0.0) >= TOO_COMMON:
            continue
        by_sound.setdefault(heard, []).append(word)
    return Places(
        pairs,
        first,
        second,
        frozenset(word for word, own in company.items() if len(own) > ANYWHERE) | {START},
        {heard: tuple(same) for heard, same in by_sound.items()},
        tuple(by_sound),
    )


def by_place(tokens: Tokens, trade: Trade, kept: frozenset[str]) -> list[Change]:
    """Find the repairs by place of a note, in order.

    Args:
        tokens: the note's reading tokens.
        trade: the grammar's words.
        kept: words that are neither repaired nor read: numbers, units, sides, colors, denials.
    """
    plain = plain_words()
    words = tokens.words
    tells = [i for i, word in enumerate(words) if word in STOPS or _tells(word, plain)]
    changes: list[Change] = []
    for at, i in enumerate(tells):
        word = words[i]
        if len(word) < SHORTEST or not word.isalpha() or word in trade.known or word in kept or _is_name(tokens, i):
            continue
        before, after = _neighbor(words, tells, at - 1), _neighbor(words, tells, at + 1)
        near = (_adjoin(words, tells, at - 1), _adjoin(words, tells, at))
        found = _best(word, (before, after), near, places_of(trade, kept), kept)
        if found is not None:
            changes.append(Change(i, i + 1, (found[0],), found[1], found[2]))
    return changes


def _tells(word: str, plain: dict[str, float]) -> bool:
    return word.isalpha() and len(word) > 2 and plain.get(word, 0.0) < FUNCTION


def _is_name(tokens: Tokens, i: int) -> bool:
    """Whether a word within a sentence opens with a capital."""
    return i > 0 and tokens.words[i - 1] not in STOPS and tokens.text[tokens.starts[i]].isupper()


def _neighbor(words: Sequence[str], tells: Sequence[int], at: int) -> str:
    word = words[tells[at]] if 0 <= at < len(tells) else START
    return START if word in STOPS else word


def _adjoin(words: Sequence[str], tells: Sequence[int], at: int) -> bool:
    """Whether a telling word and the next are said one right after the other, or with 'and' between."""
    return 0 <= at < len(tells) - 1 and all(w == "and" for w in words[tells[at] + 1 : tells[at + 1]])


def _best(
    word: str, beside: tuple[str, str], near: tuple[bool, bool], places: Places, kept: frozenset[str]
) -> tuple[str, str, bool] | None:
    """What a word is read as between its neighbors, why, and whether that is sure."""
    before, after = beside
    ranked: list[tuple[float, str, float, str]] = []
    for off, meant in _like(word, places):
        both = (before, meant) in places.pairs and (meant, after) in places.pairs
        both = both and not {before, after} & (places.anywhere | kept)
        share, friend = max(
            (near[0] * _share(places, (before, meant), places.first[before]), before),
            (near[1] * _share(places, (meant, after), places.second[after]), after),
        )
        if kin(word, meant) or not (both and off <= BY_BOTH) and not (share >= OFTEN and off <= BY_ONE):
            continue
        ranked.append((off - 0.1 * both - 0.1 * share, meant, off, friend))
    ranked.sort()
    if not ranked or any(r[0] - ranked[0][0] < MARGIN and not kin(r[1], ranked[0][1]) for r in ranked[1:]):
        return None
    _, meant, off, friend = ranked[0]
    where = "between its neighbors" if friend in STOPS else f"beside {friend!r}"
    return meant, f"sounds somewhat like it and often stands {where}", off <= SURE


def _share(places: Places, pair: tuple[str, str], of: int) -> float:
    times = places.pairs[pair]
    return times / of if times >= LEAST_TIMES else 0.0


def _like(word: str, places: Places) -> Iterable[tuple[float, str]]:
    heard = sound(word)
    by_letters = Levenshtein.normalized_distance
    near = process.extract(heard, places.spelled, scorer=by_letters, score_cutoff=0.6, limit=LOOKED_AT)
    for spelled, _, _ in near:
        off = distance(heard, spelled)
        if off <= BY_ONE:
            for meant in places.words[spelled]:
                yield off, meant
