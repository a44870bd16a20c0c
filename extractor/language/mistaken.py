"""What somebody thought or said and was wrong in: 'the fellow thought the rim was trephined, but no'.

Whose opinion it is stands in the list `opinion`, what tells that it was wrong in `mistaken`.
"""

from __future__ import annotations

from extractor.language.asserted import CONTENT, Assertion
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.numbers import atom_at

DENIAL = frozenset({
    "no", "not", "n't", "it", "is", "was", "were", "are", "but", "and", "i", "we", "he", "she", "they", "did", "do",
    "does", "that", "this", "there", "none", "looked", "again", "so", "one", "which", "ca", "of", "course", "in",
    "fact", "nope", "nothing", "neither",
})  # fmt: skip
"""Words of a sentence that only denies: 'I looked again, and no.'"""
WRONG = "misjudged"
"""The concept of `opinion` that is wrong by itself: 'I misread it as a tear'."""
POINTING = frozenset({"that", "this", "so"})
SAYS_WRONG = frozenset({"mistaken", "disproved"})
NOS = frozenset({"no", "not", "n't", "none", "nope", "nothing"})
FEW = 10
"""Words, at most, of what says that it was wrong."""
NEXT = 3
"""Clauses behind an opinion that may say so, at most."""
ELSEWHERE = frozenset({"history", "another-case", "another-one", "other-person", "wrong-note"})
"""Lists of where what was thought of truly belongs: 'I thought I had trimmed it, but that was last week's graft'."""
WAS = frozenset({"was", "were", "is"})
THAT = frozenset({"that", "it", "this", "those", "these", "they"})
BELONGS_WITHIN = 3
"""Words from 'that was' to the one that it was of, at most."""
TOLD = CONTENT | {"finding", "dimension", "color", "tie"}
"""Lists of what an opinion can be about."""


def mistaken(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """Give an opinion that was wrong the mood of what was only thought of."""
    for clause in segments.clauses:
        if "opinion" not in clause.lists:
            continue
        cue = next((c for c in inside[clause.number] if c.list == "opinion"), None)
        if cue is None:
            continue
        sentence = segments.sentence_at(clause.start)
        told = _told(clause, sentence, segments, inside) or _pointed(clause, sentence, segments, inside, words)
        if told is None:
            continue
        answer = _answer(cue, max(told[-1], clause, key=lambda c: c.number), sentence, segments, inside, words)
        elsewhere = None if answer else _belongs_elsewhere(told[-1], sentence, segments, inside, words)
        if answer is None and cue.name != WRONG and elsewhere is None:
            continue
        if elsewhere is not None:
            found[elsewhere] = Assertion("history", False, None, cue.start)
        for part in told:
            held = found[part.number]
            if held.mood in {"performed", "habit"}:
                found[part.number] = Assertion("considered", held.negated, held.ahead, cue.start)


def _told(clause: Span, sentence: Span, segments: Segmentation, inside: list[list[Concept]]) -> tuple[Span, ...] | None:
    """The clauses that tell what was thought: that of the opinion itself, else the one that hangs on it."""
    if not TOLD.isdisjoint(c.list for c in inside[clause.number]):
        return (clause,)
    behind = segments.clauses[clause.number + 1 : clause.number + 3]
    for n, part in enumerate(behind):
        if part.start >= sentence.end:
            return None
        if not TOLD.isdisjoint(c.list for c in inside[part.number]):
            return (clause, *behind[: n + 1])
    return None


def _pointed(
    clause: Span, sentence: Span, segments: Segmentation, inside: list[list[Concept]], words: list[str]
) -> tuple[Span, ...] | None:
    """'A radial tear, | that was the impression in the clinic': what an opinion points back at."""
    before = segments.clauses[clause.number - 1] if clause.start > sentence.start else None
    if before is None or words[clause.start] not in POINTING:
        return None
    return (before,) if not TOLD.isdisjoint(c.list for c in inside[before.number]) else None


def _belongs_elsewhere(
    last: Span, sentence: Span, segments: Segmentation, inside: list[list[Concept]], words: list[str]
) -> int | None:
    """'..., but | that was | last week's graft': the clause that tells of whom it was, right behind a 'that was'."""
    near = [c for part in segments.clauses[last.number + 1 : last.number + 1 + NEXT + 1] for c in inside[part.number]]
    for i in range(last.end, min(sentence.end, last.end + FEW, len(words) - 1)):
        if words[i] in THAT and words[i + 1] in WAS:
            whose = (c.start for c in near if c.list in ELSEWHERE and i + 1 < c.start <= i + 1 + BELONGS_WITHIN)
            at = next(whose, None)
            return None if at is None else segments.clause_at(at).number
    return None


def _answer(
    cue: Concept,
    last: Span,
    sentence: Span,
    segments: Segmentation,
    inside: list[list[Concept]],
    words: list[str],
) -> Span | None:
    """The words behind an opinion that call it wrong: a `mistaken` near by, or nothing but a denial."""
    for part in (last, *segments.clauses[last.number + 1 : last.number + 1 + NEXT]):
        number = segments.sentence_at(part.start).number - sentence.number
        if number > 1:
            break
        wrong = [c for c in inside[part.number] if c.list in SAYS_WRONG and c.start >= cue.end]
        whole = segments.sentence_at(part.start)
        short = number == 0 or whole.end - whole.start <= FEW
        behind = [w for c in wrong for w in words[c.end : part.end] if w[:1].isalnum() and w not in DENIAL]
        if wrong and short and not behind:
            return part
        if part is not last and not TOLD.isdisjoint(c.list for c in inside[part.number]):
            break
    start = last.end
    if start >= len(words):
        return None
    rest = sentence if start < sentence.end else segments.sentence_at(start)
    said = [w for w in words[start : rest.end] if w[:1].isalnum() or w == "n't"]
    if not 0 < len(said) <= FEW or not DENIAL.issuperset(said) or NOS.isdisjoint(said):
        return None
    following = rest.end
    if following < len(words) and atom_at(words, following) is not None:
        return None  # 'I thought eighteen. No. Nineteen.' is put right
    return segments.clause_at(start)
