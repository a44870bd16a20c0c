"""Words that were heard badly: 'one centimeter tear' may have been 'one centimeter deep', 'white tear' 'white tape'.

No list of rivals has them all, so the decoder is asked which words of the trade it would say there (`sound`). What it
says counts only where primary facts come of it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from extractor.language.annotate import Note
from extractor.language.numbers import atom_at
from extractor.second_reading.slots import UNITS_AFTER, Slot
from extractor.speech.transcript import Transcript, Word

ENDS = (".", "?", "!")
MOST = 4
"""Words after numbers of one note at most, the least sure first."""
MOST_OTHERS = 4
"""Other words of one note at most."""
BARE = re.compile(r"[A-Za-z][A-Za-z'-]*[A-Za-z]")


def slots_beside(
    transcript: Transcript, note: Note, taken: Sequence[Slot], sure: float, sure_other: float
) -> list[Slot]:
    """Slots on words heard badly, without rivals as yet.

    Args:
        transcript: the words with their probabilities.
        note: the same, annotated.
        taken: slots that there are already; no word of theirs is taken again.
        sure: probability from which a word just after a number is left alone.
        sure_other: the same for any other word.
    """
    words = transcript.words
    numbers = _numbers(note)
    counts = [any(first < w.end and w.start < last for first, last in numbers) for w in words]
    ended = [transcript.text[w.end - 1] in ENDS for w in words]
    after = [i for i in range(1, len(words)) if counts[i - 1] and not counts[i] and not ended[i - 1]]
    others = [i for i in range(len(words)) if not counts[i] and i not in after]
    found = [
        *_least_sure(after, transcript, taken, sure, MOST),
        *_least_sure(others, transcript, taken, sure_other, MOST_OTHERS),
    ]
    return sorted(found, key=lambda slot: slot.start)


def _least_sure(
    places: Sequence[int], transcript: Transcript, taken: Sequence[Slot], sure: float, most: int
) -> list[Slot]:
    doubtful: list[tuple[float, Slot]] = []
    for i in places:
        word = transcript.words[i]
        bare = BARE.match(transcript.text, word.start, word.end)
        if bare and (word.probability or 0.0) < sure and not any(_overlap(slot, word) for slot in taken):
            slot = Slot(bare.start(), bare.end(), bare[0], (), (), False, open=True, ask=True)
            doubtful.append((word.probability or 0.0, slot))
    least = sorted(doubtful, key=lambda pair: (pair[0], pair[1].start))[:most]
    return [slot for _, slot in least]


def _numbers(note: Note) -> list[tuple[int, int]]:
    """Characters of each number, with its unit where one follows."""
    found: list[tuple[int, int]] = []
    i = 0
    while i < len(note.tokens):
        number = atom_at(note.words, i)
        if number and number.value is not None:
            unit = number.end < len(note.tokens) and note.words[number.end] in UNITS_AFTER
            found.append((note.tokens.starts[i], note.tokens.ends[number.end - 1 + unit]))
        i = number.end if number else i + 1
    return found


def _overlap(slot: Slot, word: Word) -> bool:
    return slot.start < word.end and word.start < slot.end
