"""Minutes that something else took, told beside those of a tourniquet: '119 minutes, the light source died for thirty'.

Once its minutes are told, those of another subject in the sentence, or of what was lost or waited for, are not its own.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from extractor.language.clause_words import CONNECTORS, DETERMINERS
from extractor.language.verbs import verbal

if TYPE_CHECKING:
    from extractor.facts.case import Case

LOST = frozenset({
    "lost", "lose", "cost", "costs", "took", "takes", "waited", "waiting", "wait", "needed", "spent", "wasted", "delay",
    "delayed", "broke", "died", "interrupted", "hunting", "looking", "stood", "failed", "went",
})  # fmt: skip
POINTING = frozenset({"it", "this", "that", "which"})
TOLD_BY = frozenset({
    "says", "said", "noted", "notes", "wrote", "reads", "read", "shows", "showed", "recorded", "made", "makes", "had",
    "has", "counted", "gives", "gave", "is", "was", "chart", "display",
})  # fmt: skip
"""Verbs by which the same minutes are told otherwise: 'the nurse noted sixty-five'."""


def took_else(case: Case, token: int) -> bool:
    """Whether a time told behind that of the tourniquet is another's."""
    q = case.number_over(token)
    if q is None or q.dimension != "time":
        return False
    clause, sentence = case.clause(token), case.sentence(token)
    timed = case.grammar.concepts_in("timed")
    before = [p for p in case.numbers(sentence.start, clause.start) if p.dimension == "time"]
    named = [c for c in case.within("thing", sentence.start, clause.start) if c.key in timed]
    if not before or not named or any(c.key in timed for c in case.within("thing", clause.start, clause.end)):
        return False
    said = [w for w in case.words[clause.start : clause.end] if w.isalpha() or w == "'s"]
    said = said[1:] if said[:1] and said[0] in CONNECTORS | {"since", "as", "because"} else said
    part = said_of_them(case, q.end)
    if not part and not case.grammar.plain_words("same-minutes").isdisjoint(said):
        return False
    lost = not LOST.isdisjoint(said)
    opens = bool(said) and said[0] in DETERMINERS and TOLD_BY.isdisjoint(said[:4])
    return part or lost or (opens and verbal(case.words, clause))


def said_of_them(case: Case, end: int) -> bool:
    """'... twenty minutes of that for the scan': a part of the minutes told."""
    return case.words[end : end + 1] == ["of"] and case.words[end + 1 : end + 2] in ([w] for w in POINTING | {"them"})
