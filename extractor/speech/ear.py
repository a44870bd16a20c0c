"""The ear: a second witness of what was said, which knows spelling and nothing of what is likely.

A small net over the states of the recognizer's encoder gives each fiftieth of a second a letter, or none; how likely a
text is follows by connectionist temporal classification (Graves et al. 2006, doi 10.1145/1143844.1143891). The
recognizer's decoder finds its own error likely; the ear, which never reads a word before or after, need not.
`training/ear.py` trains it on the states of the packaged, adapted encoder, and on no other's.
"""

from __future__ import annotations

import hashlib
import io
import math
import zipfile
from collections.abc import Sequence
from functools import lru_cache
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray

from extractor.errors import ModelError
from extractor.speech.spelling import ALPHABET, codes

NAME = "ear.npz"
SHA256 = "0745080a26135b4e385936f6ee34e0afdea52e05250c8d1426144b97db635cc0"
Array = NDArray[np.float32]
NEVER = -1e30
STATES_A_SECOND = 50


class Ear:
    """The net's weights."""

    def __init__(self, arrays: dict[str, Array]) -> None:
        """Take the weights that `training.ear` wrote.

        Raises:
            ModelError: when one is missing.
        """
        try:
            self.into = arrays["into.weight"].T, arrays["into.bias"]
            self.blocks = [
                (
                    arrays[f"norms.{i}.weight"],
                    arrays[f"norms.{i}.bias"],
                    np.ascontiguousarray(arrays[f"convs.{i}.weight"].transpose(2, 1, 0)),
                    arrays[f"convs.{i}.bias"],
                )
                for i in range(sum(name.startswith("convs.") and name.endswith(".weight") for name in arrays))
            ]
            self.out = arrays["out.weight"].T, arrays["out.bias"]
        except KeyError as error:
            raise ModelError("the recognizer's ear is incomplete; install again, or use --plain") from error

    def listen(self, states: Array) -> Array:
        """Log-probabilities of signs (frames, 1 + signs) from encoder states (frames, 512)."""
        x = _gelu(states @ self.into[0] + self.into[1])
        for gain, shift, kernel, bias in self.blocks:
            mean = x.mean(1, keepdims=True)
            normal = (x - mean) / np.sqrt(((x - mean) ** 2).mean(1, keepdims=True) + 1e-5) * gain + shift
            reach = len(kernel) // 2
            padded = np.pad(normal, ((reach, reach), (0, 0)))
            y = sum(padded[i : i + len(x)] @ kernel[i] for i in range(len(kernel)))
            x = x + _gelu(y + bias)
        logits = x @ self.out[0] + self.out[1]
        logits -= logits.max(1, keepdims=True)
        found: Array = logits - np.log(np.exp(logits).sum(1, keepdims=True))
        return found


def _gelu(x: Array) -> Array:
    # By the error function, as trained (Abramowitz and Stegun 1964, 7.1.26: within 1.5e-7).
    t = 1 / (1 + 0.3275911 * np.abs(x) / math.sqrt(2))
    series = t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))))
    erf = np.sign(x) * (1 - series * np.exp(-x * x / 2))
    found: Array = (x * (1 + erf) / 2).astype(np.float32)
    return found


def log_likelihoods(logs: Array, texts: Sequence[str]) -> list[float]:
    """Log-probability of each spelled text given log-probabilities of signs, over all ways of lying in the sound.

    Args:
        logs: (frames, 1 + signs), as `Ear.listen` gives them.
        texts: in the ear's spelling (`spelling.spelled`).
    """
    return _forward(logs, texts, np.logaddexp)


def best_path(logs: Array, texts: Sequence[str]) -> list[float]:
    """The same for the likeliest way alone: a little less, and much quicker. For comparing many texts."""
    return _forward(logs, texts, np.maximum)


