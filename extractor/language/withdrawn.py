"""A statement taken back as a whole: 'Nine wide. Delete that sentence.', 'two anchors, strike that, wrong patient'.

`corrections.py` and `settle.py` know a word that is put right by the one behind it. Here nothing takes its place: what
was said is no part of this note. The words stand in the lists `withdrawn` and `wrong-note`; this module says what they
take back, and when they only put a word right.
"""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.clause_words import SENTENCE_END
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.verbs import verbal

MOOD = "withdrawn"
STATEMENT = "statement"
"""The concept of the list `withdrawn` that names what is taken back: 'delete the whole sentence'."""
REPLACED = 4
"""Words of a sentence without a verb that only puts a word right: 'Blue. Scratch that. White.', at most."""
LEAD = 8
"""Tokens before the words that take back in which the reason may stand: 'wrong patient, forget it'."""
TOLD = frozenset({
    "action", "operation", "technique", "device", "finding", "thing", "structure", "color", "tie", "configuration",
    "dimension",
})  # fmt: skip
"""Lists of what a statement can be about."""


def withdrawn(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """Give what was taken back a mood of its own, from which nothing is read."""
    for clause in segments.clauses:
        cue = next((c for c in inside[clause.number] if c.list == MOOD), None)
        if cue is None or not _for_good(cue, segments, inside, found, words):
            continue
        for told in _taken_back(cue, segments, inside, words):
            held = found[told.number]
            if held.mood in {"performed", "planned"}:
                found[told.number] = Assertion(MOOD, held.negated, held.ahead, cue.start)


def _taken_back(
    cue: Concept, segments: Segmentation, inside: list[list[Concept]], words: list[str]
) -> tuple[Span, ...]:
    """The clauses before the words in their sentence; where these tell of nothing, the sentence before."""
    sentence = segments.sentence_at(cue.start)
    own = tuple(c for c in segments.clauses_of(sentence) if c.start < cue.start)
    if any(c.list in TOLD and c.start < cue.start for clause in own for c in inside[clause.number]):
        return own
    for before in reversed(segments.sentences[max(0, sentence.number - 2) : sentence.number]):
        clauses = segments.clauses_of(before)
        if any(c.list in TOLD for clause in clauses for c in inside[clause.number]):
            return () if words[before.end - 1] == "?" else clauses
    return ()


def _for_good(
    cue: Concept, segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> bool:
    """Whether nothing is said in the place of what is taken back."""
    sentence = segments.sentence_at(cue.start)
    after = segments.sentences[sentence.number + 1 : sentence.number + 2]
    if cue.name == STATEMENT:
        return True
    around = [*segments.clauses_of(sentence), *(c for s in after for c in segments.clauses_of(s))]
    if any(c.list == "wrong-note" and c.end > cue.start - LEAD for clause in around for c in inside[clause.number]):
        return True
    if cue.end >= len(words) or words[cue.end] in SENTENCE_END:
        return not after or _says_more(after[0], segments, words)
    behind = [c for c in segments.clauses_of(sentence) if c.start >= cue.end]
    return bool(behind) and found[behind[0].number].negated


def _says_more(sentence: Span, segments: Segmentation, words: list[str]) -> bool:
    """Whether a sentence is one of its own, and no word or two in the place of others."""
    said = [w for w in words[sentence.start : sentence.end] if w[:1].isalnum()]
    return len(said) > REPLACED or any(verbal(words, c) for c in segments.clauses_of(sentence))
