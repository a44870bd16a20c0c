"""Codes and values in plain words."""

from __future__ import annotations

import pytest

from extractor.outputs.wording import clock, plain, plan_words, quoted
from extractor.record.facts import Evidence, PlanItem
from extractor.record.vocabulary import DEVICES, FINDINGS, PLAN_ITEMS, PROCEDURES, STEPS, STRUCTURES

SAID = (Evidence(start=0, end=1, text="x", rule="r"),)


@pytest.mark.parametrize("code", [*STRUCTURES, *PROCEDURES, *STEPS, *FINDINGS, *DEVICES, *PLAN_ITEMS])
def test_no_code_shows_its_signs(code: str) -> None:
    words = plain(code)
    assert not set(words) & set("-_.") and words.replace(" ", "").lower() == code.replace("-", "").lower()


@pytest.mark.parametrize(
    ("seconds", "shown"), [(0.0, "0:00"), (59.99, "0:59"), (61.2, "1:01"), (3599.0, "59:59"), (3661.0, "1:01:01")]
)
def test_clock(seconds: float, shown: str) -> None:
    assert clock(seconds) == shown


@pytest.mark.parametrize(
    ("fields", "shown"),
    [
        ({"value": 1.0, "unit": "wk"}, "1 week"),
        ({"value": 6.0, "unit": "wk"}, "6 weeks"),
        ({"low": 0.0, "high": 90.0, "unit": "deg"}, "0 to 90 degrees"),
        ({"high": 90.0, "unit": "deg"}, "at most 90 degrees"),
        ({"value": "toe-touch"}, "toe touch"),
    ],
)
def test_plan(fields: dict[str, object], shown: str) -> None:
    item = PlanItem.model_validate({"id": "p", "item": "follow-up", "evidence": SAID, **fields})
    assert plan_words(item) == ("follow up", shown)


def test_a_quotation_is_cut_at_a_word() -> None:
    assert quoted("one two\n three", 40) == '"one two three"'
    cut = quoted("alpha beta gamma delta epsilon", 20)
    assert cut == '"alpha beta gamma ..."'
