"""Regular inflections of an English word, for the `~` of the word lists."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

ENDING = "~"
"""Ahead of a word: it is found at the end of longer ones, too."""
VOWELS = frozenset("aeiou")
BRITISH = {
    "anesthesia": "anaesthesia", "anesthetic": "anaesthetic", "anesthetics": "anaesthetics", "calibers": "calibres",
    "anesthetized": "anaesthetised", "center": "centre", "centered": "centred", "centers": "centres",
    "color": "colour", "colored": "coloured", "colors": "colours", "fiber": "fibre", "fibers": "fibres",
    "edema": "oedema", "hematoma": "haematoma", "hemarthrosis": "haemarthrosis", "hemostasis": "haemostasis",
    "gray": "grey", "labeled": "labelled", "labeling": "labelling", "ischemia": "ischaemia", "ischemic": "ischaemic",
    "neighbor": "neighbour", "neighbors": "neighbours", "tumor": "tumour", "caliber": "calibre",
    "beveled": "bevelled", "chiseled": "chiselled", "channeled": "channelled", "tunneled": "tunnelled",
    "leveled": "levelled", "program": "programme", "orthopedic": "orthopaedic",
}  # fmt: skip
"""Words of the lists as they are spelt in British notes."""
IZED = re.compile(r"([a-z]{3,})iz(e|ed|es|ing|ation)$")
"""'Visualized' is also 'visualised'; 'undersized' is not touched (`SIZED`)."""
PART = re.compile(r"\([^\s()][^()]*\)|\S+")
"""A word of a way of saying, or several that may be left out together."""
SIZED = ("size", "sized", "sizes", "sizing", "seize", "seized", "prize")


def inflections(word: str) -> tuple[str, ...]:
    """The word with its regular -s, -ed and -ing forms: 'trim' gives trim, trims, trimmed, trimming."""
    if word.endswith("e"):
        return (word, word + "s", word + "d", word[:-1] + "ing")
    if word.endswith("y") and word[-2:-1] not in VOWELS:
        return (word, word[:-1] + "ies", word[:-1] + "ied", word + "ing")
    plural = word + ("es" if word.endswith(("s", "x", "z", "ch", "sh")) else "s")
    stem = word + word[-1] if _doubles(word) else word
    return (word, plural, stem + "ed", stem + "ing")


def _doubles(word: str) -> bool:
    """One vowel between two consonants in a short last syllable: trim, prep, scrub."""
    if len(word) < 3 or word[-1] in VOWELS or word[-1] in "wxy":
        return False
    vowels = sum(c in VOWELS for c in word)
    return vowels == 1 and word[-2] in VOWELS and word[-3] not in VOWELS


@cache
def spellings(way: str) -> tuple[str, ...]:
    """All forms of one way of saying.

    `~` inflects its word, capitals (ACL) are also spelt out, `(the)` may be left out, and so may `(all of the)`
    together, `from/off` gives either word: 'from/off (the) root' stands for four ways. American words stand for their
    British spelling too. A `~` ahead of the only word changes nothing here.
    """
    way = way.removeprefix(ENDING)
    forms = [("", "")]  # as spelt here, and as spelt in Britain
    for part in PART.findall(way):
        forms = [(a + x, b + y) for a, b in forms for x, y in _options_of(part)]
    return tuple(dict.fromkeys(spelt[1:] for form in forms for spelt in form))


def head(way: str) -> str:
    """As much of a way of saying as tells its openings: its first word, or all of it where that may be left out."""
    first = way.partition(" ")[0]
    return way if first.startswith("(") or "" in first.split("/") else first


def openings(way: str) -> frozenset[str]:
    """The first words of all forms of one way of saying, without the forms being made."""
    return _outermost((match[0] for match in PART.finditer(way.removeprefix(ENDING))), 0)


def closings(way: str) -> frozenset[str]:
    """The last words of all forms of one way of saying, without the forms being made."""
    return _outermost(reversed(PART.findall(way.removeprefix(ENDING))), -1)


def words_in(ways: Iterable[str]) -> set[str]:
    """The words of all forms of ways of saying, without the forms being made."""
    parts: set[str] = set()
    for way in ways:
        parts.update(PART.findall(way.removeprefix(ENDING)) if "(" in way else way.removeprefix(ENDING).split())
    plain = {part for part in parts if part.isalpha() and part.islower()}
    found = {*plain, *map(_british, plain)}
    for part in parts - plain:
        for spelt in _options_of(part):
            found.update(word for form in spelt for word in form.split())
    return found


def parts_of(way: str) -> set[tuple[tuple[str, ...], ...]]:
    """What may stand for each part of a way of saying, once as spelt here and once as spelt in Britain if that differs.

    Each form of the way of saying has one of each part.
    """
    parts = [_options_of(part) for part in PART.findall(way.removeprefix(ENDING))]
    return {tuple(tuple(pair[at] for pair in options) for options in parts) for at in (0, 1)}


def _outermost(parts: Iterable[str], at: int) -> frozenset[str]:
    """The words that may stand outermost (`at` 0 or -1) where parts are told from that side."""
    found: frozenset[str] = frozenset()
    for part in parts:
        words, may_go = _outer(part, at)
        found |= words
        if not may_go:
            break
    return found


@cache
def _outer(part: str, at: int) -> tuple[frozenset[str], bool]:
    """The outermost words of what may stand for a part of a way of saying, and whether it may be left out."""
    said = {form for pair in _options_of(part) for form in pair}
    return frozenset(form.split()[at] for form in said if form), "" in said


def _options_of(part: str) -> tuple[tuple[str, str], ...]:
    return _options(part) if " " not in part else (*_group(part), ("", ""))


def _group(part: str) -> tuple[tuple[str, str], ...]:
    """What several words in brackets stand for, as `_options`: '(set of)'."""
    return tuple((f" {form}", f" {form}") for form in spellings(part[1:-1]))


@cache
def _options(word: str) -> tuple[tuple[str, str], ...]:
    """What may stand for one word of a way of saying, each with the space before it, and its British spelling."""
    if word == "/":
        return ((" /", " /"),)
    said = [o for part in word.strip("()").split("/") for o in _one_word(part)]
    options = tuple((f" {o}", f" {_british(o)}") if o else ("", "") for o in said)
    return (*options, ("", "")) if word.startswith("(") and word.endswith(")") else options


def _british(word: str) -> str:
    if word in BRITISH:
        return BRITISH[word]
    return IZED.sub(r"\1is\2", word) if "iz" in word and not word.endswith(SIZED) else word


def _one_word(word: str) -> tuple[str, ...]:
    if word.endswith("~"):
        return inflections(word[:-1].lower())
    if word.isupper() and word.isalpha() and 2 <= len(word) <= 5:
        return (word.lower(), " ".join(word.lower()))
    return (word.lower(),)
