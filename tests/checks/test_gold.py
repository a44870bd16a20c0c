"""The planted flags of the annotated notes are raised, and what must not be raised is not."""

from __future__ import annotations

import pytest

from extractor.checks import run_checks
from extractor.grammar.limits import Limits, load_limits

from .gold import NAMES, read_gold, record_of_gold

NEEDS_READING = {"number-uncertain", "term-uncertain", "unread-number"}


@pytest.fixture(scope="module")
def limits() -> Limits:
    return load_limits()


@pytest.mark.parametrize("name", NAMES)
def test_flags_of_annotated_note(name: str, limits: Limits) -> None:
    gold = read_gold(name)
    flags = run_checks(record_of_gold(gold), limits).flags
    loud = {flag.check for flag in flags if flag.severity != "note"}
    planted = set(gold.get("flags") or []) - NEEDS_READING
    assert planted <= {flag.check for flag in flags}
    assert not loud & set(gold.get("no_flags") or [])
    assert loud <= planted, "a loud flag that nobody planted"
