"""What stands between two measures: words of correction, what is said before and after them, ends of sentences."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from extractor.language.quantity_words import QuantityWords

STOPS = frozenset({",", ".", "?", "!", ";", ":", "-"})
PRODUCT_SIGNS = frozenset({"by", "x", "*"})
MOST_REMARK = 6
SENTENCE_ENDS = frozenset({".", "?", "!", ";", "\n", ":"})


@dataclass(frozen=True)
class Gap:
    """What stands between two measures.

    Attributes:
        cue: "strong", "weak" or "" for no word of correction.
        before: words in no list before the first cue.
        after: words in no list after it.
        ends: sentence ends.
        stop: whether the last token is punctuation or a listed word, not a free one.
    """

    cue: str
    before: tuple[str, ...]
    after: tuple[str, ...]
    ends: int
    stop: bool


def read_gap(words: Sequence[str], start: int, end: int, lexicon: QuantityWords) -> Gap:
    """Read the tokens `[start, end)` between two measures."""
    before: list[str] = []
    after: list[str] = []
    cue, ends, stop, k = "", 0, True, start
    while k < end:
        word = words[k]
        if not word[:1].isalnum() and not word.startswith("'"):
            ends += word in SENTENCE_ENDS
            k, stop = k + 1, True
            continue
        found, filler = lexicon.correction.at(words, k), lexicon.filler.at(words, k)
        if found and found[1] <= end and not (filler and filler[1] > found[1]):
            cue = "weak" if found[0] == "weak" and cue != "strong" else "strong"
            k, stop = found[1], True
        elif filler and filler[1] <= end:
            if not cue and words[k] in lexicon.dimension:
                before.append(word)
            k, stop = filler[1], True
        else:
            (after if cue else before).append(word)
            k, stop = k + 1, False
    return Gap(cue, tuple(before), tuple(after), ends, stop)


def is_held_up(words: Sequence[str], start: int, end: int) -> bool:
    """'Zero to, | stop there, | ninety-five': whether a span breaks off behind its 'to' and goes on behind a remark."""
    between = words[start + 2 : end - 1]
    opens, ends = list(words[start : start + 2]) == ["to", ","], words[end - 1] == ","
    return opens and ends and 0 < len(between) <= MOST_REMARK and SENTENCE_ENDS.isdisjoint(between)
