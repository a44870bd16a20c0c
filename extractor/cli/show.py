"""Printing: the console, and progress with the time left. Both keep still in a pipe."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from rich.console import Console, RenderableType
from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn, TimeRemainingColumn

WIDEST, PIPED = 104, 100
"""Columns: lines longer than this read badly; and what is assumed where no terminal tells."""


def console() -> Console:
    """The console for results."""
    found = Console(highlight=False, soft_wrap=False)
    if not found.is_terminal and "COLUMNS" not in found._environ:
        return Console(highlight=False, width=PIPED)
    return Console(highlight=False, width=min(found.width, WIDEST))


def show(view: RenderableType) -> None:
    """Print a view. Into a pipe or file its lines go without the spaces that pad them to the width."""
    screen = console()
    if screen.is_terminal:
        screen.print(view)
        return
    with screen.capture() as capture:
        screen.print(view)
    for line in capture.get().splitlines():
        print(line.rstrip())


@contextmanager
def progress(what: str, total: float | None) -> Iterator[Callable[[float], None]]:
    """A bar with the time left, on standard error; only in a terminal, gone when done.

    Yields:
        A function to be told how much of `total` is done.
    """
    screen = Console(stderr=True)
    bar = Progress(
        TextColumn("{task.description}"), BarColumn(bar_width=30), TextColumn("{task.percentage:>3.0f}%"),
        TimeElapsedColumn(), TextColumn("left"), TimeRemainingColumn(),
        console=screen, transient=True, disable=not screen.is_terminal, auto_refresh=False,
    )  # fmt: skip
    with bar:
        task = bar.add_task(what, total=total)
        yield lambda done: bar.update(task, completed=done, refresh=True)
