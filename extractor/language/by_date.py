"""Work that a month, a season or whoever did it puts in another time: 'I scoped him in May', 'they took ten percent'.

A note tells of its own day; a month named beside a deed of the past is another's. So is what 'they', 'somebody' or 'the
surgeon then' did to the knee, where whoever dictates says 'I' or 'we' of themselves.
"""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.verbs import PAST, verbal

MONTHS = frozenset(
    "january february march april may june july august september october november december spring summer autumn fall"
    " winter easter christmas".split()
)
LED_BY = frozenset({"in", "last", "since", "during", "over", "around", "by", "before", "after"})
BETWEEN = frozenset({"the", "early", "late", "mid", "last", "this", "of", "that", "same"})
DEEDS = frozenset({"action", "operation", "technique", "told-with", "then-too"})
AHEAD = frozenset("will 'll would come comes return returns due next until till from back expires dated".split())
"""Words by which a month is one to come, or a date."""
OPENING = frozenset({"when", "at", "during", "in", "on", "after", "as"})
ACTORS = frozenset({"they", "somebody", "someone"})
DATING = MONTHS | ACTORS
DID = frozenset("took removed resected did drilled fixed repaired excised shaved".split())
"""What surgeons of another time are said to have done; 'they tied', 'they closed' may be told of who helps today."""
OURS = frozenset({"i", "we"})
HELPERS = frozenset({"bystander"})
NOW = frozenset({"now", "this-case"})
PRESENT = frozenset({"is", "are", "'s", "today"})


def by_date(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """Give deeds of the past beside a month, and those of others, the mood of another time."""
    for sentence in segments.sentences:
        if DATING.isdisjoint(sentence.said):
            continue
        clauses = segments.clauses_of(sentence)
        if any(words[c.end - 1] == "?" for c in clauses):
            continue
        for n, clause in enumerate(clauses):
            held, own = found[clause.number], inside[clause.number]
            month = _month(clause, words)
            if held.mood == "history" and month is not None and n == 0 and words[clause.start] in OPENING:
                _with_it(clauses[1:], inside, found, words, month)
            if held.mood != "performed" or any(c.list in NOW for c in own):
                continue
            if month is None or not _deed_of_past(clause, own, words):
                if not _done_by_them(clause, sentence, own, segments, inside, words):
                    continue
                month = clause.start
            found[clause.number] = Assertion("history", held.negated, held.ahead, month)
            if n == 0 and words[clause.start] in OPENING:
                _with_it(clauses[1:], inside, found, words, month)


def _with_it(
    behind: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str], cue: int
) -> None:
    """'When I scoped her in March | there was a tear': what the opening clause dates."""
    if not behind:
        return
    after = behind[0]
    held = found[after.number]
    told = words[after.start : after.end]
    if held.mood == "performed" and PRESENT.isdisjoint(told) and NOW.isdisjoint(after.lists):
        found[after.number] = Assertion("history", held.negated, held.ahead, cue)


def _month(clause: Span, words: list[str]) -> int | None:
    """The token of a month or season that says when: 'in | may', 'in the early | spring'."""
    for i in range(clause.start + 1, clause.end):
        if words[i] not in MONTHS:
            continue
        at = i - 1
        while at > clause.start and words[at] in BETWEEN - {"last"}:
            at -= 1
        if words[at] in LED_BY and AHEAD.isdisjoint(clause.said):
            return i
    return None


def _deed_of_past(clause: Span, own: list[Concept], words: list[str]) -> bool:
    """Whether a clause tells what was done, and no complaint that began then."""
    lists, told = {c.list for c in own}, words[clause.start : clause.end]
    complaint = "finding" in lists and lists.isdisjoint({"operation", "told-with"}) and OURS.isdisjoint(told)
    if lists.isdisjoint(DEEDS) or complaint:
        return False
    past = any(w in PAST or (w.endswith("ed") and len(w) > 3) for w in told)
    return past or words[clause.start] in OPENING


def _done_by_them(
    clause: Span,
    sentence: Span,
    own: list[Concept],
    segments: Segmentation,
    inside: list[list[Concept]],
    words: list[str],
) -> bool:
    """'They took ten percent of it', 'afterwards somebody removed a loose body': no helper was told of beside it."""
    at = clause.start
    while at < clause.end and words[at] in {"and", "but", "so", "then", "where", "there", "afterwards", ",", "later"}:
        at += 1
    if words[at : at + 1] == [] or words[at] not in ACTORS or words[at + 1 : at + 2] == []:
        return False
    verb = at + 1 + (words[at + 1] in {"had", "also", "then", "just", "only", "once"})
    if verb >= clause.end or words[verb] not in DID or not OURS.isdisjoint(clause.said):
        return False
    if {c.list for c in own}.isdisjoint(DEEDS | {"verb"}):
        return False
    near = segments.sentences[max(0, sentence.number - 1)].start
    helped = any(c.list in HELPERS for k in segments.clauses if near <= k.start < clause.end for c in inside[k.number])
    return not helped


def at_the_end(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'They took it in the same session, | ten years ago.': a time alone at the end dates the clause before it."""
    for sentence in segments.sentences:
        clauses = segments.clauses_of(sentence)
        if len(clauses) < 2:
            continue
        last, before = clauses[-1], clauses[-2]
        held = found[before.number]
        lists = last.lists
        alone = found[last.number].mood == "history" and not verbal(words, last) and last.end - last.start <= 6
        if not alone or lists & {"operation", "action", "finding", "structure", "thing", "joint", "side"}:
            continue
        told = words[before.start : before.end]
        if held.mood == "performed" and OURS.isdisjoint(told) and PRESENT.isdisjoint(told) and verbal(words, before):
            found[before.number] = Assertion("history", held.negated, held.ahead, last.start)