def _forward(logs: Array, texts: Sequence[str], join: np.ufunc) -> list[float]:
    rows = [codes(text) for text in texts]
    if not rows:
        return []
    width = 2 * max(map(len, rows)) + 1
    signs = np.zeros((len(rows), width), np.int64)
    ends = np.array([2 * len(row) for row in rows])
    for number, row in enumerate(rows):
        signs[number, 1 : 2 * len(row) : 2] = row
    leap = np.where((signs[:, 2:] != 0) & (signs[:, 2:] != signs[:, :-2]), 0.0, NEVER).astype(np.float32)
    alpha = np.full((len(rows), width), NEVER, np.float32)
    alpha[:, 0] = logs[0, 0]
    if width > 1:
        alpha[:, 1] = logs[0, signs[:, 1]]
    for frame in logs[1:]:
        best = alpha.copy()
        join(best[:, 1:], alpha[:, :-1], out=best[:, 1:])
        join(best[:, 2:], alpha[:, :-2] + leap, out=best[:, 2:])  # past the sign before, where it may be left out
        alpha = best + frame[signs]
    last = np.arange(len(rows))
    final = join(alpha[last, ends], np.where(ends > 0, alpha[last, np.maximum(ends - 1, 0)], NEVER))
    return [float(value) for value in final]


def align(logs: Array, words: Sequence[str]) -> list[tuple[int, int]]:
    """Where each of the words lies in the likeliest way of lying in the sound: first frame, frame after the last.

    Args:
        logs: (frames, 1 + signs).
        words: spelled words, or words together, one after the other.
    """
    if not words:
        return []
    row = codes(" ".join(words))
    owner = [number for number, word in enumerate(words) for _ in range(len(word) + 1)][:-1]
    width = 2 * len(row) + 1
    signs = np.zeros(width, np.int64)
    signs[1::2] = row
    leap = np.zeros(width, bool)
    leap[2:] = (signs[2:] != 0) & (signs[2:] != signs[:-2])
    delta = np.full(width, NEVER)
    delta[:2] = logs[0, signs[:2]]
    steps = np.zeros((len(logs), width), np.int8)
    for number, frame in enumerate(logs[1:], 1):
        one = np.concatenate(([NEVER], delta[:-1]))
        two = np.where(leap, np.concatenate(([NEVER, NEVER], delta[:-2])), NEVER)
        ways = np.stack((delta, one, two))
        steps[number] = ways.argmax(0)
        delta = ways.max(0) + frame[signs]
    at = width - 1 if delta[-1] >= delta[-2] else width - 2
    first, last = [len(logs)] * len(words), [0] * len(words)
    for number in range(len(logs) - 1, -1, -1):
        if at % 2 and signs[at] != 1:  # a letter; the space between two words belongs to neither
            word = owner[at // 2]
            first[word], last[word] = min(first[word], number), max(last[word], number + 1)
        at -= int(steps[number, at])
    return [(a, b) if a < b else (min(a, len(logs)), min(a, len(logs))) for a, b in zip(first, last, strict=True)]


def greedy(logs: Array) -> str:
    """What the ear spells by itself."""
    best = logs.argmax(1)
    kept = [int(s) for i, s in enumerate(best) if s and (i == 0 or s != best[i - 1])]
    return "".join(ALPHABET[s - 1] for s in kept)


@lru_cache(maxsize=1)
def packaged_ear() -> Ear:
    """The ear that belongs to the packaged recognizer, verified.

    Raises:
        ModelError: when it is missing, changed or damaged.
    """
    try:
        data = files(__package__).joinpath("data", NAME).read_bytes()
    except FileNotFoundError as error:
        raise ModelError(f"the recognizer's ear ({NAME}) is missing; install again, or use --plain") from error
    if SHA256 and hashlib.sha256(data).hexdigest() != SHA256:
        raise ModelError(f"the recognizer's ear ({NAME}) is not the pinned one; install again, or use --plain")
    try:
        with np.load(io.BytesIO(data), allow_pickle=False) as arrays:
            return Ear({name: arrays[name].astype(np.float32) for name in arrays.files})
    except (ValueError, OSError, EOFError, zipfile.BadZipFile) as error:
        raise ModelError("the recognizer's ear is damaged; install again, or use --plain") from error
