"""Each check, on what surgeons say: it is raised on every wording of its inconsistency, and silent on near misses."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.speech.transcript import Transcript

SAID = yaml.safe_load(Path(__file__).with_name("said.yaml").read_text(encoding="utf-8"))


def said(kind: str) -> Iterator[tuple[str, str]]:
    return ((check, text) for check, kinds in SAID.items() for text in kinds[kind])


def loud(text: str) -> set[str]:
    return {flag.check for flag in extract(Transcript(text=text), load_grammar()).flags if flag.severity != "note"}


@pytest.mark.parametrize(("check", "text"), list(said("raise")))
def test_it_is_raised(check: str, text: str) -> None:
    assert check in loud(text)


@pytest.mark.parametrize(("check", "text"), list(said("silent")))
def test_it_is_not_raised_on_a_near_miss(check: str, text: str) -> None:
    assert check not in loud(text)
