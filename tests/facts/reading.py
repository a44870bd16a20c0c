"""A sentence read into facts, in forms that are short to compare. Sentences of these tests are their own."""

from __future__ import annotations

from typing import Any

from extractor.facts.draft import FactDraft, FlagDraft
from extractor.facts.engine import read_facts
from extractor.facts.reading import Reading
from extractor.grammar.packs import load_grammar
from extractor.language.annotate import annotate


def reading(text: str) -> Reading:
    grammar = load_grammar()
    return read_facts(annotate(text, grammar))


def drafts(text: str, kind: str) -> list[FactDraft]:
    """The facts of one kind, in the order of their places in the text."""
    found = [d for d in reading(text).drafts if d.kind == kind]
    return sorted(found, key=lambda d: (d.spans[0].start, d.spans[0].end))


def facts(text: str, kind: str) -> list[dict[str, Any]]:
    """The same as plain fields, those left unsaid left out."""
    return [
        {k: v for k, v in d.fields.items() if v not in (None, [], ()) and v is not False} for d in drafts(text, kind)
    ]


def flags(text: str) -> list[FlagDraft]:
    return list(reading(text).flags)


def amount(fields: dict[str, Any]) -> object:
    """The value, or (low, high) of a range or bound, None where it is open."""
    return fields["value"] if "value" in fields else (fields.get("low"), fields.get("high"))


def measured(text: str, *more: str) -> list[tuple[object, ...]]:
    """(what, amount, further fields ...) of every measurement, sorted."""
    found = [(f["what"], amount(f), *(f.get(name) for name in more)) for f in facts(text, "measurements")]
    return sorted(found, key=str)


def steps(text: str) -> dict[str, str]:
    """Status of each step, in the order told; a step of two statuses shows the last."""
    return {f["code"]: f["status"] for f in facts(text, "steps")}


def side_of(text: str) -> list[str]:
    """Sides of the operated knee that are said, each once."""
    return sorted({f["value"] for f in facts(text, "laterality")})
