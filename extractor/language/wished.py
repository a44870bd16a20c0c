"""What one wanted and let go, and what one does only in others: 'wanted a clot, it was dry, so that was dropped'.

'Trephination I do only in old tears, here no.' The words by which a thing is let go stand in the list `let-drop`.
"""

from __future__ import annotations

from extractor.grammar.packs import Grammar
from extractor.language.asserted import CONTENT, Assertion
from extractor.language.clause_words import DETERMINERS, FINITE
from extractor.language.clauses import Span
from extractor.language.concepts import Concept
from extractor.language.numbers import atom_at
from extractor.language.verbs import PAST, verbal

WISHING = frozenset({"wanted", "hoped", "meant", "intended", "wished", "aimed", "fancied", "longed"})
OPENING = frozenset({"and", "so", "then", "first", "also", "i", "we", "had", "'d", "really", "originally", "at"})
DEEDS = frozenset({"action", "operation", "technique"})
POINTING = frozenset({"that", "it", "this", "which", "them", "those"})
SPEAKERS = frozenset({"i", "we"})
ASIDES = 4
"""Clauses between a wish and what it is for, at most."""
BEHIND = 4
"""Clauses behind a wish in which it may be let go."""
KITS = frozenset({"set", "sets", "kit", "kits", "tray", "trays", "box", "instruments", "pack", "equipment"})
USED = frozenset("used use using opened open took taken loaded fired needed work worked with".split())
SET_AT = (["from"], ["at"], ["to"], ["up"])
BY_MEANS = frozenset({"with", "using", "from", "through", "via", "by"})
WHOM = frozenset({"in", "for", "with", "on"})
ONCE = frozenset({"when", "if", "where"})
BESIDE_ONLY = frozenset({"really", "now", "then", "even", "always", "usually"})
NOT_A_HABIT = frozenset({"have", "had", "did", "was", "were", "am", "saw", "see", "got", "get", "need"})


def wished(
    clauses: tuple[Span, ...],
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
    grammar: Grammar,
) -> None:
    """Give what was only wanted, or is done only in others, its mood."""
    dropping = grammar.plain_words("let-drop")
    for n, clause in enumerate(clauses):
        held = found[clause.number]
        if held.mood != "performed" or held.negated:
            continue
        if _only_a_kit(clause, inside[clause.number], words):
            found[clause.number] = Assertion("considered", False, None, clause.start)
            continue
        if _only_in_others(clause, words):
            named = [clause]
            if n and _only_names(clauses[n - 1], inside, words) and words[clause.start] in SPEAKERS | {"only"}:
                named.append(clauses[n - 1])
            for one in named:
                found[one.number] = Assertion("habit", found[one.number].negated, None, clause.start)
            continue
        wanted = _object(clauses[n : n + 1 + ASIDES], words) if _wants(clause, words) else None
        if wanted is None:
            continue
        at = n + 1 + wanted.number - clause.number
        behind = clauses[at : at + BEHIND]
        but = bool(behind) and words[behind[0].start] == "but"
        if but or any(_lets_go(c, inside[c.number], words, dropping) or _no_longer(c, words) for c in behind):
            found[wanted.number] = Assertion("considered", False, None, clause.start)


def _only_a_kit(clause: Span, own: list[Concept], words: list[str]) -> bool:
    """'The all-inside set went back closed': a deed that only says which kit it is, and the kit was not put to use."""
    if KITS.isdisjoint(clause.said):
        return False
    deeds = [c for c in own if c.list in DEEDS and c.end < clause.end and words[c.end] in KITS]
    deeds = [c for c in deeds if words[c.end + 1 : c.end + 2] not in SET_AT]  # 'the brace set from zero to seventy'
    if not deeds or any(c.list == "put-to-use" for c in own) or not USED.isdisjoint(clause.said):
        return False
    at = deeds[0].start
    while at > clause.start and words[at - 1] in DETERMINERS:
        at -= 1
    return words[at - 1 : at] == [] or at == clause.start or words[at - 1] not in BY_MEANS


def _wants(clause: Span, words: list[str]) -> bool:
    """'I had wanted ...', 'hoped for ...': a wish, where the clause opens with it."""
    if WISHING.isdisjoint(clause.said):
        return False
    at = clause.start
    while at < clause.end and words[at] in OPENING:
        at += 1
    return at < clause.end and words[at] in WISHING


