"""'A screw was kept ready; as the press fit was secure, none was inserted': what a 'none' in front of its verb is of.

It is what was brought before, whatever tells in between why none was used. That reason is no part of the denial.
"""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept
from extractor.language.denied_next import joined_before

NONE = frozenset({"none", "neither"})
JOINS = frozenset({"and", "so", "but", "then"})
WHY = frozenset({"as", "since", "because", "once", "when", "after", "with", "for", "while", "but"})
"""What opens so, or stands behind it, tells why none was used."""
USES = frozenset({"put-to-use", "doing"})
BROUGHT = frozenset({"device", "tool", "form", "technique", "brought"})
BE = frozenset({"was", "were", "is", "are", "has", "had"})
FAR = 5
"""Clauses back to what was brought, at most."""


def none_of_them(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """Deny what was brought where 'none' of it was put to use, and let the reason stand."""
    for clause in segments.clauses:
        at = clause.start + (words[clause.start] in JOINS)
        used = not BE.isdisjoint(words[at + 1 : at + 2]) and not USES.isdisjoint(clause.lists)
        if NONE.isdisjoint(words[at : at + 1]) or not (used or _stayed(inside[clause.number])):
            continue
        first = segments.sentence_at(clause.start)
        why: list[Span] = []
        for before in reversed(segments.clauses[max(0, clause.number - FAR) : clause.number]):
            if first.number - segments.sentence_at(before.start).number > 1:
                break
            if before.end - before.start == 1 or _tells_why(before, segments, words):
                why.append(before)
            elif not BROUGHT.isdisjoint(before.lists):
                if "put-to-use" not in before.lists:
                    _deny(before, why, segments, found, words, clause.start)
                break
            else:
                break


def _stayed(own: list[Concept]) -> bool:
    """'None left its box', 'none came out of the tray'."""
    return any(c.list == "wasted" or c.key == "cue:storage" for c in own)


def _tells_why(clause: Span, segments: Segmentation, words: list[str]) -> bool:
    """'as | the fit was tight', 'since it held by itself': the reason, with its word or behind it."""
    before = segments.clauses[clause.number - 1]
    lone = before.end - before.start == 1 and before.end == clause.start and words[before.start] in WHY
    return words[clause.start] in WHY or lone


def _deny(
    brought: Span, why: list[Span], segments: Segmentation, found: list[Assertion], words: list[str], cue: int
) -> None:
    held = found[brought.number]
    if held.mood != "performed" or held.ahead is not None:
        return
    clauses = segments.clauses_of(segments.sentence_at(brought.start))
    behind = segments.clauses[brought.number + 1]
    for named in joined_before(clauses, behind, words):
        found[named.number] = Assertion("performed", True, None, cue)
    for reason in why:
        if found[reason.number].negated and found[reason.number].cue is not None:
            told = found[reason.number]
            own = told.cue is not None and reason.start <= told.cue < reason.end
            found[reason.number] = told if own else Assertion(told.mood)
