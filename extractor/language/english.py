"""Common English words: what a person who knows nothing of the trade may well have said."""

from __future__ import annotations

import gzip
from collections.abc import Iterator
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
    return frozenset(word for words in _levels("large", round((9 - SELDOM) * 100)) for word in words)


def _levels(name: str, most: int = 1000) -> Iterator[list[str]]:
    """The words of a list level by level, the most common first; what is not asked for is not even unpacked."""
    spec = find_spec("wordfreq")
    places = spec.submodule_search_locations if spec else None
    try:
        with gzip.open(Path(next(iter(places or ()))) / LISTS[name]) as file:
            unpacker = msgpack.Unpacker(file, raw=False)
            levels = unpacker.read_array_header() - 1
            header: dict[str, object] = unpacker.unpack()
            if header.get("format") != "cB" or header.get("version") != 1:
                raise ExtractorError("the package 'wordfreq' has a list of a form not known here; install version 3")
            for _ in range(min(levels, most)):
                yield unpacker.unpack()
    except (OSError, StopIteration) as error:
        raise ExtractorError("the package 'wordfreq' is not installed whole; install it again") from error
