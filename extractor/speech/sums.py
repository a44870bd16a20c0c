"""How many threads numpy's sums take: one, where they are small and the recognizer wants the cores."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache

from threadpoolctl import ThreadpoolController


@contextmanager
def in_one_thread() -> Iterator[None]:
    """Sums within take one thread.

    The library behind them has its threads wait for more by running in circles. They take the cores from the
    recognizer's own, which wait in turn: listening again took twice its processor time on two free cores, and three
    times on busy ones.
    """
    with _controller().limit(limits=1, user_api="blas"):
        yield


@lru_cache(maxsize=1)
def _controller() -> ThreadpoolController:
    return ThreadpoolController()
