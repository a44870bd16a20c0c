"""Common English words: what a person who knows nothing of the trade may well have said."""

from __future__ import annotations

import gzip
from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path

import msgpack  # type: ignore[import-untyped]

from extractor.errors import ExtractorError

LISTS = {"common": Path("data", "small_en.msgpack.gz"), "large": Path("data", "large_en.msgpack.gz")}
"""The package's lists: words used about once in a million words and more often, or a hundred times less often."""
SELDOM = 1.5
"""Rarer words than this (Zipf scale) are as good as none: the large list has misspellings among them."""


@lru_cache(maxsize=1)
def plain_words() -> dict[str, float]:
    """Common words and how common they are: the Zipf scale, 3 for once in a million words, 6 for once in a thousand.

    From the package wordfreq (Robyn Speer; its data CC BY-SA 4.0). Its files are read directly, since importing the
    package takes longer than reading a note; their form is described in its module `wordfreq.read_cBpack`: a header,
    then a list of the words at each hundredth of a power of ten below 1.

    Raises:
        ExtractorError: when the package is not installed whole.
    """
    return {word: 9 - step / 100 for step, words in enumerate(_levels("common")) for word in words}


@lru_cache(maxsize=1)
def seldom_words() -> frozenset[str]:
    """Words that are rare but words all the same; loaded (some hundredths of a second) only when one is in question."""
    levels = _levels("large")[: round((9 - SELDOM) * 100)]
    return frozenset(word for words in levels for word in words)


def _levels(name: str) -> list[list[str]]:
    spec = find_spec("wordfreq")
    places = spec.submodule_search_locations if spec else None
    try:
        with gzip.open(Path(next(iter(places or ()))) / LISTS[name]) as file:
            contents = msgpack.load(file, raw=False)
    except (OSError, StopIteration) as error:
        raise ExtractorError("the package 'wordfreq' is not installed whole; install it again") from error
    header: dict[str, object] = contents[0]
    levels: list[list[str]] = contents[1:]
    if header.get("format") != "cB" or header.get("version") != 1:
        raise ExtractorError("the package 'wordfreq' has a list of a form not known here; install version 3")
    return levels
