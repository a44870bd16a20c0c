"""A recognizer asked from another process than the one that holds it.

Loading it twice on one graphics card makes both wait for each other, so one process holds it and the others ask.
"""

from __future__ import annotations

from collections.abc import Sequence
from multiprocessing.connection import Connection
from typing import Any

from tokenizers import Tokenizer

from extractor.speech.audio import Samples
from extractor.speech.decoder import Floats, Loaded, features_of


class Asking:
    """The side that asks; see `Decoder`."""

    def __init__(self, end: Connection, tokens: Tokenizer, features: Any, *, taught: bool) -> None:
        """Take the pipe to the process that answers, and what needs no asking (`introduce`)."""
        self._end = end
        self._features = features
        self.tokens = tokens
        self.at_once = 1  # there is one pipe
        self.taught = taught

    def states(self, samples: Samples) -> Floats:
        """See `Decoder`."""
        states: Floats = self._ask("states_of", features_of(samples, self._features))
        return states

    def piece_probabilities(
        self, states: Floats, start: Sequence[int], sequences: Sequence[Sequence[int]]
    ) -> list[list[float]]:
        """See `Decoder`."""
        found: list[list[float]] = self._ask("piece_probabilities", states, start, sequences)
        return found

    def next_piece(self, states: Floats, prompt: Sequence[int], said: int) -> Floats | None:
        """See `Decoder`."""
        logits: Floats | None = self._ask("next_piece", states, prompt, said)
        return logits

    def sayings(self, states: Floats, prompt: Sequence[int], said: int, count: int, more: int) -> list[list[int]]:
        """See `Decoder`."""
        found: list[list[int]] = self._ask("sayings", states, prompt, said, count, more)
        return found

    def _ask(self, name: str, *args: Any) -> Any:
        self._end.send((name, args))
        good, answer = self._end.recv()
        if not good:
            raise RuntimeError(answer)
        return answer


def introduce(end: Connection, model: Loaded) -> None:
    """Tell the asking side what it can know for itself; it makes an `Asking` of it (`introduced`)."""
    end.send((model.tokens, model.whisper.feature_extractor, model.taught))


def introduced(end: Connection) -> Asking:
    """The recognizer that the other side holds.

    Raises:
        EOFError: when that side is gone.
    """
    tokens, features, taught = end.recv()
    return Asking(end, tokens, features, taught=taught)


def answer(end: Connection, model: Loaded, question: tuple[str, tuple[Any, ...]]) -> None:
    """Answer what came from an `Asking`; what goes wrong is told there, where it is known of which recording."""
    name, args = question
    try:
        end.send((True, getattr(model, name)(*args)))
    except OSError:
        raise
    except Exception as error:
        end.send((False, f"{type(error).__name__}: {error}"))
