"""What is announced when it is decided: 'It won't come out, we'll do an arthrotomy then.' is no deed yet.

Which deeds are announced so stands in the list `announced-deed`. One announced as it is being done ('Now we're going to
trim it', 'I'll trim two millimeters') stays told, as does one whose sentence goes on with what is done, or that is
called done right behind.
"""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.clause_words import SENTENCE_END
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.numbers import atom_at

AT_IT = frozenset({"now", "next", "first"})
"""Words of an announcement that is made while the deed is done."""
SPEAKERS = frozenset({"we", "i"})
FEW = 4
"""Tokens from the speaker to the future, and of a sentence to the number it opens with, at most."""
DONE = frozenset({"done", "there", "good", "okay", "ok", "gone", "perfect", "nice"})
"""What opens a sentence that says it was done."""
LAID = frozenset({"color", "technique", "configuration", "form", "tie", "device"})
"""Lists of what is only told of as it is laid."""
ACTING = frozenset({"action", "tie", "technique"})
WISHING = frozenset({"wanted", "wished", "meant", "hoped", "intended", "asked", "aimed", "planned", "liked"})
HAD = frozenset(
    {"got", "ended", "managed", "settled", "had", "needed", "used", "placed", "put", "took", "made", "stopped"}
)
"""Verbs of wishing for a number, and of what was had."""


def intended(
    segments: Segmentation,
    inside: list[list[Concept]],
    found: list[Assertion],
    words: list[str],
    deeds: frozenset[str],
) -> None:
    """Give what is only announced the mood of a plan; what is told of its doing elsewhere is told there."""
    for sentence, after in zip(segments.sentences, [*segments.sentences[1:], None], strict=True):
        clauses = segments.clauses_of(sentence)
        for n, clause in enumerate(clauses):
            held = found[clause.number]
            at = _announces(clause, inside[clause.number], words, deeds) if held.done else None
            if at is None or not AT_IT.isdisjoint(words[sentence.start : clause.end]):
                continue
            told = any(c.list in ACTING for behind in clauses[n + 1 :] for c in inside[behind.number])
            if not told and not (after is not None and _fruit(after, words)):
                found[clause.number] = Assertion("planned", held.negated, held.ahead, at)


def _fruit(after: Span, words: list[str]) -> bool:
    """Whether a sentence says that it was done, or opens with a number that it came to: 'Six holes'."""
    opening = range(after.start, min(after.start + FEW, after.end))
    return words[after.start] in DONE or any(atom_at(words, i) is not None for i in opening)


def _announces(clause: Span, own: list[Concept], words: list[str], deeds: frozenset[str]) -> int | None:
    """Where a clause says that we will do one of these deeds, and tells no size or number of it."""
    named = [c.start for c in own if c.key in deeds]
    if not named or any(c.list in LAID for c in own):
        return None
    if any(atom_at(words, i) is not None and words[i] != "one" for i in range(clause.start, clause.end)):
        return None
    for i in range(clause.start, max(named)):
        if words[i : i + 2] == ["let", "'s"] and "then" in words[i : clause.end + 1]:
            return i
        will = words[i] == "'ll" or words[i : i + 2] == ["going", "to"]
        lead = words[max(0, i - FEW) : i]
        if will and not SPEAKERS.isdisjoint(lead) and SENTENCE_END.isdisjoint(lead[-2:]):
            return i
    return None


def got_otherwise(clause: Span, after: Span, words: list[str]) -> bool:
    """'I had wanted four stitches | and got three': a number that was wished for, and another that was had."""
    if WISHING.isdisjoint(clause.said):
        return False
    said = words[clause.start : clause.end]
    said = said[said[:1] in (["and"], ["so"]) :]
    wish = said[1 + (said[1:2] in (["had"], ["'d"])) :][:1]
    if said[:1] not in (["i"], ["we"]) or not wish or wish[0] not in WISHING:
        return False
    at = after.start + (words[after.start] in {"and", "but", "then"})
    at += words[at : at + 1] in (["i"], ["we"])
    return words[at : at + 1] != [] and words[at] in HAD and not _numbers(after, words) <= _numbers(clause, words)


def _numbers(clause: Span, words: list[str]) -> set[float | None]:
    found = (atom_at(words, i) for i in range(clause.start, clause.end))
    return {atom.value for atom in found if atom is not None}
