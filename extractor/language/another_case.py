"""What is told of another case: last week's patient, the specimen in the lab, the same operation on another knee.

'On Tuesday's lady we had a defect of twenty. It measured ...', 'I did the same thing on a right knee a month ago, and
there the tunnel was ...'. The words stand in the list `another-case`; this module says how far such an account goes.
"""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept

POINTS_HERE = frozenset({"this", "ours", "today", "now", "here", "tonight", "mine"})
"""First words of the list `this-case` that come back to this case; 'it measured', 'got' do not."""
COMPARED = frozenset({"exactly", "just", "like", "as", "than", "with"})
"""Before such a word this case is only compared with: 'had exactly this defect'."""
ALIKE = frozenset({"same-again", "counterpart"})
"""Names of the list that need a time past, or another knee, beside them."""
BACK_THERE = frozenset({"there", "that", "it", "his", "her"})
"""What opens a sentence that goes on with the account: 'That defect was twenty-two'."""
NOT_IT = frozenset({"is", "'s", "are", "will", "'ll"})
"""What is told in the present behind such a word is of today: 'That is not this file'."""
LEAD = 2
"""Words before the other knee that opens an account, at most: 'On the other side'."""
TURNS = frozenset({"so", "but", "anyway", "well", "okay"})
FURTHER = 2
"""Sentences behind the one that opens an account, at most."""


def told_of(
    segments: Segmentation,
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
    setting_up: frozenset[str],
) -> None:
    """Give what is told of another case the mood of another time, up to the words that come back to this one.

    It ends where the leg is being prepared (concepts of `setting_up`) as well.
    """
    until = -1
    for sentence in segments.sentences:
        clauses = segments.clauses_of(sentence)
        cue = _cue(clauses, inside, found)
        if cue is None and sentence.number <= until and _goes_on(sentence, words):
            cue = sentence.start
        if cue is None:
            continue
        until = max(until, sentence.number + 1) if cue == sentence.start else sentence.number + FURTHER
        for clause in clauses:
            if clause.end <= cue:
                continue
            own = inside[clause.number]
            turned = _comes_back(own, words) or words[clause.start] in TURNS or any(c.key in setting_up for c in own)
            if clause.start > cue and turned:
                until = -1
                break
            held = found[clause.number]
            if held.mood == "performed":
                found[clause.number] = Assertion("history", held.negated, held.ahead, cue)


def of_habit(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'Usually I see the condyle go, | craters of three or four, | not here': what stands between is of the habit."""
    for sentence in segments.sentences:
        opened: list[Span] = []
        cue: int | None = None
        for clause in segments.clauses_of(sentence):
            held = found[clause.number]
            if held.mood == "habit":
                opened, cue = [], held.cue
            elif cue is not None and held.negated and _comes_back(inside[clause.number], words):
                for told in opened:
                    found[told.number] = Assertion("habit", found[told.number].negated, None, cue)
                cue = None
            elif held.mood == "performed":
                opened.append(clause)


def _cue(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion]) -> int | None:
    """Where a sentence begins to tell of another case."""
    past = any(found[c.number].mood == "history" for c in clauses)
    for clause in clauses:
        for c in inside[clause.number]:
            if c.list != "another-case" or (c.name in ALIKE and not past):
                continue
            if c.name != "counterpart" or c.start - clauses[0].start <= LEAD:
                return clause.start
    return None


def _goes_on(sentence: Span, words: list[str]) -> bool:
    opening = words[sentence.start : sentence.start + 3]
    opening = opening[1:] if opening[:1] == ["and"] else opening
    return opening[0] in BACK_THERE and NOT_IT.isdisjoint(opening)


def _comes_back(own: list[Concept], words: list[str]) -> bool:
    here = (c for c in own if c.list == "this-case" and words[c.start] in POINTS_HERE)
    return any(c.list == "now" for c in own) or any(words[c.start - 1] not in COMPARED for c in here)
