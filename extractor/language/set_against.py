"""What this case is set against: a deed told with its 'when', and then 'here it was not so'; a subject denied far on.

'When the rim is white I trephine it; here it bled.' tells of a habit, and of a case that was no such one. In 'a screw,
as some would add, was not used' what is denied stands before an aside.
"""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.clause_words import FINITE
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.verbs import PAST, verbal

WHEN = frozenset({"when", "whenever", "where", "wherever", "if"})
PRESENT = frozenset({"is", "are", "'s", "has", "have", "does", "do"})
OURS = frozenset({"i", "we"})
LEADS = frozenset({"and", "but", "however", "well", "now", "as", "for", "with"})
HERE = (
    ["here"], ["today"], ["this", "one"], ["this", "time"], ["these"], ["those", "here"], ["in", "this"],
    ["in", "her"], ["in", "him"], ["this", "knee"], ["this", "patient"], ["with", "her"], ["with", "him"],
    ["on", "this"],
)  # fmt: skip
PASTS = PAST | {"was", "were", "had", "did", "bled", "went", "stood", "n't", "not", "no"}
NOT = frozenset({"n't", "not", "no", "never", "nothing", "none"})
DEEDS = frozenset({"action", "operation", "technique", "device", "tool"})
OPENING = 5
"""Words of a clause that only says where: 'but in this knee | it was fine', at most."""
ASIDES = 2
"""Clauses between a subject and what is denied of it, at most."""
FAR = 6
"""Clauses of its sentence in which a case may be set against a habit, at most."""
DENIED = frozenset({"unnecessary", "deferred", "refused"})
JUDGED = frozenset({"judged", "deemed", "thought", "felt", "considered", "seen", "regarded", "believed"})
BE = frozenset({"was", "were", "is", "are", "has", "had"})


def set_against(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """Give a deed told with its 'when', that this case is set against, the mood of a habit; deny far subjects."""
    for sentence in segments.sentences:
        clauses = segments.clauses_of(sentence)
        _deny_subject(clauses, inside, found, words)
        for n, clause in enumerate(clauses):
            if words[clause.start] not in WHEN or not _in_present(words, clause):
                continue
            later = [*clauses[n + 1 : n + 1 + FAR]]
            if sentence.number + 1 < len(segments.sentences):
                later += segments.clauses_of(segments.sentences[sentence.number + 1])
            turn = next((i for i, c in enumerate(later) if _is_here(words, c, later[i + 1 : i + 2])), None)
            if turn is None:
                continue
            told = [clause, *later[:turn]]
            if all(_in_present(words, c) or not verbal(words, c) for c in told):
                for one in told:
                    held = found[one.number]
                    if held.mood == "performed" and not held.negated:
                        found[one.number] = Assertion("habit", False, held.ahead, clause.start)


def _in_present(words: list[str], clause: Span) -> bool:
    """'When the tissue is white', 'when it gapes', 'I make a clot': nothing in it is told in the past."""
    said = words[clause.start : clause.end]
    past = any(w in PAST and w not in PRESENT or (w.endswith("ed") and len(w) > 3) for w in said)
    passive = not PRESENT.isdisjoint(said)
    return passive or (not past and {"was", "were", "had", "did"}.isdisjoint(said))


def _is_here(words: list[str], clause: Span, behind: list[Span]) -> bool:
    """'Here it was bleeding', 'but this one was wide', 'today | it was firm': this case, told in the past."""
    said = words[clause.start : clause.end]
    said = said[said[:1] != [] and said[0] in LEADS and said[:2] not in HERE :]
    opens = said[:1] in HERE or said[:2] in HERE
    told = said
    if behind and clause.end - clause.start <= OPENING and not any(w in PASTS for w in said):
        told = [*said, *words[behind[0].start : behind[0].end]]
    if not OURS.isdisjoint(told) and NOT.isdisjoint(told):
        return False  # 'Here I used a sliding knot' goes on
    return opens and any(w in PASTS or (w.endswith("ed") and len(w) > 3) for w in told)


def _deny_subject(
    clauses: tuple[Span, ...], inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> None:
    """'Screw fixation of the block, | as is done by some, | was not necessary': a deed and its denial far behind."""
    for n, clause in enumerate(clauses):
        held = found[clause.number]
        named = not DEEDS.isdisjoint(clause.lists)
        if held.mood != "performed" or held.negated or not named or not _is_subject(words, clause):
            continue
        for after in clauses[n + 2 : n + 2 + ASIDES]:
            between = clauses[n + 1 : clauses.index(after)]
            if any(words[c.end - 1] != "," for c in between):
                break
            if words[after.start] not in BE or not found[after.number].negated:
                continue
            own = inside[after.number]
            refused = any(c.list == "negation" and c.name in DENIED for c in own)
            doing = {c.start for c in own if c.list == "doing"}
            weighed = not JUDGED.isdisjoint(after.said)
            if refused or ((doing or weighed) and not any(c.list in DEEDS and c.start not in doing for c in own)):
                for one in (clause, *between):
                    found[one.number] = Assertion("performed", True, None, found[after.number].cue)
            break


def _is_subject(words: list[str], clause: Span) -> bool:
    """Whether a clause is a noun and its details, up to a comma."""
    said = words[clause.start : clause.end]
    return words[clause.end - 1] == "," and not verbal(words, clause) and FINITE.isdisjoint(said)
