"""What is asked of a recognizer beyond its text: its states of a stretch, and how likely it finds other words there."""

from __future__ import annotations

import os
from collections.abc import Sequence
from typing import Any, Protocol

import ctranslate2
import numpy as np
from faster_whisper import WhisperModel
from numpy.typing import NDArray
from tokenizers import Tokenizer

from extractor.speech.audio import Samples

BESIDE_CARD = 4
"""Threads that ask a card at once, at most, each adding up what it answers."""
HOP = 160
"""Samples a frame of the features; the encoder makes one state of two."""
Floats = NDArray[np.float32]


class Decoder(Protocol):
    """A recognizer that can be asked, in this process or in another."""

    @property
    def taught(self) -> bool:
        """Whether it was taught the trade's words, so that the packaged ear knows its states."""

    @property
    def at_once(self) -> int:
        """Stretches that are best asked about at once: more than one only where a card answers."""

    @property
    def tokens(self) -> Tokenizer:
        """Cuts text into the pieces it writes."""

    def states(self, samples: Samples) -> Floats:
        """The encoder's states of a short stretch, without padding it to thirty seconds: (1, frames, width)."""

    def piece_probabilities(
        self, states: Floats, start: Sequence[int], sequences: Sequence[Sequence[int]]
    ) -> list[list[float]]:
        """Probability of each piece of some texts, each said over a whole stretch (forced alignment).

        Args:
            states: of the stretch (1, frames, width).
            start: the pieces that open every text.
            sequences: the texts as pieces.
        """

    def next_piece(self, states: Floats, prompt: Sequence[int], said: int) -> Floats | None:
        """Logits of what it would say behind the last `said` pieces of a prompt, by piece; None where nothing."""

    def sayings(self, states: Floats, prompt: Sequence[int], said: int, count: int, more: int) -> list[list[int]]:
        """The likeliest `count` ways to go on behind a prompt by `more` pieces, its last `said` pieces with them."""


class Loaded:
    """Answers by a recognizer in this process."""

    whisper: WhisperModel
    taught: bool

    @property
    def at_once(self) -> int:
        """See `Decoder`."""
        return 1 if self.whisper.model.device == "cpu" else min(BESIDE_CARD, os.cpu_count() or 1)

    @property
    def tokens(self) -> Tokenizer:
        """See `Decoder`."""
        tokens: Tokenizer = self.whisper.hf_tokenizer
        return tokens

    def states(self, samples: Samples) -> Floats:
        """See `Decoder`."""
        return self.states_of(features_of(samples, self.whisper.feature_extractor))

    def states_of(self, features: Floats) -> Floats:
        """The encoder's states of a stretch given as features (1, mels, frames)."""
        states = self.whisper.model.encode(ctranslate2.StorageView.from_array(features), to_cpu=True)
        return np.array(states, dtype=np.float32)

    def piece_probabilities(
        self, states: Floats, start: Sequence[int], sequences: Sequence[Sequence[int]]
    ) -> list[list[float]]:
        """See `Decoder`."""
        many = ctranslate2.StorageView.from_array(np.repeat(states, len(sequences), axis=0))
        frames = [states.shape[1]] * len(sequences)
        aligned = self.whisper.model.align(many, list(start), [list(s) for s in sequences], frames)
        return [list(result.text_token_probs) for result in aligned]

    def next_piece(self, states: Floats, prompt: Sequence[int], said: int) -> Floats | None:
        """See `Decoder`."""
        found = self.whisper.model.generate(
            _view(states),
            [list(prompt)],
            beam_size=1,
            max_length=2 * (said + 2),
            return_logits_vocab=True,
            suppress_blank=False,
        )[0]
        steps = found.logits[0] if found.logits else []
        if len(steps) <= said:
            return None
        return np.array(steps[said].to_device(ctranslate2.Device.cpu), dtype=np.float32)

    def sayings(self, states: Floats, prompt: Sequence[int], said: int, count: int, more: int) -> list[list[int]]:
        """See `Decoder`."""
        found = self.whisper.model.generate(
            _view(states),
            [list(prompt)],
            beam_size=count,
            num_hypotheses=count,
            max_length=2 * (len(prompt) + more),  # the library halves it, and counts the words before as well
        )[0]
        return [list(ids[said:]) for ids in found.sequences_ids]


def features_of(samples: Samples, extractor: Any) -> Floats:
    """What the encoder is given of a stretch: (1, mels, frames)."""
    frames = max(2, len(samples) // HOP // 2 * 2)
    features: Floats = np.ascontiguousarray(extractor(samples)[None, :, :frames], dtype=np.float32)
    return features


def _view(states: Floats) -> ctranslate2.StorageView:
    return ctranslate2.StorageView.from_array(np.ascontiguousarray(states))