def _object(clauses: tuple[Span, ...], words: list[str]) -> Span | None:
    """What a wish is for: told in its clause, or behind what is set off: 'I wanted, | or thought I did, | a stitch'."""
    wish = clauses[0]
    if not DEEDS.isdisjoint(wish.lists):
        return wish
    said = [w for w in words[wish.start : wish.end] if w.isalpha()]
    if words[wish.end - 1] != "," or said[-1:] == [] or said[-1] not in WISHING | {"for"}:
        return None
    for aside in clauses[1:]:
        if not DEEDS.isdisjoint(aside.lists):
            return None if verbal(words, aside) else aside
        if words[aside.start] not in SPEAKERS | {"or", "and"} and not verbal(words, aside):
            return None
    return None


def _no_longer(clause: Span, words: list[str]) -> bool:
    """'... and then I no longer did', 'I fancied it no more', 'later I did not': the wish is over."""
    said = [w for w in words[clause.start : clause.end] if w.isalpha() or w == "n't"]
    over = said[-3:-1] == ["no", "longer"] or said[-2:] in (["no", "longer"], ["no", "more"])
    return over or (len(said) > 2 and said[-1] in {"not", "n't"} and said[-2] == "did")


def _lets_go(clause: Span, own: list[Concept], words: list[str], dropping: frozenset[str]) -> bool:
    """'So that was dropped', 'and I dropped it', 'so it fell through': what was wanted is pointed at, and let go."""
    said = [w for w in words[clause.start : clause.end] if w.isalpha()]
    said = said[bool(said) and said[0] in {"so", "and", "but", "then"} :]
    if not said or any(c.list in CONTENT - {"action"} for c in own):
        return False
    drops = next((i for i, w in enumerate(said) if w in dropping), None)
    if drops is None:
        return False
    passive = said[0] in POINTING and drops > 0
    active = (drops == 0 or said[0] in SPEAKERS) and not POINTING.isdisjoint(said[drops + 1 :][:1])
    return passive or active


def _only_in_others(clause: Span, words: list[str]) -> bool:
    """'I make only in old tears', 'I only do in smokers', 'only for old tears': in which others, told in the present.

    'I trephine only in the red zone' tells of this one.
    """
    only = words.index("only", clause.start) if "only" in clause.said else None
    if only is None or not PAST.isdisjoint(clause.said):
        return False
    who = next((i for i in range(clause.start, clause.end) if words[i] in SPEAKERS), None)
    if who is None:
        return _others(words, only + 1, clause.end) and FINITE.isdisjoint(clause.said)
    at = who + 1
    while at < clause.end and (words[at] in BESIDE_ONLY or words[at] == "only"):
        at += 1
    verb = words[at] if at < clause.end else ""
    if not verb.isalpha() or verb.endswith("ed") or verb in FINITE - {"do"} or verb in NOT_A_HABIT:
        return False
    if only > at:
        return _others(words, only + 1, clause.end) or _others_before(words, at + 1, only)
    return any(_others(words, i, clause.end) for i in range(at + 1, clause.end))


def _others(words: list[str], at: int, end: int) -> bool:
    """Whether a few words name others in general: 'in | old tears', 'when the bone is bare'."""
    if at + 1 >= end:
        return False
    if words[at] in ONCE:
        return True
    behind = words[at + 1]
    known = behind in DETERMINERS - {"a", "an"} or behind in {"front", "back", "place", "between", "line", "case"}
    plural = any(w.endswith("s") and len(w) > 3 for w in words[at + 1 : min(end, at + 4)])
    one = behind in {"a", "an"} and words[at] != "on"
    return words[at] in WHOM and not known and atom_at(words, at + 1) is None and (plural or one)


def _others_before(words: list[str], start: int, only: int) -> bool:
    """'We do | in old tears | only'."""
    return any(_others(words, i, only) for i in range(max(start, only - 4), only))


def _only_names(clause: Span, inside: list[list[Concept]], words: list[str]) -> bool:
    """Whether a clause only names a deed, ahead of who does it."""
    named = not DEEDS.isdisjoint(clause.lists)
    return named and not verbal(words, clause) and SPEAKERS.isdisjoint(clause.said)
