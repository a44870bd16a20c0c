"""Repairs by place: a word that the grammar does not know, where its neighbors are mostly said with one like it.

Good English words are left alone by `hearing`; here one is read as another word of the grammar ('the harsh weight
bearing' as partial) because of what stands beside it: in the sentences beside the rules the neighbor is often said
right next to that word, or both neighbors are, and the sounds are not far off. Which words stand side by side is laid
out once, when a word is first doubted.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from extractor.language.english import plain_words
from extractor.language.hearing import Change
from extractor.language.likeness import ANYWHERE, FUNCTION, Trade, kin, telling
from extractor.language.sounds import distance, sound, weight
from extractor.language.tokens import Tokens

OFTEN = 0.28
"""How large a share of a neighbor's company the word must be, to be read there on the word of one neighbor."""
LEAST_TIMES = 3
BY_ONE, BY_BOTH = 0.4, 0.3
"""How far the sounds may be off where one neighbor is often said with the word, and where both are said with it."""
SURE = 0.3
"""Farther off than this it is read, and asked about."""
MARGIN = 0.03
"""Of two words, the nearer must be nearer by this."""
SHORTEST = 4
LEAST_TO_HEAR = 2.0
TOO_COMMON = 5.2
"""More common words than this (Zipf scale) are never read by their place."""
STOPS = frozenset({".", "?", "!", "\n"})
START = "."
"""What stands before the first word of a sentence and after the last."""


@dataclass(frozen=True, eq=False)
class Places:
    """Which telling words are said right after which, and right before, in the sentences beside the rules.

    Attributes:
        after: for each word, those said after it that may be read, with their share of all that follow.
        before: the same for what is said before it.
    """

    after: dict[str, dict[str, float]]
    before: dict[str, dict[str, float]]


@lru_cache(maxsize=8)
def places_of(trade: Trade, kept: frozenset[str]) -> Places:
    """Lay out which words stand side by side."""
    plain = plain_words()
    after: dict[str, Counter[str]] = {}
    before: dict[str, Counter[str]] = {}
    for example in trade.examples:
        for a, b in pairwise((START, *telling(example), START)):
            after.setdefault(a, Counter())[b] += 1
            before.setdefault(b, Counter())[a] += 1

    def readable(word: str) -> bool:
        rare = plain.get(word, 0.0) < TOO_COMMON and word not in kept
        return rare and len(word) >= SHORTEST and weight(sound(word)) >= LEAST_TO_HEAR

    return Places(_shares(after, readable), _shares(before, readable))


def _shares(company: dict[str, Counter[str]], readable: Callable[[str], bool]) -> dict[str, dict[str, float]]:
    """Each word's company by its share; nought where it came fewer times than counts, or the word stands anywhere."""
    shares: dict[str, dict[str, float]] = {}
    for word, own in company.items():
        of = sum(own.values())
        shares[word] = {w: n / of if n >= LEAST_TIMES else 0.0 for w, n in own.items() if readable(w)}
    return shares


def by_place(tokens: Tokens, trade: Trade, kept: frozenset[str]) -> list[Change]:
    """Find the repairs by place of a note, in order.

    Args:
        tokens: the note's reading tokens.
        trade: the grammar's words.
        kept: words that are neither repaired nor read: numbers, units, sides, colors, denials.
    """
    plain = plain_words()
    words = tokens.words
    tells = [
        i
        for i, word in enumerate(words)
        if word in STOPS or (plain.get(word, 0.0) < FUNCTION and len(word) > 2 and word.isalpha())
    ]
    changes: list[Change] = []
    for at, i in enumerate(tells):
        word = words[i]
        if word in kept or len(word) < SHORTEST or not word.isalpha() or word in trade.known or _is_name(tokens, i):
            continue
        before, after = _neighbor(words, tells, at - 1), _neighbor(words, tells, at + 1)
        near = (_adjoin(words, tells, at - 1), _adjoin(words, tells, at))
        found = _best(word, (before, after), near, places_of(trade, kept), kept)
        if found is not None:
            changes.append(Change(i, i + 1, (found[0],), found[1], found[2]))
    return changes


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
    following, leading = places.after.get(before, {}), places.before.get(after, {})
    shares = {meant: (share, before) for meant, share in following.items() if near[0] and share >= OFTEN}
    for meant, share in leading.items():
        if near[1] and share >= max(OFTEN, shares.get(meant, (0.0, ""))[0]):
            shares[meant] = (share, after)
    telling_both = not {before, after} & (kept | {START}) and max(len(following), len(leading)) <= ANYWHERE
    both = following.keys() & leading.keys() if telling_both else frozenset()
    heard = sound(word)
    ranked: list[tuple[float, str, float, str]] = []
    for meant in {*shares, *both}:
        off = distance(heard, sound(meant))
        share, friend = shares.get(meant, (0.0, ""))
        if not kin(word, meant) and off <= (BY_ONE if friend else BY_BOTH):
            ranked.append((off - 0.1 * (meant in both) - 0.1 * share, meant, off, friend))
    ranked.sort()
    if not ranked or any(r[0] - ranked[0][0] < MARGIN and not kin(r[1], ranked[0][1]) for r in ranked[1:]):
        return None
    _, meant, off, friend = ranked[0]
    where = f"beside {friend!r}" if friend.isalpha() else "between its neighbors"
    return meant, f"sounds somewhat like it and often stands {where}", off <= SURE
