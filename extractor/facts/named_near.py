"""Bare numbers known for a size by what names them: a thing or a dimension beside them, or as their heading."""

from __future__ import annotations

from functools import lru_cache

from extractor.facts.case import Case
from extractor.grammar.packs import Grammar
from extractor.language.clause_words import CONNECTORS, DETERMINERS, FINITE, PREPOSITIONS, PRONOUNS
from extractor.language.clauses import named_behind
from extractor.language.concepts import Concept
from extractor.language.quantities import Quantity

LIKEWISE = frozenset("also again likewise only just exactly precisely roughly approximately nearly now still".split())
"""Between a verb and its number they change nothing."""
HEADED = frozenset(
    ", : - is was at about of in after up to on off down for had been under below than less some maybe"
    " also again".split()
)
LASTS = frozenset({
    "for", "until", "till", "during", "in", "initially", "maximum", "max", "tops", "only", "please", "total",
    "throughout", "meanwhile", "thereafter",
})  # fmt: skip
"""After the number they only say how long it holds, or that it is all."""
POINTED = frozenset({"it", "that", "this"})
MAKES = frozenset({"make", "makes", "made", "call"})
RELATIVES = frozenset({"that", "which"})
RELATIVE = 6
"""Tokens from that subject to the verb, at most."""
OPENERS = frozenset({"the", "its", "a", "and", "with", "of", ","})
"""Words that may stand before the dimension that a clause without a verb opens with."""
LONGEST_ATTRIBUTE = 4
"""Tokens between that dimension and its number, at most: 'depth down to the bone three'."""
MOST_HEADED = 4
SIZE_IS = frozenset({"of", "is", "was", "about"})
"""Words between 'size' and its number."""
ELSE = ("thing", "device", "form", "stitch-noun", "structure")
LONGEST_HEADING = 6
"""Tokens of 'rim left standing at the end', at most."""
OWNED = 8
"""Tokens of 'extrusion of the medial meniscus', at most."""
SHORT = 3
LONGEST_LEAD = 16
"""Words, at most, of what leads up to a number behind a comma."""
STATED = frozenset({"is", "was"})
"""Verbs by which a thing is said to be of a size, beside those of `states-size`."""


def is_named_behind(case: Case, q: Quantity) -> bool:
    """'Nine, that's rim to free edge': in the clause that a bare number opens, what it measures is named behind it."""
    opens, clause = named_behind(case.words, q.end), case.clause(q.start)
    if not q.end < opens < case.sentence(q.start).end:
        return False
    known = _things_of_bare(case.grammar)
    named = any(c.key in known for c in case.within("thing", opens, opens + SHORT))
    return named or bool(case.within("dimension", opens, clause.end)) or bool(_sizes(case, opens))


def _sizes(case: Case, at: int) -> list[Concept]:
    """The word 'size' right there."""
    return [c for c in case.within("cue", at, at + 2) if c.name == "size-word"]


def is_stated_of(case: Case, q: Quantity) -> bool:
    """'The rim that is left measures two', 'depth at the center, three': it ends a clause that names what is measured.

    Its verb stands before it, or it has none and opens with the dimension.
    """
    clause, words = case.clause(q.start), case.words
    at = verb_before(case, q.start)
    if not _ends(case, q) or at <= clause.start or any(case.finals(clause.start, q.start)):
        return False
    makes = words[at] in POINTED and words[at - 1] in MAKES
    named = case.within("dimension", clause.start, at + 1)
    if makes or words[at] in STATED or words[at] in case.grammar.plain_words("states-size"):
        known = _things_of_bare(case.grammar)
        start = _relative(case, clause.start, at)
        return bool(named) or any(c.key in known for c in case.within("thing", start, at + 1))
    return (
        len(named) == 1
        and all(w in OPENERS for w in words[clause.start : named[0].start])
        and q.start - named[0].end <= LONGEST_ATTRIBUTE
        and (FINITE | PRONOUNS).isdisjoint(words[clause.start : q.start])
        and not case.within("thing", clause.start, q.start)
    )


def is_of_thing(case: Case, q: Quantity) -> bool:
    """'Leaving four of rim': a bare number of one thing, and not of several."""
    known = _things_of_bare(case.grammar)
    of = q.end if q.kind == "quantity" and case.words[q.end : q.end + 1] == ["of"] else -1
    said = case.within("thing", of + 1, of + 2) if of > 0 else []
    return any(c.key in known and not case.words[c.end - 1].endswith("s") for c in said)


def is_said_of(case: Case, q: Quantity) -> bool:
    """'An incision of forty over the pes': a bare number of one thing named right before it."""
    if case.words[q.start - 1 : q.start] != ["of"]:
        return False
    known = _things_of_bare(case.grammar)
    named = case.within("thing", max(0, q.start - 4), q.start)
    return any(c.key in known and c.end == q.start - 1 and not case.words[c.end - 1].endswith("s") for c in named)


