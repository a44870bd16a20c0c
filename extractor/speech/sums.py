"""How many threads numpy's sums take: one, where they are small and the recognizer wants the cores."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from functools import lru_cache
from typing import TypeVar

from threadpoolctl import ThreadpoolController

T = TypeVar("T")
R = TypeVar("R")


@contextmanager
def in_one_thread() -> Iterator[None]:
    """Sums within take one thread.

    The library behind them has its threads wait for more by running in circles. They take the cores from the
    recognizer's own, which wait in turn: listening again took twice its processor time on two free cores, and three
    times on busy ones.
    """
    with _controller().limit(limits=1, user_api="blas"):
        yield


def each(job: Callable[[T], R], items: Sequence[T], *, at_once: int) -> list[R]:
    """What comes of each item, in order, so many at once as the recognizer leaves cores free (`Decoder.at_once`)."""
    if at_once == 1 or len(items) == 1:
        return [job(item) for item in items]
    with ThreadPoolExecutor(at_once) as pool:
        return list(pool.map(job, items))


@lru_cache(maxsize=1)
def _controller() -> ThreadpoolController:
    return ThreadpoolController()
