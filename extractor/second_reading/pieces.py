"""What the decoder may say next, as numbers and words of the trade.

The decoder writes text in pieces; a number up to a hundred is one, and so is the beginning of any word. Its odds for
the next piece, asked once, therefore tell how near every number and every known word is to what was heard.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from faster_whisper.tokenizer import Tokenizer
from tokenizers import Tokenizer as Encoder

from extractor.grammar.inflect import spellings
from extractor.grammar.packs import Grammar
from extractor.language.likeness import NOT_MEANT
from extractor.language.sounds import distance, sound
from extractor.second_reading.rivals import written

NUMBERS = (*range(121), *range(130, 401, 10))
SHORTEST = 3
OFF = 8.0
"""Nats that sounds with nothing in common count against a word, when the likeliest are chosen."""
UNLIKE = 0.5
"""Words whose sounds lie further apart than this are not taken for one another, however well they fit."""


@dataclass(frozen=True)
class Pieces:
    """First pieces of numbers in figures and in words, and of words, by the piece."""

    numbers: dict[int, tuple[int, ...]]
    words: dict[int, tuple[str, ...]]

    def numbers_near(self, nats: np.ndarray, least: float) -> tuple[int, ...]:
        """Numbers whose first piece has these nats at least, the likeliest first."""
        found = {value: max(float(nats[piece]) for piece in pieces) for value, pieces in self.numbers.items()}
        return tuple(sorted((v for v, nat in found.items() if nat >= least), key=lambda v: (-found[v], v)))

    def words_near(self, nats: np.ndarray, least: float, heard: str) -> tuple[str, ...]:
        """Words whose first piece has these nats at least and that sound like what was heard, the likeliest first."""
        own = sound(heard.lower())
        found: dict[str, float] = {}
        for piece in self.words:
            if nats[piece] >= least:
                for word in self.words[piece]:
                    off = distance(own, sound(word))
                    if word != heard.lower() and off <= UNLIKE:
                        found[word] = float(nats[piece]) - OFF * off
        return tuple(sorted(found, key=lambda word: (-found[word], word)))


@lru_cache(maxsize=2)
def pieces_of(grammar: Grammar, encoder: Encoder, language: str) -> Pieces:
    """Cut the numbers and the grammar's words into the decoder's pieces; kept, since it takes as long as a note.

    Args:
        grammar: the packs in force.
        encoder: the recognizer's own (`SpeechModel.whisper.hf_tokenizer`).
        language: code of the language spoken.
    """
    tokenizer = Tokenizer(encoder, True, task="transcribe", language=language)
    said = (written(float(n), figures=False) for n in NUMBERS)
    numbers: dict[int, tuple[int, ...]] = {}
    for value, words in zip(NUMBERS, said, strict=True):
        ways = [tokenizer.encode(f" {value}"), tokenizer.encode(f" {words}")]
        numbers[value] = tuple(way[0] for way in ways if len(way) == 1)
    entries = (entry for name, entry in grammar.words if name not in NOT_MEANT)
    ways_said = (form for entry in entries for way in entry.spoken for form in spellings(way))
    vocabulary = {word.lower() for way in ways_said for word in way.split() if word.isalpha() and len(word) >= SHORTEST}
    first: dict[int, list[str]] = {}
    for word in sorted(vocabulary):
        first.setdefault(tokenizer.encode(f" {word}")[0], []).append(word)
    return Pieces({v: p for v, p in numbers.items() if p}, {piece: tuple(own) for piece, own in first.items()})
