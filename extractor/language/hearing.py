"""Repairs by sound: stretches that are no words, or make no phrase, and sound nearly like a word of the trade."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate

from extractor.language.english import plain_words, seldom_words
from extractor.language.likeness import FUNCTION, Likeness, Trade, alike, kin
from extractor.language.sounds import joined, weight, word_frame
from extractor.language.tokens import Tokens

LONGEST = 3
"""Words of a stretch at most."""
ALONE, IN_COMPANY, OF_WORDS = 0.17, 0.31, 0.13
"""How far the sounds may be off: of no word, with no neighbor speaking for the repair, then with one; of good words."""
COMPANY = 0.12
"""What a neighbor that the word is often said with makes up for."""
LEAST_ALONE = 4.9
"""With no neighbor speaking for it a word must have this much to hear in it, unless it sounds the same to this much."""
THE_SAME = 0.08
UNLISTED = 0.04
"""What counts against a word of the grammar that is in no list of English words: it may be a misspelling kept there."""
MARGIN = 0.03
"""Of two words, the nearer must be nearer by this."""
NEIGHBORS = 4
LEAST_FRAME = 4
"""Good words are taken for another word only where that has this many consonants."""
SHORTEST = 3
"""Shorter words are never unknown; they may be part of a stretch."""
NAMED = 3
"""Words after a title that are names when they open with a capital."""


@dataclass(frozen=True)
class Change:
    """Tokens `[start, end)` to be read as other words."""

    start: int
    end: int
    read: tuple[str, ...]
    why: str
    settled: bool = True


def by_sound(tokens: Tokens, trade: Trade, kept: frozenset[str], titles: frozenset[str]) -> list[Change]:
    """Find the repairs by sound of a note, in order; they never overlap.

    Args:
        tokens: the note's reading tokens.
        trade: the grammar's words by sound.
        kept: words that are never part of a longer stretch.
        titles: words after which names stand.
    """
    words = tokens.words
    strange = _strange(tokens, trade, titles)
    odd_before = [0, *accumulate(strange)]
    heard = [word_frame(word) if word.isalpha() else None for word in words]
    found: list[tuple[float, int, Change]] = []
    for start in range(len(words)):
        consonants = ""
        for end, own in enumerate(heard[start : start + LONGEST], start + 1):
            if own is None:
                break
            consonants = joined(consonants, own) if consonants else own
            if odd_before[end] == odd_before[start]:  # good words all
                if end == start + 1 or len(consonants) < LEAST_FRAME or consonants not in trade.frames:
                    continue
                if _is_phrase(tuple(words[start:end]), trade):
                    continue
            best = _best(words, start, end, trade, kept, strange[start:end])
            if best is not None:
                found.append((best[0], start - end, Change(start, end, (best[1],), best[2])))
    return _apart(found)


def _apart(found: list[tuple[float, int, Change]]) -> list[Change]:
    """The best of changes that overlap, in the order of the text."""
    taken: set[int] = set()
    chosen: list[Change] = []
    for _, _, change in sorted(found, key=lambda f: (f[0], f[1], f[2].start)):
        places = range(change.start, change.end)
        if taken.isdisjoint(places):
            taken.update(places)
            chosen.append(change)
    return sorted(chosen, key=lambda c: c.start)


def _strange(tokens: Tokens, trade: Trade, titles: frozenset[str]) -> list[bool]:
    """For each token, whether it is no word: not of the grammar, not common English, no name and no abbreviation."""
    plain = plain_words()
    strange = [False] * len(tokens)
    named = 0
    for i, word in enumerate(tokens.words):
        if not named and word in plain and word not in titles:
            continue
        said = tokens.text[tokens.starts[i] : tokens.starts[i] + len(word)]
        if word in titles:
            named = NAMED
        elif named and said[:1].isupper():
            named -= 1
            continue
        elif word != ".":
            named = 0
        odd = word.isalpha() and len(word) >= SHORTEST and not said.isupper() and word not in plain
        strange[i] = odd and word not in trade.known
    return strange


@lru_cache(maxsize=4096)
def _is_phrase(stretch: tuple[str, ...], trade: Trade) -> bool:
    """Whether good words, which said together have the consonants of one word of the trade, make a phrase."""
    parts = range(2, len(stretch))
    pieces = [stretch, *(stretch[:k] for k in parts), *(stretch[-k:] for k in parts)]
    return any(trade.is_phrase(piece) for piece in pieces)


def _best(
    words: list[str], start: int, end: int, trade: Trade, kept: frozenset[str], strange: list[bool]
) -> tuple[float, str, str] | None:
    """The word of the trade a stretch is read as: how far off it is, counting its company, the word, and why."""
    heard = tuple(words[start:end])
    good = not [word for word, odd in zip(heard, strange, strict=True) if odd and word not in seldom_words()]
    likes = _allowed_likes(heard, good, trade, kept)
    if not likes:
        return None
    beside = _neighbors(words, start, end)
    ranked: list[tuple[float, bool, int, str, str | None, Likeness]] = []
    for like, word in likes:
        company = trade.company.get(word, frozenset())
        friend = min(beside & company, default=None)
        if like.off <= _most(like, friend, good):
            off = like.off - (COMPANY if friend else 0.0) + (0.0 if word in seldom_words() else UNLISTED)
            ranked.append((off, friend is None, -len(company), word, friend, like))
    if not ranked:
        return None
    off, _, _, word, friend, best = min(ranked, key=lambda r: r[:4])
    rivals = (r for r in ranked if r[0] - off < MARGIN and r[5].sound != best.sound and not kin(r[3], word))
    if next(rivals, None) is not None:
        return None
    return off, word, f"sounds like it{f' and is said with {friend!r}' if friend else ''}"


@lru_cache(maxsize=4096)
def _allowed_likes(
    heard: tuple[str, ...], good: bool, trade: Trade, kept: frozenset[str]
) -> tuple[tuple[Likeness, str], ...]:
    """The words of the trade that a stretch may be read as, as far as its own words tell, and how far off they are."""
    return tuple(
        (like, word)
        for like in alike(trade, heard)
        if like.off <= IN_COMPANY
        for word in trade.words[like.sound]
        if _allowed(heard, word, trade, kept) and like.off <= max(_most(like, f, good) for f in (None, word))
    )


def _most(like: Likeness, friend: str | None, good: bool) -> float:
    if good:
        return OF_WORDS if friend else -1.0
    if friend:
        return IN_COMPANY
    return ALONE if weight(like.sound) >= LEAST_ALONE else THE_SAME


def _allowed(heard: tuple[str, ...], word: str, trade: Trade, kept: frozenset[str]) -> bool:
    if word not in trade.literal and word not in seldom_words():
        return False
    if any(kin(part, word) for part in heard if part not in trade.known and len(part) >= SHORTEST):
        return False
    if len(heard) == 1:
        return True
    # A word of the trade that was heard stays, unless it is the end of a longer one: 'antero' 'lateral'.
    return all(_may_go(part, trade, kept) or (part != word and word.endswith(part) and len(part) > 3) for part in heard)


def _may_go(part: str, trade: Trade, kept: frozenset[str]) -> bool:
    return part not in kept and (part not in trade.known or plain_words().get(part, 0.0) >= FUNCTION)


def _neighbors(words: list[str], start: int, end: int) -> frozenset[str]:
    """Telling words within a few of a stretch."""
    plain = plain_words()
    near = (*words[max(0, start - NEIGHBORS) : start], *words[end : end + NEIGHBORS])
    return frozenset(word for word in near if word.isalpha() and plain.get(word, 0.0) < FUNCTION)
