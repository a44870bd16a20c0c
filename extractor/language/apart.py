"""Denials whose words stand apart from each other, or behind what they deny.

'I let chondroplasty be', 'we left the notchplasty for another day', 'to trim was there nothing', 'for a clot there was
no reason': a verb and its end with the deed between them, or a deed told first and denied at the end.
"""

from __future__ import annotations

from extractor.grammar.packs import Grammar
from extractor.language.asserted import Assertion
from extractor.language.clause_words import FINITE, PAUSES, SENTENCE_END
from extractor.language.clauses import Span
from extractor.language.concepts import Concept

DEEDS = frozenset({"action", "operation", "technique"})
ANOTHER_TIME = ("for", "another")
"""... before a word of the list `another-time`."""
LEFT = (("be",), ("out",), ("alone",), ("aside",), ("undone",), ANOTHER_TIME)
GIVEN = (("a", "miss"), ("up",), ("the", "go", "by"), ("a", "pass"))
KEPT = (ANOTHER_TIME, ("for", "a", "worse"), ("for", "a", "bigger"), ("for", "worse"), ("for", "a", "second", "look"))
ENDS: dict[str, tuple[tuple[str, ...], ...]] = {
    "let": (("be",), ("lie",)),
    "lets": (("be",), ("lie",)),
    "left": LEFT,
    "leave": LEFT,
    "put": (("off",), ("on", "hold"), ("on", "ice"), ("out", "of", "my")),
    "keep": KEPT,
    "save": KEPT,
    "kept": KEPT,
    "saved": KEPT,
    "gave": GIVEN,
    "give": GIVEN,
}
"""Verbs, and the words that make a denial of them behind the deed: 'let ... be', 'gave ... a miss'."""
OPENS = frozenset({"to", "for", "of"})
"""What opens with one of these names a deed first: 'to trim', 'for a clot'."""
LEADS = frozenset({"and", "but", "so", "also", "then"})
NOTHING = frozenset({"nothing", "no", "little"})
GROUNDS = frozenset({
    "reason", "need", "cause", "call", "occasion", "place", "room", "use", "point", "sense", "indication", "grounds",
    "ground", "justification", "necessity", "demand", "purpose", "time", "space",
})  # fmt: skip
"""What there was none of, where a deed was not done: 'to trim there was no reason'."""
LED = 3
"""Words from a verb to the deed between it and its end, at most: 'let the idea of trephination be'."""
LOOKS = frozenset({"looking-over", "finding", "testing"})
PLAIN = frozenset("was is there here today for me us him her it at all in this case knee given seen found left".split())
"""Words behind what there was none of; others tell of something else: 'no time was lost'."""
BETWEEN = 6
"""Words from a deed told first to its denial, at most."""


def apart(
    clauses: tuple[Span, ...],
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
    grammar: Grammar,
) -> None:
    """Deny the deeds of a sentence that such a denial is said of."""
    for clause in clauses:
        if DEEDS.isdisjoint(clause.lists):
            continue
        held = found[clause.number]
        if held.mood not in {"performed", "considered"} or held.negated:
            continue
        deeds = [c for c in inside[clause.number] if c.list in DEEDS]
        if deeds and (
            _parted(clause, deeds, words, grammar)
            or _told_first(clause, deeds, words)
            or _is_nothing(clause, inside[clause.number], words)
        ):
            found[clause.number] = Assertion("performed", True, None, clause.start)


def _parted(clause: Span, deeds: list[Concept], words: list[str], grammar: Grammar) -> bool:
    """'I let chondroplasty be': the verb, the deed by its name, and the end of the verb; nothing else behind it."""
    if clause.said.isdisjoint(ENDS):
        return False
    for at in range(clause.start, clause.end):
        ends = ENDS.get(words[at])
        if ends is None:
            continue
        named = [c for c in deeds if at < c.start <= at + LED and not words[c.end - 1].endswith("ed")]
        for deed in named[:1]:
            if not grammar.plain_words("of-a-side").isdisjoint(words[at : max(deed.start, at + 2)]):
                continue  # 'left knee, root repair', 'left medial repair, inside-out'
            for end in range(deed.end, min(clause.end, deed.end + BETWEEN)):
                said = next((e for e in ends if tuple(words[end : end + len(e)]) == e), ())
                when = words[end + len(said) : end + len(said) + 1]
                if said and (said != ANOTHER_TIME or not grammar.plain_words("another-time").isdisjoint(when)):
                    return True
    return False


def _told_first(clause: Span, deeds: list[Concept], words: list[str]) -> bool:
    """'To trim was | there nothing', 'for a clot there was no reason': no more is said behind the denial."""
    at = clause.start + (words[clause.start] in LEADS)
    if words[at] not in OPENS or deeds[0].start > at + 3:
        return False
    last = max(c.end for c in deeds if c.start == deeds[0].start)
    end = next((i for i in range(last, len(words)) if words[i] in SENTENCE_END or words[i] in PAUSES), len(words))
    said = words[last:end]
    if len(said) > BETWEEN or NOTHING.isdisjoint(said):
        return False
    no = next(i for i in range(last, end) if words[i] in NOTHING)
    behind = words[no + 1 : end]
    if words[no] == "nothing":
        return not behind or words[at] == "of"
    return bool(behind) and behind[0] in GROUNDS and PLAIN.issuperset(behind[1:])


def _is_nothing(clause: Span, own: list[Concept], words: list[str]) -> bool:
    """'All-inside on a graft is for me | nothing': no look that found nothing."""
    ends = words[clause.end : clause.end + 2]
    if ends[:1] != ["nothing"] or not (set(ends[1:]) & (SENTENCE_END | PAUSES)):
        return False
    verbs = [w for w in words[clause.start : clause.end] if w in FINITE]
    return verbs in (["is"], ["was"]) and not any(c.list in LOOKS for c in own)
