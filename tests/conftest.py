"""What all tests share: the shipped grammar, and the annotated notes beside the checkout."""

from __future__ import annotations

from pathlib import Path

import pytest

from extractor.grammar.packs import Grammar, load_grammar

BESIDE = Path(__file__).resolve().parents[2] / "shared"


@pytest.fixture(scope="session")
def grammar() -> Grammar:
    return load_grammar()


@pytest.fixture(scope="session")
def shared() -> Path:
    """The folder of annotated and real notes, which is no part of the repository; skips where it is absent."""
    if not (BESIDE / "gold").is_dir():
        pytest.skip("the annotated notes (../shared) are not beside this checkout")
    return BESIDE
