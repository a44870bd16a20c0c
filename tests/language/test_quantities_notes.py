"""Every measured value of the annotated notes beside the repository is among the quantities read."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from extractor.grammar.packs import load_grammar
from extractor.language.annotate import annotate
from extractor.language.quantities import Quantity, read_quantities
from extractor.language.tokens import tokenize

SHARED = Path(__file__).resolve().parents[3] / "shared"
NOTES = [f"gold/d{n:02}" for n in range(1, 21)] + [f"gold-checks/c{n:02}" for n in range(1, 13)]
NOTES += [f"real-notes/r{n:02}" for n in range(1, 12, 2)]


def note(name: str) -> dict[str, Any]:
    path = SHARED / f"{name}.yaml"
    if not path.is_file():
        pytest.skip(f"the annotated notes are not beside this checkout ({path.name} not found)")
    loaded: dict[str, Any] = yaml.safe_load(path.read_text(encoding="utf-8"))
    return loaded


def holds(quantity: Quantity, fact: dict[str, Any]) -> bool:
    """Whether a quantity can be what a fact was read from; a bare number may yet be given the unit."""
    if quantity.kind != "quantity" or quantity.unit not in (None, fact.get("unit")):
        return False
    if set(fact.get("earlier_values", ())) - set(quantity.earlier):
        return False
    if fact.get("approximate", False) and not quantity.approximate:
        return False
    if "value" in fact:
        return fact["value"] in (quantity.value, quantity.low, quantity.high)
    return (quantity.low, quantity.high) == (fact.get("low"), fact.get("high"))


@pytest.mark.parametrize("name", NOTES)
def test_measured_values_are_read(name: str) -> None:
    gold = note(name)
    quantities = annotate(gold["note"], load_grammar()).quantities
    facts = gold["facts"].get("measurements", []) + [f for f in gold["facts"].get("plan") or [] if "unit" in f]
    assert [f for f in facts if not any(holds(q, f) for q in quantities)] == []


@pytest.mark.parametrize("path", sorted((SHARED / "real-notes" / "other").glob("*.txt")), ids=lambda p: p.stem)
def test_other_reports_read_without_harm(path: Path) -> None:
    words = tokenize(path.read_text(encoding="utf-8")).words
    assert all(0 <= q.start < q.end <= len(words) for q in read_quantities(words))
