"""The ear: its sums against all ways of lying in the sound counted out, and what it spells of real speech."""

from __future__ import annotations

import itertools
import math
import subprocess

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from extractor.errors import ModelError
from extractor.speech import ear as ear_module
from extractor.speech.audio import read_whole
from extractor.speech.ear import Ear, align, greedy, log_likelihoods, packaged_ear
from extractor.speech.model import load_model
from extractor.speech.spelling import ALPHABET, codes
from tests.machine import need_command


def _logs(frames: int, seed: int) -> np.ndarray:
    draw = np.random.default_rng(seed)
    raw = draw.normal(0, 2, (frames, 1 + len(ALPHABET)))
    return (raw - np.log(np.exp(raw).sum(1, keepdims=True))).astype(np.float32)


def _read_off(path: tuple[int, ...]) -> list[int]:
    """What a way of signs spells: doubles and blanks left out (Graves et al. 2006, the map B)."""
    return [sign for i, sign in enumerate(path) if sign and (i == 0 or sign != path[i - 1])]


@settings(max_examples=25, deadline=None)
@given(st.integers(2, 5), st.text("ab ", max_size=3), st.integers(0, 99))
def test_a_texts_likelihood_is_the_sum_over_all_ways(frames, text, seed):
    logs = _logs(frames, seed)
    signs = [0, *sorted(set(codes("ab ")))]
    ways = [path for path in itertools.product(signs, repeat=frames) if _read_off(path) == codes(text)]
    total = sum(math.exp(sum(float(logs[t, sign]) for t, sign in enumerate(path))) for path in ways)
    (found,) = log_likelihoods(logs, [text])
    assert math.exp(max(found, -700)) == pytest.approx(total, rel=1e-3, abs=1e-12)


def test_texts_scored_together_are_scored_as_alone():
    logs = _logs(40, 3)
    texts = ["three", "a", "", "thirteen millimeters"]
    alone = [log_likelihoods(logs, [text])[0] for text in texts]
    assert log_likelihoods(logs, texts) == pytest.approx(alone, rel=1e-5)


def test_words_are_found_where_they_lie():
    spoken = "  aab  b  cc "
    logs = np.full((len(spoken), 1 + len(ALPHABET)), -9.0, np.float32)
    for frame, sign in enumerate(spoken):
        logs[frame, 0 if sign == " " else codes(sign)[0]] = -0.01
    logs[9, codes(" ")[0]] = 0.0  # the space between the words
    (first, last), (begins, ends) = align(logs, ["abb", "c"])
    assert (first, last) == (2, 8)
    assert 10 <= begins < ends <= 12


def test_an_ear_that_is_not_the_pinned_one_is_refused(monkeypatch):
    packaged_ear.cache_clear()
    monkeypatch.setattr(ear_module, "SHA256", "0" * 64)
    with pytest.raises(ModelError, match="pinned"):
        packaged_ear()
    packaged_ear.cache_clear()


def test_an_ear_with_a_part_missing_is_refused():
    with pytest.raises(ModelError, match="incomplete"):
        Ear({"into.weight": np.zeros((2, 2), np.float32)})


@pytest.mark.speech
@pytest.mark.parametrize(
    ("said", "other"),
    [
        ("the graft was fourteen millimeters", "the graft was forty millimeters"),
        ("sixty minutes of tourniquet", "sixteen minutes of tourniquet"),
        ("the right knee", "the left knee"),
        ("a green suture below", "a gray suture below"),
    ],
)
def test_real_speech_is_likelier_as_said_than_as_something_like_it(tmp_path, said, other):
    path = tmp_path / "said.wav"
    subprocess.run([need_command("flite"), "-voice", "slt", "-t", f"{said}.", "-o", str(path)], check=True)
    logs = packaged_ear().listen(load_model().states(read_whole(path))[0])
    true, false = log_likelihoods(logs, [said, other])
    assert true > false + 5
    assert greedy(logs).split()[0] == said.split()[0]
