"""'The rim was left untrimmed': a deed told as not done by the 'un-' ahead of its participle.

Such a word is read as two, 'not' and the deed's own, wherever it says what was done or left of a thing. The word itself
may stand in no list: any deed that the packs know may be denied so. What stands ahead of a noun ('the untied sutures')
tells what it is and not what was done, and stays as it is.
"""

from __future__ import annotations

from functools import lru_cache

from extractor.grammar.inflect import spellings
from extractor.grammar.packs import Grammar
from extractor.language.clause_words import SENTENCE_END
from extractor.language.lexicon import DEEDS
from extractor.language.tokens import Tokens

UN = "un"
LEAVING = frozenset(
    "left leave leaves leaving remain remains remained stay stays stayed kept keep keeps go goes went going".split()
)
BE = frozenset("was were is are be been being 's".split())
OBJECTS = frozenset("the a an this that these those his her its their my our it them him all both each one".split())
"""What opens the object of 'left', which without one of these is a side: 'the left knee'."""
WITHIN = 8
"""Tokens between 'left' and what was left of its object, at most."""
ALSO = frozenset({"cut", "sewn", "shut"})
"""Participles that do not end in -ed."""
DOING = frozenset({"performed", "executed", "attempted", "undertaken", "started", "begun", "tried", "accomplished"})
"""Participles of doing as such, which are no deed of any pack: 'the trephination went unperformed'."""
REVERSED = frozenset(
    "untied unloaded unlocked unscrewed unfolded unrolled unclamped unhooked unpinned uncovered unwrapped unpacked "
    "unplugged unclipped unbraced undressed unraveled unravelled unsealed unstrapped unneeded unused unopened "
    "untouched untreated unchanged".split()
)
"""What is undone and not left undone, and what tells of more than one deed."""


def with_un_parted(tokens: Tokens, grammar: Grammar) -> Tokens:
    """The tokens with 'un-' read as 'not' ahead of a deed that was left so. Linear in their number."""
    words = tokens.words
    opened = {word for word in words if word[: len(UN)] == UN}
    if not opened:
        return tokens
    deeds = _participles(grammar)
    if UN not in opened and deeds.isdisjoint([word[len(UN) :] for word in opened]):
        return tokens  # 'under', 'until'
    out, at = Tokens(tokens.text), 0
    while at < len(words):
        word, start, end = words[at], tokens.starts[at], tokens.ends[at]
        hyphened = word == UN and at + 1 < len(words) and words[at + 1] in deeds
        glued = word.startswith(UN) and word[len(UN) :] in deeds and word not in REVERSED
        as_such = words[at + hyphened].removeprefix(UN) in DOING and (glued or hyphened)
        if as_such or ((glued or hyphened) and _of_what_was_left(words, at)):
            out.add("not", start, start + len(UN))
            if glued:
                out.add(word[len(UN) :], start + len(UN), end)
        else:
            out.add(word, start, end)
        at += 1
    return out


def _of_what_was_left(words: list[str], at: int) -> bool:
    """Whether a word tells what a thing was, or was left: behind 'was', 'left', or 'left the rim'."""
    back = at - 1
    while back >= 0 and words[back].endswith("ly"):
        back -= 1
    if back >= 0 and (words[back] in BE or words[back] in LEAVING):
        return True
    for i in range(back, max(-1, back - WITHIN), -1):
        if words[i] in SENTENCE_END or words[i] == ",":
            return False
        if words[i] in LEAVING:
            return words[i + 1] in OBJECTS
    return False


@lru_cache(maxsize=8)
def _participles(grammar: Grammar) -> frozenset[str]:
    """Single words of the packs' deeds that are participles, and those of doing as such."""
    return DOING.union(
        form
        for name, entry in grammar.words
        if name in DEEDS
        for way in entry.spoken
        for form in spellings(way)
        if " " not in form and (form.endswith("ed") or form in ALSO)
    )
