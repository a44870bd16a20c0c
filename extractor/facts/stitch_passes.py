"""Stitches told by the passes of a needle: 'four bites through the horn', 'the implant was fired four times'."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.facts.stitch_counts import Head, clear, is_count
from extractor.language.clauses import Span
from extractor.language.quantities import Quantity

APIECE = frozenset({"each", "per", "apiece", "every"})
WAYS = frozenset({"technique", "technique-tool"})
ADVERBS = {"once": 1, "twice": 2}
NOUN_WITHIN, APIECE_WITHIN = 4, 3
"""Tokens from the number to its noun, and from that to an 'each', at most."""


def pass_of(case: Case, q: Quantity, sentence: Span) -> Head | None:
    """The head that a number of passes is where the technique is told, and they are no throws of a knot."""
    if not is_count(q) or not _way_told(case, sentence):
        return None
    count = int(q.value or 0)
    if case.words[q.end : q.end + 1] == ["times"]:
        return Head(q.start, q.end + 1, count) if _set_by(case, sentence, q.start) else None
    clause = case.clause(q.start)
    cut = case.grammar.plain_words("cutting-tool").intersection(case.words[clause.start : clause.end])
    if cut or case.within("tie", clause.start, q.start):
        return None  # 'tied with five throws', 'two bites with the punch'
    for c in case.within("stitch-pass", q.end, min(q.end + NOUN_WITHIN, sentence.end)):
        if case.words[c.start : c.end + 1] == ["pairs", "of"]:
            continue  # 'four pairs of sutures'
        if clear(case, q.end, c.start) and APIECE.isdisjoint(case.words[c.end : c.end + APIECE_WITHIN]):
            return Head(q.start, c.end, count)
    return None


def adverbs(case: Case, sentence: Span) -> list[Head]:
    """'Deployed the all-inside implant once in the body and twice in the horn': one stitch and two."""
    if sentence.said.isdisjoint(ADVERBS) or not _way_told(case, sentence):
        return []
    at = [i for i in range(sentence.start, sentence.end) if case.words[i] in ADVERBS]
    return [Head(i, i + 1, ADVERBS[case.words[i]]) for i in at if _set_by(case, sentence, i)]


def _way_told(case: Case, sentence: Span) -> bool:
    return not WAYS.isdisjoint(sentence.lists)


def _set_by(case: Case, sentence: Span, at: int) -> bool:
    """Whether a verb of setting stitches leads up to a token, and no knot."""
    lead = case.words[sentence.start : at]
    verbs = case.grammar.plain_words("stitch-times")
    return not verbs.isdisjoint(lead) and APIECE.isdisjoint(lead) and not case.within("tie", sentence.start, at)
