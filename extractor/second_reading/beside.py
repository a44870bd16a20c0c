"""Words after a number that were heard badly: 'one centimeter tear' may have been 'one centimeter deep'.

No list of rivals has them all, so the decoder is asked what else it would say there (`sound`). What it says counts only
where other primary facts come of it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from extractor.language.annotate import Note
from extractor.language.numbers import atom_at
from extractor.second_reading.slots import UNITS_AFTER, Slot
from extractor.speech.transcript import Transcript, Word

ENDS = (".", "?", "!")
MOST = 6
"""Words of one note at most, the least sure first."""
BARE = re.compile(r"[A-Za-z][A-Za-z'-]*[A-Za-z]")


def slots_beside(transcript: Transcript, note: Note, taken: Sequence[Slot], sure: float) -> list[Slot]:
    """Slots on words just after numbers that the recognizer was less sure of than `sure`, without rivals as yet.

    Args:
        transcript: the words with their probabilities.
        note: the same, annotated.
        taken: slots that there are already; no word of theirs is taken again.
        sure: probability from which a word is left alone.
    """
    words = transcript.words
    numbers = _numbers(note)
    counts = [any(first < w.end and w.start < last for first, last in numbers) for w in words]
    ended = [transcript.text[w.end - 1] in ENDS for w in words]
    after = [i for i in range(1, len(words)) if counts[i - 1] and not counts[i] and not ended[i - 1]]
    doubtful: list[tuple[float, Slot]] = []
    for i in after:
        word = words[i]
        bare = BARE.match(transcript.text, word.start, word.end)
        if bare and (word.probability or 0.0) < sure and not any(_overlap(slot, word) for slot in taken):
            slot = Slot(bare.start(), bare.end(), bare[0], (), (), False, open=True)
            doubtful.append((word.probability or 0.0, slot))
    least = sorted(doubtful, key=lambda pair: (pair[0], pair[1].start))[:MOST]
    return sorted((slot for _, slot in least), key=lambda slot: slot.start)


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
