"""A statement taken back as a whole: 'Nine wide. Delete that sentence.', 'two anchors, strike that, wrong patient'.

`corrections.py` and `settle.py` know a word that is put right by the one behind it. Here nothing takes its place: what
was said is no part of this note. The words stand in the lists `withdrawing`, `statement-word` and `wrong-note`; this
module says what they take back, and when they only put a word right.
"""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.clause_words import SENTENCE_END
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.verbs import verbal

MOOD = "withdrawn"
POINTED = (["it"], ["this"], ["that"])
UNSAID, REMOVED, WAVED = "unsaying", "of-a-thing-too", "waving-off"
"""Concepts of the list: one that needs no 'it' behind it, one said of things too, one of what was found."""
FOUND = frozenset({"finding", "thing", "structure"})
DEEDS = frozenset({"action", "operation", "doing"})
LEFT_ALONE = "of-no-matter"
ORDERING = frozenset({",", ":", "-", "no", "please", "just", "then", "and", "better", "ah", "oh"})
"""Words before a verb that is an order to whoever types; 'we cancel it' tells of something."""
POINTS = frozenset({"the", "this", "that", "whole", "entire", "last", "previous", "my", "what", "all", "of", "it"})
"""Words between 'delete' and the 'sentence' that it takes back: 'delete the whole last sentence'."""
NAMED_WITHIN = 5
ABOUT = frozenset({"about", "regarding", "concerning"})
FAR, BACK = 7, 12
"""Words from 'forget' to 'about', and clauses before it in which that was told, at most."""
TELLING = frozenset({"i", "we", "it", "that", "this", "those", "they", "he", "she"})
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
    if "withdrawing" not in segments.lists:
        return
    for clause in segments.clauses:
        for cue in [c for c in inside[clause.number] if c.list == "withdrawing"]:
            named = _names_statement(cue, segments, inside, words)
            if not _told_to(cue, clause, words):
                continue
            points = cue.name == UNSAID or _points(cue, words) or _alone(cue, segments, inside, words)
            if not named and not (points and _for_good(cue, segments, inside, found, words)):
                continue
            for told in _taken_back(cue, segments, inside, words):
                held = found[told.number]
                if held.mood in {"performed", "planned"}:
                    found[told.number] = Assertion(MOOD, held.negated, held.ahead, cue.start)


def _told_to(cue: Concept, clause: Span, words: list[str]) -> bool:
    return cue.start == clause.start or words[cue.start - 1] in ORDERING


def _points(cue: Concept, words: list[str]) -> bool:
    """'Delete | that', 'take that out'."""
    own = [[word] for word in words[cue.start : cue.end]]
    return words[cue.end : cue.end + 1] in POINTED or any(word in POINTED for word in own)


def _alone(cue: Concept, segments: Segmentation, inside: list[list[Concept]], words: list[str]) -> bool:
    """'Delete, delete.': a sentence of nothing else."""
    sentence = segments.sentence_at(cue.start)
    orders = {c.start for k in segments.clauses_of(sentence) for c in inside[k.number] if c.list == "withdrawing"}
    return all(
        i in orders or not words[i][:1].isalnum() or words[i] == "no" for i in range(sentence.start, sentence.end)
    )


def _names_statement(cue: Concept, segments: Segmentation, inside: list[list[Concept]], words: list[str]) -> bool:
    """'Delete the whole sentence', 'forget what I just said', 'erase that, all of it'."""
    end = min(cue.end + NAMED_WITHIN, segments.sentence_at(cue.start).end)
    for at in range(cue.end, end):
        own = inside[segments.clause_at(at).number]
        if any(c.list == "statement-word" and c.start == at for c in own):
            return True
        if words[at] not in POINTS and words[at] != ",":
            return False
    return False


def _taken_back(
    cue: Concept, segments: Segmentation, inside: list[list[Concept]], words: list[str]
) -> tuple[Span, ...]:
    """The clauses before the words in their sentence; where these tell of nothing, the sentence before.

    'Forget what I said about the drain' takes back only what tells of it.
    """
    sentence = segments.sentence_at(cue.start)
    about = next((i for i in range(cue.end, min(cue.end + FAR, sentence.end)) if words[i] in ABOUT), None)
    if about is not None:
        behind = range(about, sentence.end)
        topics = {c.key for k in segments.clauses_of(sentence) for c in inside[k.number] if c.start in behind}
        number = segments.clause_at(cue.start).number
        told = segments.clauses[max(0, number - BACK) : number]
        return tuple(k for k in told if any(c.list in TOLD and c.key in topics for c in inside[k.number]))
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
    around = [*segments.clauses_of(sentence), *(c for s in after for c in segments.clauses_of(s))]
    if any(c.list == "wrong-note" and c.end > cue.start - LEAD for clause in around for c in inside[clause.number]):
        return True
    if cue.name == REMOVED:
        return False  # 'The loose body is here. Take it out.'
    end = cue.end + (words[cue.end : cue.end + 1] in POINTED)
    if end >= len(words) or words[end] in SENTENCE_END:
        return not after or _says_more(after[0], segments, words)
    behind = [c for c in segments.clauses_of(sentence) if c.start >= end]
    first = not any(
        c.list in TOLD and c.start < cue.start for k in segments.clauses_of(sentence) for c in inside[k.number]
    )
    if first and words[end] == "," and words[end + 1 : end + 2] and words[end + 1] in TELLING:
        return True  # 'Delete that, I was looking at the wrong screen.'
    if cue.name == WAVED and _only_left_alone(cue, sentence, behind, segments, inside, found):
        return False
    return bool(behind) and not found[behind[0].number].done


def _only_left_alone(
    cue: Concept,
    sentence: Span,
    behind: list[Span],
    segments: Segmentation,
    inside: list[list[Concept]],
    found: list[Assertion],
) -> bool:
    """'Grade one, forget it, I'm not shaving that': nothing was done before it, and what follows only says why not."""
    told = {
        c.list
        for k in segments.clauses_of(sentence)
        for c in inside[k.number]
        if c.list in TOLD and c.start < cue.start
    }
    if not told or not told <= FOUND:
        return False
    lists = {c.list for k in behind if not found[k.number].done for c in inside[k.number]}
    return bool(lists & (DEEDS | {LEFT_ALONE}))


def _says_more(sentence: Span, segments: Segmentation, words: list[str]) -> bool:
    """Whether a sentence is one of its own, and no word or two in the place of others."""
    said = [w for w in words[sentence.start : sentence.end] if w[:1].isalnum()]
    return len(said) > REPLACED or any(verbal(words, c) for c in segments.clauses_of(sentence))
