"""How much a way of saying multiplies out to: all of it is held in memory, so no line may say a million phrases."""

from __future__ import annotations

from extractor.grammar.inflect import spellings
from extractor.grammar.packs import load_grammar

MOST = 15_000
"""Phrases of one way of saying; this project's choice, no source."""


def test_no_way_of_saying_is_too_many() -> None:
    entries = [entry for _, entry in load_grammar().words]
    counts = {f"{e.file}:{e.line}: {way}": sum(1 for _ in spellings(way)) for e in entries for way in e.spoken}
    assert len(counts) > 10_000
    assert {place: count for place, count in counts.items() if count > MOST} == {}
