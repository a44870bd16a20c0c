"""The ledger of a note: every number with a unit, and where it went. It closes when none is left over."""

from __future__ import annotations

from dataclasses import dataclass

from extractor.facts.account import account
from extractor.facts.engine import read_facts
from extractor.grammar.packs import Grammar
from extractor.language.annotate import annotate


@dataclass(frozen=True)
class Entry:
    """One number with a unit: its characters and words, where it went, and what it was read as."""

    start: int
    end: int
    text: str
    went: str
    read_as: str


def ledger(text: str, grammar: Grammar) -> list[Entry]:
    """Account for every number with a unit in a note, in the order said."""
    note = annotate(text, grammar)
    tokens = note.tokens
    return [
        Entry(tokens.starts[q.start], tokens.ends[q.end - 1], tokens.said(q.start, q.end), entry.went, entry.read_as)
        for entry in account(read_facts(note))
        for q in (entry.quantity,)
    ]
