from __future__ import annotations

import re
from random import Random

import pytest

from training.breath import FILLERS, MARK, hesitate, pieces

SENTENCE = "The tear of the posterior horn was one hundred and twenty five millimeters from the root."


@pytest.mark.parametrize("seed", range(60))
def test_a_pause_changes_no_word_and_parts_no_number(seed: int) -> None:
    paused = hesitate(SENTENCE, Random(seed), 1.0)
    assert "one hundred and twenty five" in paused
    assert not paused.startswith(MARK)
    assert not paused.endswith(MARK)
    kept = [w for w in paused.split() if w != MARK and w.strip(",") not in FILLERS]
    assert " ".join(kept) == SENTENCE


def test_some_sentences_pause_and_some_do_not() -> None:
    heard = [MARK in hesitate(SENTENCE, Random(seed)) for seed in range(200)]
    assert 20 < sum(heard) < 140


def test_short_sentences_never_pause() -> None:
    assert all(hesitate("Rim three, stable.", Random(seed), 1.0) == "Rim three, stable." for seed in range(20))


def test_pieces_go_on_until_the_last() -> None:
    found = [pieces(f"The rim {MARK} was {MARK} stable.", Random(seed)) for seed in range(40)]
    assert all([re.sub(",", "", p) for p in row] == ["The rim", "was", "stable."] for row in found)
    assert any(row[0].endswith(",") for row in found)
    assert all(row[-1] == "stable." for row in found)
