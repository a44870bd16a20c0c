"""Ways to say one thing: short pieces of dictation, each with what it tells, worded by people who knew only the record.

A whole note dilutes the rare wording among the plain; a piece holds little else. Floors stand a little below what was
measured when they were set. The pieces of `pieces_unread` were worked on by nobody: what fails in them is not printed.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript

from .scoring import score

HERE = Path(__file__).parent
SETTING = "Right knee arthroscopy. "


def errors(piece: dict[str, Any]) -> list[str]:
    """What is read wrong of a piece, in the kinds of fact that it is annotated for."""
    note = SETTING + piece["say"]
    absent = dict(piece.get("absent") or {})
    done = absent.pop("not_performed", [])
    gold = {"id": piece["say"], "note": note, "facts": piece.get("facts") or {}, "not_facts": absent}
    gold |= {"optional": piece["optional"]} if "optional" in piece else {}
    record = extract(Transcript(text=note), load_grammar())
    undone = [
        f"{step.code} told as not done" for step in record.steps if step.status != "performed" and step.code in done
    ]
    return [*score([(gold, record)]).errors, *undone]


@cache
def wrong(folder: str, name: str) -> tuple[int, list[str]]:
    """How many pieces a file has, and the errors of those read wrong, one line a piece."""
    pieces = yaml.safe_load((HERE / folder / f"{name}.yaml").read_text(encoding="utf-8"))
    found = [errors(piece) for piece in pieces]
    return len(pieces), ["; ".join(lines) for lines in found if lines]


@pytest.mark.parametrize(("name", "floor"), [("measures", 0.88), ("steps", 0.885), ("sutures", 0.94), ("traps", 0.9)])
def test_pieces_are_read(name: str, floor: float) -> None:
    total, bad = wrong("pieces", name)
    assert total > 40
    assert 1 - len(bad) / total >= floor, "\n".join(bad)


@pytest.mark.parametrize(("name", "floor"), [("steps", 0.74), ("sutures", 0.6), ("traps", 0.43)])
def test_pieces_that_nobody_worked_on(name: str, floor: float) -> None:
    total, bad = wrong("pieces_unread", name)
    assert total > 40
    assert 1 - len(bad) / total >= floor
