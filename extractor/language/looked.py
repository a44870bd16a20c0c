"""A look told as a habit was taken where what it showed is told right behind it: 'You look for a bridge. None.'.

So teachers speak at the screen: what 'we always do' or 'you want to do' is done as they speak. Of a treatment told so
nothing follows. The words stand in the lists `looking-over` and `seen-clear`.
"""

from __future__ import annotations

from extractor.language.asserted import Assertion
from extractor.language.clauses import Segmentation, Span
from extractor.language.concepts import Concept

SPEAKING = frozenset({"we", "i", "you"})
"""Who looks; what others do elsewhere stays a habit."""
SHORT = 6
"""Words of an answer that says no more than that it is clear, at most."""


def taken(segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]) -> None:
    """'We always go all the way around. Medial meniscus looks good.': the habit was followed, as its fruit shows."""
    for sentence, after in zip(segments.sentences, segments.sentences[1:], strict=False):
        for clause in segments.clauses_of(sentence):
            held = found[clause.number]
            looks = "looking-over" in clause.lists
            if held.mood != "habit" or held.negated or not looks:
                continue
            ours = held.cue == clause.start or not SPEAKING.isdisjoint(words[sentence.start : clause.end])
            if ours and _shown(after, segments, inside, found, words):
                found[clause.number] = Assertion("performed", False, held.ahead, clause.start)


def _shown(
    after: Span, segments: Segmentation, inside: list[list[Concept]], found: list[Assertion], words: list[str]
) -> bool:
    """Whether a sentence tells what was seen: 'Okay, clean.', 'The lateral meniscus looks good.'."""
    short = sum(w.isalpha() for w in words[after.start : after.end]) <= SHORT
    for clause in segments.clauses_of(after):
        lists = clause.lists
        if found[clause.number].mood != "performed":
            return False
        if "finding" in lists or (short and "seen-clear" in lists):
            return True
    return False
