"""A deed counts as done only where its clause tells one: here those are found that a clause only names.

'The crater begged for microfracture', 'with outside-in you risk the nerve', 'all-inside costs three times as much',
'thawing a graft takes forty minutes'. Whatever stands without a verb is told ('two sutures, outside-in'), and so is
what stands under a verb of doing, or any that is not known. Under a verb of mind or talk (`of-mind`), as the subject
of its worth (`of-worth`) or of a mere 'is', or behind words that only set it beside (`topic-ahead`), it is not; unless
the clauses behind tell a number, a material or a deed of it.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from extractor.grammar.packs import Grammar
from extractor.language.asserted import Assertion
from extractor.language.clause_words import DETERMINERS, FINITE, PRONOUNS
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.numbers import atom_at
from extractor.language.verbs import MOST_NOUN, PAST

DEEDS = frozenset({"action", "operation"})
WAYS = frozenset({"technique", "brought"})
"""What is never the verb of its clause."""
NOUNS = ("tion", "plasty", "ectomy", "ing", "ment", "sis", "clot", "fracture", "stitch", "tomy", "out", "age", "repair")
"""Ends of words that name a deed, by a noun."""
OWN = DETERMINERS | {"some", "such", "more", "further", "any", "no", "of", "formal", "single", "small", "little"}
AUXILIARY = frozenset({
    "was", "were", "is", "are", "'s", "has", "had", "have", "been", "be", "did", "does", "do", "will", "would", "could",
    "can", "should", "might", "may", "'ve", "'d", "'m", "am",
})  # fmt: skip
UNREAL = frozenset({"would", "might"})
SPEAKING = frozenset({"say", "guess", "call", "estimate", "think", "add", "stress", "note", "not", "n't", "mention"})
"""Behind a 'would' these tell what is so: 'I would call that a plasty', 'it would not pass'."""
IS = frozenset({"is", "are", "'s", "seems", "seemed", "sounds", "sounded", "felt", "feels"})
WAS = IS | {"was", "were", "remains", "remained"}
GIVES = frozenset({"give", "gives", "has", "have"})
YOU = frozenset({"you"})
SHOWN = 8
"""Words before a 'how' in which somebody shows or explains it, at most."""
SHOWING = frozenset({"show", "shows", "showed", "shown", "showing", "demonstrated", "demonstrate"})
STAYING = frozenset({"remained", "remains", "stayed", "stays", "waited", "waits", "lay", "lies", "lie", "sat", "went"})
INDEFINITE = frozenset({"a", "an", "any", "such"})
SELF = frozenset({"ourselves", "myself", "yourself", "yourselves", "himself", "herself"})
SEEING = frozenset({"see", "can", "know"})
JOINED = frozenset({"of", "to", "about", "for", "in", "on", "between"})
THEM = frozenset({"one", "ones", "them", "those", "these", "that", "two", "both", "some", "it", "this"})
FEW = 4
"""Words, at most, of a clause that only names a deed or what it would be."""
BEHIND = 3
"""Clauses behind in which a deed only named may be told, at most."""
MATERIAL = frozenset({"form", "color", "device", "configuration"})


@dataclass(frozen=True)
class _Verbs:
    """The verbs and nouns of the grammar's lists."""

    mind: frozenset[str]
    worth: frozenset[str]
    doing: frozenset[str]
    nouns: frozenset[str]
    being: frozenset[str]
    then: frozenset[str]


def named_deeds(
    segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str], grammar: Grammar
) -> None:
    """Have a clause thought of where all it says of its deeds is no deed."""
    lists = ("of-mind", "of-worth", "stitch-evidence", "mind-noun", "deed-is", "done-then")
    verbs = _Verbs(*(grammar.plain_words(name) for name in lists))
    for clause in segments.clauses:
        own = inside[clause.number]
        ways = {(c.start, c.end) for c in own if c.list in WAYS}
        deeds = [c for c in own if c.list in WAYS or (c.list in DEEDS and (c.start, c.end) not in ways)]
        if not deeds or not found[clause.number].done or any(c.list == "affirmed" for c in own):
            continue
        if not any(_is_named(c, clause, words) or _off_hand(c, clause, words, verbs) for c in deeds):
            continue
        beside = segments.clauses_of(segments.sentence_at(clause.start))
        if all(
            _off_hand(c, clause, words, verbs)
            or (_is_named(c, clause, words) and _no_deed(c, clause, beside, inside, words, verbs))
            for c in deeds
        ):
            if not _told_behind(clause, deeds, beside, inside, found, words, verbs):
                found[clause.number] = Assertion("considered", False, None, clause.start)


