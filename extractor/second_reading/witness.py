"""The ear as second witness: where each heard word lies in the sound, and how well other readings fit there.

The recognizer's decoder was trained on sentences and finds the likely sentence in the sound, its own error included.
The ear (`extractor.speech.ear`) spells frame by frame and expects nothing; what it says of a reading is evidence apart.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from extractor.second_reading.slots import Slot
from extractor.speech.ear import Ear, align, best_path, greedy, log_likelihoods
from extractor.speech.spelling import cardinal, spelled, ways
from extractor.speech.transcript import Word

AROUND = 2
"""Words on either side of a slot that are spelled with it."""
HIGHEST, HIGHEST_FIVE = 130, 350
"""Whole numbers up to the first are asked for one by one, up to the second by fives."""


@dataclass(frozen=True)
class Spelled:
    """A stretch as the ear heard it.

    Attributes:
        logs: log-probabilities of signs (frames, signs).
        words: the transcript's words in the stretch.
        text: the transcript's text.
        places: first frame of each word and the frame after its last.
    """

    logs: NDArray[np.float32]
    words: Sequence[Word]
    text: str
    places: tuple[tuple[int, int], ...]


def listen(states: NDArray[np.float32], words: Sequence[Word], text: str, ear: Ear) -> Spelled:
    """Have the ear spell a stretch, and find its words in it.

    Args:
        states: the encoder's (frames, width).
        words: the transcript's words in the stretch.
        text: the transcript's text.
        ear: the ear.
    """
    logs = ear.listen(states)
    pieces = [spelled(text[w.start : w.end]) for w in words]
    found = align(logs, [piece for piece in pieces if piece])
    places: list[tuple[int, int]] = []
    spoken = iter(found)
    for piece in pieces:
        at = places[-1][1] if places else 0
        places.append(next(spoken) if piece else (at, at))
    return Spelled(logs, words, text, tuple(places))


def odds(slot: Slot, heard: Spelled) -> tuple[float, ...]:
    """Log-odds (nats) of each rival of a slot against what was heard there, by the ear alone."""
    logs, before, after = _around(slot, heard, AROUND)
    readings = [[f"{before} {way} {after}".strip() for way in ways(r)] for r in (slot.heard, *slot.rivals)]
    flat = log_likelihoods(logs, [way for row in readings for way in row])
    best: list[float] = []
    for row in readings:
        best.append(max(flat[: len(row)]))
        flat = flat[len(row) :]
    return tuple(other - best[0] for other in best[1:])


def agrees(slot: Slot, heard: Spelled) -> bool:
    """Whether the ear by itself spells just what was heard in a slot."""
    own = [i for i, w in enumerate(heard.words) if w.start < slot.end and slot.start < w.end]
    first, last = heard.places[own[0]][0], heard.places[own[-1]][1]
    return first < last and greedy(heard.logs[first:last]).strip() in ways(slot.heard)


def numbers(slot: Slot, heard: Spelled, most: int, within: float) -> tuple[tuple[float, float], ...]:
    """Numbers that the ear may have heard in a slot, with their log-odds against what was heard, the likeliest first.

    Args:
        slot: a number's slot.
        heard: its stretch.
        most: how many are given at most.
        within: nats that one may be behind the likeliest.
    """
    logs, before, after = _around(slot, heard, 1)
    values = _values()
    texts = [f"{before} {said} {after}".strip() for said, _ in values]
    own, *others = best_path(logs, [f"{before} {spelled(slot.heard)} {after}".strip(), *texts])
    best: dict[float, float] = {}
    for (_, value), nats in zip(values, others, strict=True):
        best[value] = max(best.get(value, -np.inf), nats - own)
    ranked = sorted(best.items(), key=lambda pair: -pair[1])
    return tuple((value, nats) for value, nats in ranked[:most] if nats >= ranked[0][1] - within)


@lru_cache(maxsize=1)
def _values() -> tuple[tuple[str, float], ...]:
    """Ways of saying a number, with the number."""
    whole = [*range(HIGHEST + 1), *range(HIGHEST + 5 - HIGHEST % 5, HIGHEST_FIVE + 1, 5)]
    found = [(way, float(value)) for value in whole for way in ways(str(value))]
    found += [(f"{cardinal(value)} point five", value + 0.5) for value in range(20)]
    found += [(f"{cardinal(value)} and a half", value + 0.5) for value in range(1, 20)]
    return tuple(found)


def _around(slot: Slot, heard: Spelled, reach: int) -> tuple[NDArray[np.float32], str, str]:
    """The frames of a slot and its neighbors, and what is spelled before and after it there."""
    own = [i for i, w in enumerate(heard.words) if w.start < slot.end and slot.start < w.end]
    first, last = max(0, own[0] - reach), min(len(heard.words), own[-1] + 1 + reach)
    start = (heard.places[first - 1][1] + heard.places[first][0]) // 2 if first else 0
    end = (heard.places[last - 1][1] + heard.places[last][0]) // 2 if last < len(heard.words) else len(heard.logs)
    before = spelled(heard.text[heard.words[first].start : slot.start])
    after = spelled(heard.text[slot.end : heard.words[last - 1].end])
    return heard.logs[start : max(end, start + 2)], before, after
