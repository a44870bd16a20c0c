"""A deed counts as done only where its clause tells one: here those are found that a clause only names.

Whatever stands without a verb is told ('two sutures, outside-in'), and so is what stands under a verb of doing, or any
that is not known. What says something else of it stands in `no_deed.py`. What was only named so was done where the
clauses behind tell a number, a material or a deed of it: 'I like an outside-in there, two of PDS'.
"""

from __future__ import annotations

from extractor.grammar.packs import Grammar
from extractor.language.asserted import Assertion
from extractor.language.clause_words import FINITE, PRONOUNS
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.no_deed import AUXILIARY, BE, OWN, WAYS, Verbs, is_noun, no_deed, off_hand
from extractor.language.numbers import atom_at
from extractor.language.verbs import MOST_NOUN, PAST

DEEDS = frozenset({"action", "operation", "tie"})
NAMED = WAYS | DEEDS
THAT_IS_WHAT = (["that", "is", "what", "he"], ["that", "is", "what", "she"], ["that", "is", "what", "we"])
THEM = frozenset({"one", "ones", "them", "those", "these", "that", "two", "both", "some", "it", "this"})
BEHIND = 3
"""Clauses behind in which a deed only named may be told, at most."""
MATERIAL = frozenset({"form", "color", "device", "configuration"})
LISTS = (
    "of-mind", "of-worth", "stitch-evidence", "mind-noun", "deed-is", "done-then", "of-effect", "hand-tool", "showing",
    "stays-there", "worth-once", "tool-state",
)  # fmt: skip
"""The lists of `Verbs`, in its order."""


def named_deeds(
    segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str], grammar: Grammar
) -> None:
    """Have a clause thought of where all it says of its deeds is no deed."""
    verbs = Verbs(*(grammar.plain_words(name) for name in LISTS))
    ours = verbs.mind | verbs.worth | verbs.effect
    for clause in segments.clauses:
        if NAMED.isdisjoint(clause.lists) or "affirmed" in clause.lists:
            continue
        own = inside[clause.number]
        ways = {(c.start, c.end) for c in own if c.list in WAYS}
        deeds = [c for c in own if c.list in WAYS or (c.list in DEEDS and (c.start, c.end) not in ways)]
        starts = {c.start for c in deeds}
        deeds = [c for c in deeds if not ours.issuperset(words[c.start : c.end]) and c.end not in starts]
        ahead = [c for c in own if c.list == "topic-ahead"]
        deeds = [c for c in deeds if not any(t.start <= c.start < t.end for t in ahead)]
        if not deeds or not _says_so(found[clause.number], deeds):
            continue
        if not any(_is_named(c, clause, words) or off_hand(c, clause, words, verbs) for c in deeds):
            continue
        beside = segments.clauses_of(segments.sentence_at(clause.start))
        if all(
            off_hand(c, clause, words, verbs)
            or (_is_named(c, clause, words) and no_deed(c, clause, beside, inside, words, verbs))
            for c in deeds
        ):
            if not _told_behind(clause, deeds, beside, inside, found, words, verbs):
                found[clause.number] = Assertion("considered", False, None, clause.start)


def _says_so(held: Assertion, deeds: list[Concept]) -> bool:
    """Whether what is said of deeds is said as so; 'inside-out is no fun' denies only what stands behind."""
    return held.mood == "performed" and not any(held.declines(c.end - 1) for c in deeds)


def _is_named(deed: Concept, clause: Span, words: list[str]) -> bool:
    """'An outside-in', 'rasping the rim', 'the trick to reduce it', and not 'we rasped it' or 'is rasping'."""
    lead = words[deed.start - 1] if deed.start > clause.start else ""
    if [w for w in words[deed.start : deed.end] if w[-2:] == "ed" and len(w) > MOST_NOUN]:
        return False
    if words[deed.start].endswith("ing") and (lead in AUXILIARY or lead in PRONOUNS):
        return False
    return is_noun(deed, words) or lead in OWN or lead == "to"


def _told_behind(
    clause: Span,
    deeds: list[Concept],
    beside: tuple[Span, ...],
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
    verbs: Verbs,
) -> bool:
    """'I like an outside-in there, | two of PDS', '... | and put two': a number, a material or a deed is told of it."""
    n = beside.index(clause)
    names = {c.key for c in deeds}
    if any(_did_so(words, i, clause, verbs) for i in range(max(c.end for c in deeds), clause.end)):
        return True  # 'I asked for all-inside and got four of them in'
    for behind in beside[n + 1 : n + 1 + BEHIND]:
        own = inside[behind.number]
        if words[behind.start] == "as" or not any(w.isalpha() and w != "and" for w in words[behind.start : behind.end]):
            continue
        if words[behind.start : behind.start + 4] in THAT_IS_WHAT:
            return True
        if not found[behind.number].done or any(c.list in DEEDS and c.key not in names for c in own):
            return False
        if words[behind.start] in verbs.then - BE:
            return True  # '..., | done with the shaver'
        said = range(behind.start, behind.end)
        verb = any(words[i] in FINITE or words[i] in PAST or words[i] in verbs.then | verbs.mind for i in said)
        if not verb and (any(_counts(words, i) for i in said) or any(c.list in MATERIAL for c in own)):
            return True
        if any(_did_so(words, i, behind, verbs) for i in said):
            return True
    return False


def _counts(words: list[str], at: int) -> bool:
    return atom_at(words, at) is not None and words[at - 1] not in {"this", "that", "the", "no", "any"}


def _did_so(words: list[str], at: int, clause: Span, verbs: Verbs) -> bool:
    """'Put two', 'those went in', 'three are in': what was only named is the object or the subject of a deed."""
    if words[at] not in verbs.then:
        return False
    object_ = at + 1 < clause.end and (words[at + 1] in THEM or atom_at(words, at + 1) is not None)
    lead = at - 1 if words[at - 1] not in AUXILIARY else at - 2
    subject = lead >= clause.start and (
        words[lead] in THEM - {"that", "it", "this"} or atom_at(words, lead) is not None
    )
    return (object_ and words[at] not in BE) or subject
