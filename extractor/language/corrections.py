"""Words that take back what was said before: 'correction', 'scratch that', 'no,'.

`settle.py` uses them between two numbers. Here they are sought in front of anything else that is said anew: a side, a
suture, a tie, or a measurement named again sentences later.
"""

from __future__ import annotations

from collections.abc import Sequence

from extractor.language.quantity_words import quantity_words

STOPS = frozenset({".", "?", "!", ";", "\n", ",", ":", "-"})
TELLS = frozenset({"of", "for", "to", "until", "till", "angle", "is", "was"})
"""After these a word of correction is something else: 'a correction of ten degrees', 'we wait for the cement'."""


LEADS_TO, LEADS_ON = 2, 5
"""Tokens between 'raised to' and the number that holds now, at most; and between 'so the' and it."""
STATES = frozenset({"is", "was", "'s", "are", "were", "at"})
"""Before a number that follows from what was said: 'so the correction is nine'."""


def taken_back(words: Sequence[str], start: int, end: int) -> tuple[str, int] | None:
    """The last word of correction in the tokens `[start, end)`: "strong", "halt" or "weak", and the token after it.

    A weak one counts only between pauses ('left, no, right'); elsewhere 'no' denies and 'rather' compares.
    """
    lexicon = quantity_words()
    if not lexicon.correction.may_stand(words[start:end]):
        return None
    found, k = None, start
    while k < end:
        cue = lexicon.correction.at(words, k)
        if cue is None or cue[1] > end:
            k += 1
            continue
        after = words[cue[1]] if cue[1] < len(words) else "."
        set_off = (k == 0 or words[k - 1] in STOPS) and (after in STOPS or cue[0] != "weak" or cue[1] - k > 1)
        if after not in TELLS and (cue[0] != "weak" or set_off):
            found = cue
        k = cue[1]
    return found


def only_fillers(words: Sequence[str], start: int, end: int, also: frozenset[str] = frozenset()) -> bool:
    """Whether the tokens `[start, end)` say nothing: pauses, fillers, words of correction and those of `also`."""
    lexicon, k = quantity_words(), start
    while k < end:
        told = (lexicon.correction.at(words, k), lexicon.filler.at(words, k))
        ends = [phrase[1] for phrase in told if phrase and phrase[1] <= end]
        if ends:
            k = max(ends)
        elif words[k] in STOPS or words[k] in also:
            k += 1
        else:
            return False
    return True


def put_right(words: Sequence[str], start: int, end: int, also: frozenset[str] = frozenset()) -> bool:
    """Whether the tokens `[start, end)` take back what stands before them and say nothing else."""
    lexicon = quantity_words()
    return only_fillers(words, start, end, also) and any(lexicon.correction.at(words, k) for k in range(start, end))


def cue_at(words: Sequence[str], start: int) -> tuple[str, int] | None:
    """The word of correction that opens at token `start`: its strength, and the token after it."""
    return quantity_words().correction.at(words, start)


def said_wrong(words: Sequence[str], start: int, end: int) -> bool:
    """Whether the tokens `[start, end)` say that what stands before them is wrong, or why: 'the gauge had slipped'."""
    lexicon = quantity_words()
    if not (lexicon.dismissal.may_stand(words[start:end]) or lexicon.fault.may_stand(words[start:end])):
        return False
    return any(lexicon.dismissal.at(words, k) or lexicon.fault.at(words, k) for k in range(start, end))


def looked_again(words: Sequence[str], start: int, end: int) -> str | None:
    """What the tokens `[start, end)` before a number say of an earlier one: "again", "changed", "concluded" or None.

    That the thing was measured once more, made another size, or that the number follows from what was said of it.
    """
    lexicon = quantity_words()
    if not lexicon.looked_again.may_stand(words[start:end]):
        return None
    for k in range(start, end):
        found = lexicon.looked_again.at(words, k)
        if found is None:
            continue
        lead = words[found[1] : end]
        stated = found[0] == "concluded" and len(lead) <= LEADS_ON and (not lead or lead[-1] in STATES)
        if stated or (found[0] == "changed" and len(lead) <= LEADS_TO) or found[0] == "again":
            return found[0]
    return None


def excused(words: Sequence[str], end: int) -> bool:
    """Whether an apology stands behind what ends at a token: 'Green, I beg your pardon.' puts right what was said."""
    at = end + (words[end : end + 1] == [","])
    cue = quantity_words().correction.at(words, at)
    return cue is not None and cue[0] != "weak" and (cue[1] >= len(words) or words[cue[1]] in STOPS)
