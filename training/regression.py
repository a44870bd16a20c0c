"""Weights of signs that can be read: a logistic regression, held small and few, in whole hundredths of a logit."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Hashable, Sequence
from typing import Generic, NamedTuple, TypeVar

import numpy as np
from numpy.typing import NDArray

STEPS = 600
SMALLEST = 5
"""Weights below (hundredths) are left out."""
S = TypeVar("S", bound=Hashable)


class Case(NamedTuple, Generic[S]):
    """Something that is so or not: its signs, whether it is, how much it weighs, and the note it is from."""

    signs: Sequence[S]
    true: bool
    weight: float
    note: int


def learnt(cases: Sequence[Case[S]], *, least: int, notes: int, l1: float, l2: float) -> dict[S, int]:
    """The weights of all signs that stand at `least` cases, in so many `notes`; the smallest are left out."""
    count: Counter[S] = Counter()
    seen: defaultdict[S, set[int]] = defaultdict(set)
    for case in cases:
        count.update(case.signs)
        for sign in case.signs:
            seen[sign].add(case.note)
    kept = sorted((s for s, n in count.items() if n >= least and len(seen[s]) >= notes), key=str)
    index = {sign: k for k, sign in enumerate(kept)}
    pairs = [(n, index[s]) for n, case in enumerate(cases) for s in case.signs if s in index]
    rows, columns = np.array(pairs).T
    true = np.array([float(c.true) for c in cases])
    weight = np.array([c.weight for c in cases])
    solution = _regression(rows, columns, true, weight, len(kept), l1, l2)
    hundredths = {sign: round(100 * float(solution[k])) for sign, k in index.items()}
    return {sign: w for sign, w in hundredths.items() if abs(w) >= SMALLEST}


def _regression(
    rows: NDArray[np.intp],
    columns: NDArray[np.intp],
    y: NDArray[np.float64],
    weight: NDArray[np.float64],
    size: int,
    l1: float,
    l2: float,
) -> NDArray[np.float64]:
    """Logistic regression by accelerated proximal steps (Beck and Teboulle 2009, FISTA), each sign at its own rate."""
    per_row = np.bincount(rows, minlength=len(y))
    rate = 1 / (np.bincount(columns, weights=(weight * per_row)[rows], minlength=size) / 4 + l2)
    w = ahead = np.zeros(size)
    t = 1.0
    for _ in range(STEPS):
        z = np.bincount(rows, weights=ahead[columns], minlength=len(y))
        error = weight * (1 / (1 + np.exp(-z)) - y)
        step = ahead - rate * (np.bincount(columns, weights=error[rows], minlength=size) + l2 * ahead)
        new = np.sign(step) * np.maximum(np.abs(step) - rate * l1, 0)
        later = (1 + (1 + 4 * t * t) ** 0.5) / 2
        w, ahead, t = new, new + (t - 1) / later * (new - w), later
    return w