def _is_named(deed: Concept, clause: Span, words: list[str]) -> bool:
    """'An outside-in', 'rasping the rim', 'the trick to reduce it', and not 'we rasped it' or 'is rasping'."""
    lead = words[deed.start - 1] if deed.start > clause.start else ""
    if any(w.endswith("ed") and len(w) > MOST_NOUN for w in words[deed.start : deed.end]):
        return False
    if words[deed.start].endswith("ing") and (lead in AUXILIARY or lead in PRONOUNS):
        return False
    return _is_noun(deed, words) or lead in OWN or lead == "to"


def _is_noun(deed: Concept, words: list[str]) -> bool:
    return deed.list in WAYS or any(w.endswith(NOUNS) for w in words[deed.start : deed.end])


def _no_deed(
    deed: Concept,
    clause: Span,
    beside: tuple[Span, ...],
    inside: list[list[Concept]],
    words: list[str],
    verbs: _Verbs,
) -> bool:
    """Whether what a clause says of a deed is none."""
    lead = deed.start
    while lead > clause.start and words[lead - 1] in OWN:
        lead -= 1
    if any(c.list == "topic-ahead" and c.end in {lead, deed.start} for c in inside[clause.number]):
        return True
    if lead > clause.start and words[lead - 1] in JOINED:
        lead -= 1
    if words[deed.end : deed.end + 1] == ["being"]:
        return True
    return (
        _minded(deed, clause, words, verbs)
        or _noun_of_mind(deed, lead, clause, words, verbs)
        or _judged(deed, lead, clause, words, verbs)
        or _imagined(clause, words)
        or _of_any(deed, clause, words, verbs)
        or _waits(deed, lead, clause, words)
        or (_is_noun(deed, words) and _instead_of(clause, beside, words, verbs))
    )


def _minded(deed: Concept, clause: Span, words: list[str], verbs: _Verbs) -> bool:
    """Whether the verb of a deed is one of mind, or of its worth."""
    before = [i for i in range(clause.start, deed.start) if _is_verb(words, i, verbs)]
    if before:
        at = before[-1]
        if words[at - 1 : at] == ["to"] and at - 1 > clause.start:
            at -= 2
            if words[at] in {"us", "me", "him", "her", "them", "you"} and at > clause.start:
                at -= 1
        return words[at] in verbs.mind
    after = [i for i in range(deed.end, clause.end) if _is_verb(words, i, verbs) and words[i] not in AUXILIARY]
    if after and words[after[0] + 1 : after[0] + 2] and words[after[0] + 1] in SELF:
        return True  # 'the outside-in we saved ourselves'
    if not after or words[after[0]] not in verbs.mind | verbs.worth:
        return False
    later = {words[i] for i in after[1:]} & (verbs.doing | verbs.then)
    return not later or "and" not in words[after[0] : clause.end]


def _is_verb(words: list[str], i: int, verbs: _Verbs) -> bool:
    """Whether a word is a verb as far as is known; not the 'risk' of 'the risk' nor the 'like' of 'like this'."""
    word = words[i]
    if word in verbs.mind or word in verbs.worth:
        return words[i - 1] not in OWN and not (word == "like" and words[i - 1] not in PRONOUNS | {"would"})
    return word in FINITE or word in PAST or word in verbs.doing or (word.endswith("ed") and len(word) > MOST_NOUN)


def _noun_of_mind(deed: Concept, lead: int, clause: Span, words: list[str], verbs: _Verbs) -> bool:
    """'The temptation to trim it', 'I am no fan of trephination', 'venting it was the fellow's idea'."""
    ahead = words[lead - 1 : lead] if words[lead] in JOINED else words[lead - 2 : lead - 1]
    joined = words[lead] in JOINED or words[lead - 1 : lead] == ["of"] or words[deed.start - 1] == "to"
    if joined and ahead and ahead[0] in verbs.nouns and lead - 1 >= clause.start:
        return True
    was = next((i for i in range(deed.end, clause.end) if words[i] in WAS | GIVES), None)
    first = not any(_is_verb(words, i, verbs) for i in range(clause.start, deed.start))
    return first and was is not None and not verbs.nouns.isdisjoint(words[was : max(clause.end, was + FEW + 1)])


def _judged(deed: Concept, lead: int, clause: Span, words: list[str], verbs: _Verbs) -> bool:
    """'Partial meniscectomy is quick', 'a chondroplasty seemed excessive': a verdict on it, and no result."""
    if lead - clause.start > 1 or not _is_noun(deed, words) or (JOINED | IS).isdisjoint(words[deed.end : deed.end + 1]):
        return False
    at = next((i for i in range(deed.end, min(clause.end, deed.end + FEW)) if words[i] in IS), None)
    if at is None or at + 1 >= clause.end:
        return False
    told = words[at + 1]
    if not told.isalpha() or told.endswith(("ed", "ing")) or atom_at(words, at + 1) is not None:
        return False
    return told not in verbs.being | verbs.doing


