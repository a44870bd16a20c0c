"""How words sound, roughly: a spelling of sounds and a distance between two of them.

The recognizer writes what it heard with the letters of words it knows, so a word of the trade comes back as another
spelling of nearly the same sounds ("trunee kate" for tourniquet). `sound` spells a word by its sounds with the usual
rules of English spelling; `distance` tells how far two such spellings lie apart, like sounds being cheap to exchange
(voiced and unvoiced, m and n, any two vowels). Which sounds are alike is common knowledge of phonetics (place and
manner of speaking them); the costs were set by hand on recognized dictations.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache

VOWELS = "aeiou"
SPELLINGS: tuple[tuple[str, str], ...] = (
    (r"[^a-z\n]", ""),
    (r"^(?:kn|gn|pn)", "n"),
    (r"^wr", "r"),
    (r"^ps", "s"),
    (r"^x", "z"),
    (r"mb$", "m"),
    (r"wh(?=o)", "h"),
    (r"wh", "w"),
    (r"rh", "r"),
    (r"(?<=[^aeioutd\n])ed$", "d"),
    (r"aw|au", "o"),
    (r"ew", "u"),
    (r"ght", "t"),
    (r"gh(?=[^aeiou]|$)", ""),
    (r"ph", "f"),
    (r"tch", "C"),
    (r"(?<=s)ch(?=[aeiou])", "k"),
    (r"ch(?=[lr]|on|$)", "k"),
    (r"ch", "C"),
    (r"sh", "S"),
    (r"th", "T"),
    (r"(?:t|c|s|ss)i(?=on|an|al|ent|ous)", "S"),
    (r"(?:t|s|z)ur(?=e|$)", "Cer"),
    (r"dg(?=e|i|$)", "J"),
    (r"ck", "k"),
    (r"qu(?=e$|et)", "k"),
    (r"qu", "kw"),
    (r"sc(?=[eiy])", "s"),
    (r"c(?=[eiy])", "s"),
    (r"[cq]", "k"),
    (r"g(?=[eiy])", "J"),
    (r"j", "J"),
    (r"x", "ks"),
    (r"(?<=[a-zA-Z])y(?![aeiou])", "i"),
    (r"(?<=[aeiou])[wh](?![aeiou])", ""),
    (r"(?<=[^aeiou\n])e$", ""),
    (r"(?<=[^aeiouszSCJ\n])e(?=s$)", ""),
    (r"(.)\1+", r"\1"),
    (r"([aeiou])[aeiou]+", r"\1"),
)
"""Rules of spelling in the order they are applied: a regular expression and the sounds it stands for.

They hold for each of several lines, too: none looks beyond the end of a line.
"""
_RULES = tuple((re.compile(pattern, re.MULTILINE), to) for pattern, to in SPELLINGS)
CLASSES = {sound: name for name, sounds in {
    "p": "pb", "t": "tdT", "k": "kg", "f": "fv", "s": "szSCJ", "m": "mn", "l": "l", "r": "r",
}.items() for sound in sounds}  # fmt: skip
"""Consonants that are easily taken for one another, by the letter of their class; w, h and y are in none."""
WEAK = frozenset("why")
ALIKE = frozenset(
    frozenset(pair) for pair in "Tf Tv Ts lr kt pf bv fs wr wv wl pt nl dn tC dJ tS kJ gJ mb hk pk".split()
)
"""Pairs of different classes that are taken for one another now and then."""

_TWICE = re.compile(r"(.)\1+")
_TWO_VOWELS = re.compile(r"([aeiou])[aeiou]+")
SAME_CLASS, LIKE, OTHER = 0.3, 0.65, 1.0
VOWEL, WEAK_GAP = 0.3, 0.4
_GAPS = {**dict.fromkeys(WEAK, WEAK_GAP), **dict.fromkeys(VOWELS, VOWEL)}


@lru_cache(maxsize=20_000)
def sound(word: str) -> str:
    """The sounds of a lower-cased word, one letter a sound (C as in chin, J as in gem, S as in she, T as in thin)."""
    for pattern, to in _RULES:
        word = pattern.sub(to, word)
    return word


def sound_each(words: Sequence[str]) -> list[str]:
    """The sounds of each of many words: all are put through a rule at once, which takes a fifth of the time."""
    text = "\n".join(words)
    for pattern, to in _RULES:
        text = pattern.sub(to, text)
    return text.split("\n") if words else []


def sounds(words: Iterable[str]) -> str:
    """The sounds of words said one after the other."""
    joined = "".join(sound(word) for word in words)
    return _TWICE.sub(r"\1", _TWO_VOWELS.sub(r"\1", joined))


@lru_cache(maxsize=20_000)
def frame(spelled: str) -> str:
    """The consonants of a sound spelling by their classes; what is left of a word however its vowels are heard."""
    return _TWICE.sub(r"\1", "".join(CLASSES.get(letter, "") for letter in spelled))


@lru_cache(maxsize=20_000)
def word_frame(word: str) -> str:
    """The consonants of a word by their classes."""
    return frame(sound(word))


def joined(before: str, own: str) -> str:
    """The consonants of two words said one after the other, by the consonants of each."""
    return before + (own[1:] if before and own and own[0] == before[-1] else own)


def weight(spelled: str) -> float:
    """How much there is to hear in a sound spelling: what leaving all of it out would cost."""
    return sum([_GAPS.get(letter, OTHER) for letter in spelled])


def _gap(letter: str) -> float:
    return _GAPS.get(letter, OTHER)


@lru_cache(maxsize=2_000)
def _swap(a: str, b: str) -> float:
    if (a in VOWELS) != (b in VOWELS):
        return 1.1
    if a in VOWELS:
        return VOWEL / 2
    if CLASSES.get(a, a) == CLASSES.get(b, b):
        return SAME_CLASS
    return LIKE if frozenset((a, b)) in ALIKE else OTHER


@lru_cache(maxsize=20_000)
def distance(heard: str, meant: str) -> float:
    """How far two sound spellings lie apart, 0 for the same sounds, about 1 for nothing in common."""
    gaps = [_gap(letter) for letter in meant]
    row = [0.0]
    for gap in gaps:
        row.append(row[-1] + gap)
    whole = row[-1]
    for a in heard:
        own = _gap(a)
        diagonal, left = row[0], row[0] + own
        row[0] = left
        for j, b in enumerate(meant):
            above = row[j + 1]
            best = diagonal if a == b else diagonal + _swap(a, b)
            if above + own < best:
                best = above + own
            if left + gaps[j] < best:
                best = left + gaps[j]
            diagonal, row[j + 1], left = above, best, best
    return row[-1] / max(whole, weight(heard), 1.0)
