"""What is kept for other cases, and what could be done and is rather not.

'Inside-out I keep for the long ones', 'microfracture is for the young', 'we could bend it further, | but I'd rather
not pull on it'. None of it was done; what follows may say that of this case it was ('..., so none today').
"""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.clause_words import DETERMINERS
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept

DEEDS = frozenset({"action", "operation", "technique"})
OURS = frozenset({"i", "we"})
KEEPING = frozenset({"keep", "save", "reserve", "spare"})
GIVING = frozenset({"use", "do", "give", "add", "like", "take"})
"""Verbs that keep nothing but where their object stands first: 'trephination I use for old tears'."""
FOR = frozenset({"for", "in", "to", "on", "when", "with"})
LAST = frozenset({"last", "later", "end", "now", "places", "top"})
"""What is kept for the end is done then."""
HERE = frozenset({"this", "today", "here", "now", "these", "him", "her", "it"})
IS = frozenset({"is", "are", "'s"})
SAYING_SO = OURS | IS
WHERE = frozenset({"structure", "region", "surface", "bone", "compartment"})
"""Lists of where a deed is done: 'inside-out I use for the posterior horn' tells that it was."""
MEANT_FOR = frozenset({"for", "what", "something"})
LEAD = 2
"""Words of a clause before the deed it opens with, at most."""
COULD = frozenset({"could", "might"})
RATHER = frozenset({"rather", "sooner", "prefer", "better", "why"})
WANTING = frozenset({"like", "want", "will", "wo", "going"})
"""Verbs that refuse only where they are denied."""
NOT = frozenset({"not", "n't"})
LEAVING = NOT | {"leave", "let", "keep", "spare", "stay", "risk"}
TURNS = frozenset({"but", "only", "though", "yet", "and", "still"})
OPEN = frozenset({"performed", "conditional"})


def kept_for(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """Give a clause the mood of a habit where it only says what its deed is for."""
    for clause in segments.clauses:
        held = found[clause.number]
        if held.mood == "performed" and held.ahead is None and _is_kept(clause, inside[clause.number], words):
            found[clause.number] = Assertion("habit", held.negated, None, clause.start)


def _is_kept(clause: Span, own: list[Concept], words: list[str]) -> bool:
    if DEEDS.isdisjoint(clause.lists) or SAYING_SO.isdisjoint(clause.said):
        return False
    deeds = [c for c in own if c.list in DEEDS and not words[c.end - 1].endswith("ed")]
    for i in range(clause.start, clause.end - 1):
        named = [c for c in deeds if c.end <= i]
        opens = any(set(words[clause.start : c.start]) <= DETERMINERS for c in named)
        behind = words[i + 1 : clause.end]
        if words[i] in OURS and behind[0] in KEEPING | GIVING:
            aims = FOR if opens else frozenset({"for"} if behind[0] in KEEPING else ())
            at = next((n for n, w in enumerate(behind) if w in aims and n), None)
            aim = [w for w in behind[at + 1 :] if w.isalpha()] if at is not None else []
            kept = opens or (at is not None and any(i < c.start < i + 1 + at for c in deeds))
            done = behind[0] in GIVING and (at is None or _at_a_place(own, i) or behind[at] == "on")
            if kept and aim and not done and LAST.isdisjoint(aim) and HERE.isdisjoint(aim):
                return True
        if words[i] in IS and opens and behind[0] in MEANT_FOR and i - named[-1].end < LEAD:
            return HERE.isdisjoint(behind) and LAST.isdisjoint(behind) and not _at_a_place(own, i)
    return False


def _at_a_place(own: list[Concept], start: int) -> bool:
    return any(c.list in WHERE and c.start > start for c in own)


def rather_not(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'We could bring it to ninety, | but I'd rather not pull on it': it was possible, and is left."""
    for clause, after in zip(segments.clauses, segments.clauses[1:], strict=False):
        held = found[clause.number]
        denied = held.negated and (held.cue is None or held.cue < after.start)
        if held.mood not in OPEN or denied or COULD.isdisjoint(clause.said):
            continue
        said = words[after.start : after.end]
        same = segments.sentence_at(clause.start) == segments.sentence_at(after.start)
        refuses = not RATHER.isdisjoint(said) and not LEAVING.isdisjoint(said)
        refuses = refuses or (not WANTING.isdisjoint(said) and not NOT.isdisjoint(said))
        turns = said[0] in TURNS | OURS or said[:1] == ["better"]
        if same and refuses and turns and DEEDS.isdisjoint(after.lists):
            found[clause.number] = Assertion("considered", True, None, after.start)