def _relative(case: Case, start: int, at: int) -> int:
    """Where the subject of a verb opens of which a short clause of its own tells: 'the rim that we left | is two'."""
    opens, floor = start, max(case.sentence(at).start, at - RELATIVE)
    while opens > floor and case.words[opens - 1] not in CONNECTORS - RELATIVES | {",", ":"}:
        opens -= 1
    return opens


def verb_before(case: Case, opens: int) -> int:
    """The token that leads up to a number: 'the tibial tunnel was also nine'."""
    at = opens - 1
    while at and case.words[at] in LIKEWISE:
        at -= 1
    return at


@lru_cache(maxsize=8)
def _things_of_bare(grammar: Grammar) -> frozenset[str]:
    """Things that a rule takes bare numbers for, of a likely size or without words of measuring."""
    return frozenset().union(
        *(rule.of for rule in grammar.rules if rule.bare_within or (rule.bare and not rule.words and rule.part is None))
    )


def is_attributed(case: Case, q: Quantity) -> bool:
    """'A nine tunnel', 'eight and a half socket': a bare number right before one of what is told so."""
    known = _things_of_bare(case.grammar)
    after = case.within("thing", q.end, q.end + 1)
    return any(c.key in known and not case.words[c.end - 1].endswith("s") for c in after)


def is_by_its_size(case: Case, q: Quantity) -> bool:
    """'A loose body, size eleven', 'twelve in size': the word 'size' alone stands by a bare number."""
    lead = [w for w in case.words[max(0, q.start - 2) : q.start] if w not in SIZE_IS]
    return (lead[-1:] == ["size"] or case.words[q.end : q.end + 2] == ["in", "size"]) and _ends(case, q)


def _ends(case: Case, q: Quantity) -> bool:
    """Whether nothing more is said of a number than that it is all."""
    after = case.words[q.end : q.end + 1]
    level = case.note.segments.level
    parts = q.end < len(level) and level[q.end] >= 1  # in a run-on '... two eighty | prepped and draped'
    parts = parts or (after == ["at"] and any(o.dimension != "length" for o in case.numbers(q.end, q.end + 2)))
    return not after or not after[0][:1].isalnum() or after[0] in CONNECTORS | LASTS or parts


def is_headed(case: Case, q: Quantity) -> bool:
    """'Blood loss, thirty.' 'Tourniquet 250, ...': a thing, a number, and nothing more.

    So is what is measured of a thing: 'Size of the loose body, twelve.', 'Width of the slot nine, ...'
    """
    before = q.start
    while before and q.start - before < MOST_HEADED and case.words[before - 1] in HEADED:
        before -= 1
    if not _ends(case, q):
        return False
    known = _things_of_bare(case.grammar)
    opens = case.clause(before - 1).start if before else 0
    heads = [c for c in case.within("thing", max(0, before - 4), before) if c.end == before and c.key in known]
    if heads:
        return not _several_in(case, opens, heads[0].start)  # 'Sutures left in the rim, four.'
    opens += case.words[opens : opens + 1] == ["the"]
    measured = (*case.within("thing", opens, opens + 1), *case.within("dimension", opens, opens + 1))
    named = [c for c in (*measured, *_sizes(case, opens)) if c.start == opens]
    if _left_so(case, q, opens):
        return True
    of = any(case.words[c.end : c.end + 1] == ["of"] for c in named)
    said = case.words[opens:before] if of and before - opens <= OWNED else []
    return bool(said) and FINITE.isdisjoint(said) and not any(case.finals(opens, before))


def _several_in(case: Case, opens: int, thing: int) -> bool:
    """Whether a number counts what a clause opens with, and the thing before it only says where they are."""
    lead = case.words[opens:thing]
    several = any(case.words[c.end - 1].endswith("s") for name in ELSE for c in case.within(name, opens, opens + 2))
    return several and not PREPOSITIONS.isdisjoint(lead) and FINITE.isdisjoint(lead)


def _left_so(case: Case, q: Quantity, opens: int) -> bool:
    """'Rim left standing, two.': one thing, how it was left, and behind a pause its number; no verb, nothing else."""
    comma = q.start - 1
    if case.words[comma] not in {",", ":"} or not 1 < comma - opens <= LONGEST_HEADING:
        return False
    things = [c for name in ELSE for c in case.within(name, opens, comma)]
    one = (
        len({c.start for c in things}) == 1
        and things[0].start == opens
        and things[0].key in _things_of_bare(case.grammar)
    )
    said = case.words[things[0].end : comma] if one else []
    bare = bool(said) and (FINITE | PRONOUNS | CONNECTORS).isdisjoint(said) and said[0] not in DETERMINERS
    return bare and not case.words[things[0].end - 1].endswith("s") and not any(case.finals(opens, comma))


def is_led_up_to(case: Case, q: Quantity) -> bool:
    """'From the posterior root to the gap, seven and a half': what is measured stands before a comma."""
    level = case.note.segments.level
    if q.start < 2 or case.words[q.start - 1] not in {",", ":"}:
        return False
    opens = q.start - 1
    while opens > 0 and level[opens] < 2 and q.start - opens < LONGEST_LEAD:
        opens -= 1
    if case.finals(opens, q.start):
        return False
    return bool(case.within("dimension", opens, q.start - 1))
