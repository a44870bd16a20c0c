"""Denials that reach over a list: 'Not done: trephination, resection', 'No loose bodies, synovitis or effusion'."""

from __future__ import annotations

from extractor.language.asserted import CONTENT, Assertion
from extractor.language.clause_words import FINITE
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.verbs import verbal

OURS = frozenset({"i", "we"})
LISTED = frozenset({"finding", "structure", "thing"})
ACTS = frozenset({"action", "operation", "technique", "tie"})
NOUNS = ("tion", "plasty", "ectomy", "ing", "ment", "sis", "clot", "fracture", "check", "stitch", "tomy", "out", "age")
"""Ends of words that name a deed."""
TOLD_OF = frozenset({"what", "thing", "things", "only", "following"})
"""Words by which 'we did not do' looks ahead: 'the one thing I did not do: trephine the rim'."""


def deny_list(sentence: Span, segments: Segmentation, found: list[Assertion], words: list[str]) -> None:
    """'Not done: trephination, resection': a denial that ends in a colon denies the list after it."""
    clauses = segments.clauses_of(sentence)
    first = clauses[0]
    lists = first.lists
    if words[first.end - 1] != ":" or not lists & {"negation", "negation-ahead"} or lists & CONTENT:
        return
    said = words[first.start : first.end]
    if OURS & set(said) and TOLD_OF.isdisjoint(said):
        return  # 'Then I didn't: ...' looks back
    for clause in clauses[1:]:
        found[clause.number] = Assertion(found[clause.number].mood, True, None, first.start)


def no_list(clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'No loose bodies, synovitis or effusion': a denial reaches to the 'or' that closes its list."""
    for n, clause in enumerate(clauses[:-1]):
        held = found[clause.number]
        if held.ahead is None or words[clause.end - 1] != ",":
            continue
        listed: list[Span] = []
        for after in clauses[n + 1 :]:
            named = [c for c in inside[after.number] if c.list in LISTED or (c.list in ACTS and _is_noun(c, words))]
            if not named or FINITE & after.said:
                if listed and words[after.start] == "or" and not verbal(words, after):
                    _deny_all(listed, found, held)  # 'No drain, | trephination | or transfusion'
                break
            listed.append(after)
            starts, ends = {c.start for c in named}, {c.end for c in named}
            deeds = any(c.list in ACTS for c in named)
            closes = words[after.start] == "or" or any(
                words[i] == "or" and i in ends and (i + 1 in starts or deeds) for i in range(after.start, after.end)
            )
            if closes:
                _deny_all(listed, found, held)
                break
            if words[after.end - 1] != "," and clauses[-1] is not after and words[after.end] != "or":
                break


def _deny_all(listed: list[Span], found: list[Assertion], held: Assertion) -> None:
    for item in listed:
        found[item.number] = Assertion(found[item.number].mood, True, None, held.cue)


def _is_noun(deed: Concept, words: list[str]) -> bool:
    """Whether a deed is named and not told: 'trephination' and not 'trephined' or 'tie'."""
    return any(word.endswith(NOUNS) for word in words[deed.start : deed.end])
