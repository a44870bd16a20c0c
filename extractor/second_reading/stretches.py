"""Which seconds of a recording are listened to again, for which slots."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from extractor.second_reading.slots import Slot
from extractor.speech.transcript import Transcript, Word

LONGEST_S = 7.0
"""Longest stretch encoded at once, in seconds."""
BEFORE_S, AFTER_S = 0.25, 0.45
"""Sound kept before the first word and after the last, since the words' seconds are not exact."""
GAP_S = 1.2
"""A longer silence ends a sentence."""
CONTEXT_S, BEYOND_S = 3.0, 1.5
"""Seconds of words before the first slot of a stretch and after its last that are kept."""
ENDS = (".", "?", "!")


@dataclass(frozen=True)
class Stretch:
    """Words `[first, last)` of the transcript that are encoded together, with the slots among them."""

    first: int
    last: int
    slots: tuple[Slot, ...]


def stretches(slots: Sequence[Slot], transcript: Transcript) -> list[Stretch]:
    """Sentences that hold slots; neighbors are put together as long as they stay short."""
    words = transcript.words
    found: list[Stretch] = []
    for first, last in _whole(sentences(transcript), slots, words):
        inside = tuple(s for s in slots if words[first].start <= s.start and s.end <= words[last - 1].end)
        if not inside or words[first].start_s is None or words[last - 1].end_s is None:
            continue
        before = found[-1] if found else None
        if before and before.last == first and _seconds(words, before.first, last) <= LONGEST_S:
            found[-1] = Stretch(before.first, last, (*before.slots, *inside))
        else:
            found.append(Stretch(first, last, inside))
    return [_trimmed(stretch, transcript) for stretch in found]


def _whole(spans: Sequence[tuple[int, int]], slots: Sequence[Slot], words: Sequence[Word]) -> list[tuple[int, int]]:
    """Sentences, put together where a slot goes on from one to the next ('140. 5 degrees')."""
    found: list[tuple[int, int]] = []
    for first, last in spans:
        at = words[first].start
        if found and any(slot.start < at < slot.end for slot in slots):
            found[-1] = found[-1][0], last
        else:
            found.append((first, last))
    return found


def _trimmed(stretch: Stretch, transcript: Transcript) -> Stretch:
    """A stretch without the words that are far before its first slot and far after its last."""
    words = transcript.words
    own = [
        i
        for i in range(stretch.first, stretch.last)
        if any(words[i].start < slot.end and slot.start < words[i].end for slot in stretch.slots)
    ]
    opens, ends = words[own[0]].start_s or 0.0, words[own[-1]].end_s or 0.0
    first = next(
        i for i in range(stretch.first, own[0] + 1) if (words[i].start_s or 0.0) >= opens - CONTEXT_S or i == own[0]
    )
    last = next(
        i
        for i in range(stretch.last, own[-1], -1)
        if (words[i - 1].end_s or 0.0) <= ends + BEYOND_S or i == own[-1] + 1
    )
    return replace(stretch, first=first, last=last)


def sentences(transcript: Transcript) -> list[tuple[int, int]]:
    """First word and word after the last of each sentence, cut as well at long silences and where it grows too long."""
    words, text = transcript.words, transcript.text
    found: list[tuple[int, int]] = []
    first = 0
    for i, word in enumerate(words):
        after = words[i + 1] if i + 1 < len(words) else None
        gap = (after.start_s or 0.0) - (word.end_s or 0.0) if after else 0.0
        long = after is not None and _seconds(words, first, i + 2) > LONGEST_S
        if after is None or text[word.end - 1] in ENDS or gap > GAP_S or long:
            found.append((first, i + 1))
            first = i + 1
    return found


def _seconds(words: Sequence[Word], first: int, last: int) -> float:
    return (words[last - 1].end_s or 0.0) - (words[first].start_s or 0.0)
