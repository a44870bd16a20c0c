"""Pauses inside sentences: people who dictate stop to look, to measure and to think, where no sentence ends.

A recognizer taught only sentences with a pause after each would write a full stop wherever somebody stops. Here some
sentences get a pause, or a filler such as "uh", in what is said; what is written stays as it is, since ordinary Whisper
leaves fillers out as well.
"""

from __future__ import annotations

from random import Random

from training.numerals import WORDS

MARK = "|"
"""Where a sentence to be spoken pauses."""
FILLERS = ("uh", "um", "er", "uh", "um", "hmm")
BEFORE = frozenset(
    "of and at to with in from by on for that which is was were are about maybe then but or the a an so we measuring "
    "measured using through over under approximately around roughly no not including along between".split()
)
"""Words before which people stop most."""
COUNTED = frozenset({*WORDS, "hundred", "thousand", "point", "oh", "and"})
"""Words of which numbers are made; nobody stops between two of them."""


def hesitate(said: str, draw: Random, chance: float = 0.4) -> str:
    """Put pauses and fillers into some sentences; never at the beginning or after the last word."""
    words = said.split()
    if len(words) < 4 or draw.random() >= chance:
        return said
    weights = [0.0, *(_weight(words, at) for at in range(1, len(words)))]
    places = set(draw.choices(range(len(words)), weights, k=draw.choice([1, 1, 1, 2, 2, 3])))
    out: list[str] = []
    for at, word in enumerate(words):
        if at in places:
            filler = [draw.choice(FILLERS) + ","] if draw.random() < 0.25 else []
            out += [*([MARK] if draw.random() < 0.6 or not filler else []), *filler, *([MARK] if filler else [])]
        out.append(word)
    return " ".join(out)


def _weight(words: list[str], at: int) -> float:
    before, after = words[at - 1].lower(), words[at].lower().strip(",.")
    if before[-1] in ".?!:" or (before in COUNTED and after in COUNTED):
        return 0.0
    return 4.0 if before[-1] == "," or after in BEFORE else 1.0


def pieces(said: str, draw: Random) -> list[str]:
    """A sentence in the pieces between its pauses, most with a comma, by which a voice knows that it goes on."""
    found = [piece.strip() for piece in said.split(MARK) if piece.strip()]
    return [piece + "," if piece[-1].isalnum() and draw.random() < 0.75 else piece for piece in found[:-1]] + found[-1:]


def pause_s(draw: Random) -> float:
    """How long a pause inside a sentence lasts: mostly short, at times long enough to end one."""
    return draw.choice([draw.uniform(0.15, 0.4), draw.uniform(0.3, 0.9), draw.uniform(0.6, 1.8)])
