"""What was ready, asked for or wanted, and was let drop some clauses on.

'All-inside implants on the table, | did not open them', 'one stitch inside-out | I wanted at first, | but the body was
quiet, | so I let it be'. That it was ready or wanted stands in the lists `at-hand`, `in-the-room`, `made-ready` and
`wished-for`, that it came to nothing in `failing`, `wasted`, `let-go`, `withdrawing` and `negation`.
"""

from __future__ import annotations

from extractor.grammar.packs import Grammar
from extractor.language.asserted import Assertion
from extractor.language.clause_words import PAUSES, PREPOSITIONS, PRONOUNS, SENTENCE_END
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.verbs import verbal

DEEDS = frozenset({"action", "operation", "technique", "brought", "device"})
TALKED_OF = frozenset({"at-hand", "in-the-room", "made-ready", "wished-for"})
TAKEN_UP = frozenset({"doing", "at-hand", "wished-for", "put-to-use"})
"""Lists of what a denial says was not done with it: 'never called for', 'did not use them'."""
REFUSALS = frozenset({"unnecessary", "deferred", "refused"})
FAR = 4
"""Clauses behind in which it may be let drop, at most."""
LEADS = frozenset("and but so then however yet though well in the end instead finally that".split())
OTHERS = frozenset("the a an his her my our".split())
"""What opens so behind the leads is told of something else: 'so the horn was left alone'."""
MOVING = frozenset({"in", "into", "onto", "through", "over", "under", "between"})
"""Behind 'dropped it' these say where it went: 'we dropped it in the gap'."""
TAKING = frozenset("open opened opening use used touch touched load loaded break unpack unpacked unwrap take".split())
NOTS = frozenset({"not", "n't", "never", "nobody", "none", "nothing", "neither"})
THEM = frozenset({"it", "them", "one", "any", "either", "that", "those"})
WISHING = frozenset({"i", "we", "she", "he", "they"})


def let_drop(
    segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str], grammar: Grammar
) -> None:
    """Have a deed or device only thought of where it was ready or wanted, and the clauses behind let it drop."""
    evidence = grammar.plain_words("stitch-evidence") | grammar.plain_words("hand-tool")
    for clause in segments.clauses:
        if not found[clause.number].done or not _named(inside[clause.number], words):
            continue
        wanted = _wanted(clause, segments, inside, words) or _for_it(clause, segments, inside, words)
        ready = bool(clause.lists & TALKED_OF) and evidence.isdisjoint(clause.said)
        if not wanted and not ready:
            continue
        drop = _dropped(clause, segments, inside, found, words)
        if drop is not None:
            found[clause.number] = Assertion("considered", False, None, drop.start)


def _named(own: list[Concept], words: list[str]) -> bool:
    """Whether a deed is named by a noun, or a device: nothing that is told as done."""
    deeds = [c for c in own if c.list in DEEDS]
    return bool(deeds) and not any(c.list == "action" and words[c.end - 1].endswith("ed") for c in deeds)


def _wanted(clause: Span, segments: Segmentation, inside: list[list[Concept]], words: list[str]) -> bool:
    """'One stitch inside-out for the body | I wanted at the beginning': what one wanted, named first."""
    after = clause.number + 1
    if verbal(words, clause) or after >= len(segments.clauses):
        return False
    behind = segments.clauses[after]
    return words[behind.start] in WISHING and "wished-for" in behind.lists and not _deeds(inside, behind)


def _for_it(clause: Span, segments: Segmentation, inside: list[list[Concept]], words: list[str]) -> bool:
    """'I had the awl opened and everything, | for a microfracture, ...': for what another thing was ready."""
    if words[clause.start] != "for" or clause.start == segments.sentence_at(clause.start).start:
        return False
    return any(c.lists & TALKED_OF for c in segments.clauses[max(0, clause.number - 2) : clause.number])


def _dropped(
    clause: Span, segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> Span | None:
    """The clause behind that lets it drop; none where another deed, or its use, is told before."""
    first = segments.sentence_at(clause.start).number
    for behind in segments.clauses[clause.number + 1 : clause.number + 1 + FAR]:
        if segments.sentence_at(behind.start).number - first > 1 or _deeds(inside, behind):
            return None
        if _lets_drop(behind, inside[behind.number], found[behind.number], words):
            return behind
        if "put-to-use" in behind.lists and found[behind.number].done:
            return None
    return None


def _lets_drop(clause: Span, own: list[Concept], held: Assertion, words: list[str]) -> bool:
    at = clause.start
    while at < clause.end and words[at] in LEADS:
        at += 1
    negated = held.negated or _leaves_it(clause, words)
    if at >= clause.end or (words[at] in OTHERS and not negated):
        return False
    if any(_gives_up(c, words) for c in own):
        return True
    if not negated or words[at] not in PRONOUNS | NOTS | {"did", "it", "they", "that", "could", "had"}:
        return False
    return any(c.list in TAKEN_UP for c in own) or not TAKING.isdisjoint(words[at : clause.end])


def _leaves_it(clause: Span, words: list[str]) -> bool:
    """'Did not open them': not taken up, and no word of what the tear did ('it did not open')."""
    said = words[clause.start : clause.end]
    threes = zip(said, said[1:], said[2:], strict=False)
    return any(a in {"not", "n't", "never"} and b in TAKING and c in THEM for a, b, c in threes)


def _gives_up(c: Concept, words: list[str]) -> bool:
    """Whether a phrase says that it was let drop, and not where it went: 'we dropped it in'."""
    dropped = c.list in {"wasted", "let-go", "withdrawing"} or (c.list == "failing" and c.name == "dropped")
    dropped = dropped and c.name not in {"let", "undone"}
    dropped = dropped or (c.list == "negation" and c.name in REFUSALS)
    behind = words[c.end : c.end + 1]
    return dropped and (not behind or behind[0] in PAUSES | SENTENCE_END or behind[0] not in MOVING & PREPOSITIONS)


def _deeds(inside: list[list[Concept]], clause: Span) -> bool:
    """Whether a clause names a deed or device of its own: 'the awl opened' does."""
    cues = [c for c in inside[clause.number] if c.list in {"doing", "failing", "wasted", "negation", "let-go"}]
    own = [c for c in inside[clause.number] if c.list in DEEDS]
    return any(not any(k.start <= c.start < k.end for k in cues) for c in own)
