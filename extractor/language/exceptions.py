"""What is excepted from all that was done, or from nothing: 'everything but the brace', 'nothing but a clot'.

What stands behind 'except' is the reverse of what is said of all the rest: of everything that was done it was left out,
where nothing was done it was. Only deeds are excepted so: 'all fine except for a tear' tells of a tear.
"""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept

DEEDS = frozenset({"action", "operation", "technique", "verb", "brought"})
FOUND = frozenset({"finding", "grade-system", "grade-word"})
BUT = "but"
FILLING = frozenset({"of", "it", "them", "the", "steps", "things", "parts", "work"})
"""Words between 'everything' and its 'but': 'all of it but', 'all steps but'."""
DONE = frozenset({"was", "were", "done", "performed", "needed"})


def excepted(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """Turn what stands behind words of exception against what is said of all or nothing in their sentence."""
    cues = [c for own in inside for c in own if c.list == "excepting"]
    for cue in [*cues, *(but for own in inside for c in own if c.list == "of-all" for but in _but(c, words))]:
        clause, sentence = segments.clause_at(cue.start), segments.sentence_at(cue.start)
        around = segments.clauses_of(sentence)
        named = _first_deed(cue, around, inside)
        if named is None or any(c.list in FOUND for k in (clause, named) for c in inside[k.number]):
            continue
        whole = _whole(cue, sentence, around, inside, words)
        if whole is None:
            continue
        held = found[named.number]
        if held.mood != "performed":
            continue
        if whole == "all":
            found[named.number] = Assertion("performed", held.negated and named is not clause, cue.end - 1, cue.start)
        else:
            found[named.number] = Assertion("performed", False, None, cue.start)


def _but(whole: Concept, words: list[str]) -> list[Concept]:
    """The 'but' of 'all steps but', which elsewhere excepts nothing."""
    at = whole.end
    while at < len(words) and words[at] in (FILLING | DONE if whole.name == "nothing" else FILLING):
        at += 1
    return [Concept("excepting", BUT, at, at + 1)] if at < len(words) and words[at] == BUT else []


def _first_deed(cue: Concept, around: tuple[Span, ...], inside: list[list[Concept]]) -> Span | None:
    """The clause of the words or the one that opens behind them, if it names a deed behind them."""
    for clause in around:
        if clause.start <= cue.end < clause.end:
            return clause if any(c.list in DEEDS and c.start >= cue.end for c in inside[clause.number]) else None
    return None


def _whole(
    cue: Concept, sentence: Span, around: tuple[Span, ...], inside: list[list[Concept]], words: list[str]
) -> str | None:
    """'all' | 'nothing' by the word that the exception is made of, before it or, where it opens, behind it."""
    own = [c for clause in around for c in inside[clause.number] if c.list == "of-all"]
    before = [c for c in own if c.end <= cue.start]
    if words[cue.start] == BUT:
        return before[-1].name if before else None
    opens = cue.start - sentence.start <= 1
    behind = [c for c in own if c.start >= cue.end] if opens else []
    said = before[-1:] or behind[:1]
    return said[0].name if said else None