def _imagined(clause: Span, words: list[str]) -> bool:
    """'Resecting it would have left nothing', 'a brace might help'."""
    return any(
        words[i] in UNREAL and words[i + 1 : i + 2] and words[i + 1] not in SPEAKING
        for i in range(clause.start, clause.end)
    )


def _off_hand(deed: Concept, clause: Span, words: list[str], verbs: _Verbs) -> bool:
    """Whether a deed, be it told by a verb, is only shown, is what others do, or what anybody gets.

    'I showed how it is passed', 'it looked as if it had been rasped', 'where others resect', 'with the tunnel drilled
    so you end up vertical'.
    """
    start = clause.start if words[clause.start - 1] != "how" else max(0, clause.start - SHOWN)
    ahead = words[start : deed.start]
    if "how" in ahead and any(w in verbs.mind or w in SHOWING for w in ahead):
        return True
    if any(pair in (["as", "if"], ["as", "though"]) for pair in ([a, b] for a, b in pairwise(ahead))):
        return True
    return ahead[-1:] == ["others"] or _of_you(deed, clause, words)


def _of_any(deed: Concept, clause: Span, words: list[str], verbs: _Verbs) -> bool:
    """'Thawing a graft takes forty minutes': any of them, in the present."""
    if deed.start > clause.start or not words[deed.start].endswith("ing"):
        return False
    behind = words[deed.start + 1 : clause.end]
    if INDEFINITE.isdisjoint(behind[:2]) or any(w in PAST or w.endswith("ed") for w in behind):
        return False
    return any(w.endswith("s") and w in verbs.doing for w in behind)


def _waits(deed: Concept, lead: int, clause: Span, words: list[str]) -> bool:
    """'The awls for a microfracture remained on the tray': what was there for it, and that it stayed so."""
    behind = words[deed.end : deed.end + 1]
    return words[lead] == "for" and lead > clause.start and behind != [] and behind[0] in STAYING


def _of_you(deed: Concept, clause: Span, words: list[str]) -> bool:
    """'With outside-in you risk the nerve': what anybody gets of it."""
    if words[clause.start] != "with":
        return False
    at = next((i for i in range(deed.end, clause.end - 1) if words[i] in YOU), None)
    return at is not None and words[at + 1] not in SEEING


def _instead_of(clause: Span, beside: tuple[Span, ...], words: list[str], verbs: _Verbs) -> bool:
    """'The alternative, | outside-in, | takes longer', 'outside-in, | that is what my chief would say'."""
    few = sum(w.isalpha() for w in words[clause.start : clause.end]) <= FEW
    if not few or words[clause.end - 1] != ",":
        return False
    n = beside.index(clause)
    first = words[beside[n - 1].start : clause.end] if n else words[clause.start : clause.end]
    if "," in first[:FEW] and first[first.index(",") - 1] in verbs.nouns:
        return True
    if n + 1 == len(beside):
        return False
    behind = words[beside[n + 1].start : beside[-1].end]
    return behind[:1] in (["that"], ["this"]) and behind[1:2] in (["is"], ["'s"], ["was"]) and "what" in behind[:3]


def _told_behind(
    clause: Span,
    deeds: list[Concept],
    beside: tuple[Span, ...],
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
    verbs: _Verbs,
) -> bool:
    """'I like an outside-in there, | two of PDS', '... | and put two': a number, a material or a deed is told of it."""
    n = beside.index(clause)
    names = {c.key for c in deeds}
    for behind in beside[n + 1 : n + 1 + BEHIND]:
        own = inside[behind.number]
        if not found[behind.number].done or any(c.list in DEEDS and c.key not in names for c in own):
            return False
        said = range(behind.start, behind.end)
        verb = any(words[i] in FINITE or words[i] in PAST or words[i] in verbs.then | verbs.mind for i in said)
        if not verb and (any(atom_at(words, i) is not None for i in said) or any(c.list in MATERIAL for c in own)):
            return True
        if any(_did_so(words, i, behind, verbs) for i in said):
            return True
    return False


def _did_so(words: list[str], at: int, clause: Span, verbs: _Verbs) -> bool:
    """'Put two', 'those went in', 'three are in': what was only named is the object or the subject of a deed."""
    if words[at] not in verbs.then:
        return False
    object_ = at + 1 < clause.end and (words[at + 1] in THEM or atom_at(words, at + 1) is not None)
    lead = at - 1 if words[at - 1] not in AUXILIARY else at - 2
    subject = lead >= clause.start and (
        words[lead] in THEM - {"that", "it", "this"} or atom_at(words, lead) is not None
    )
    return (object_ and words[at] not in AUXILIARY) or subject
