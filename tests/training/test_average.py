from __future__ import annotations

import numpy as np

from training.average import average, cut


def test_a_cut_to_the_full_rank_loses_nothing() -> None:
    draw = np.random.default_rng(1)
    a, b = draw.normal(size=(4, 9)), draw.normal(size=(7, 4))
    small_a, small_b = cut(a, b, 4)
    assert np.allclose(small_b @ small_a, b @ a)


def test_a_cut_keeps_what_is_largest() -> None:
    a, b = np.diag([1.0, 1.0, 1.0]), np.diag([5.0, 0.1, 3.0])
    small_a, small_b = cut(a, b, 2)
    assert small_a.shape == (2, 3)
    assert np.allclose(small_b @ small_a, np.diag([5.0, 0.0, 3.0]))


def test_encoder_and_decoder_have_shares_of_their_own() -> None:
    draw = np.random.default_rng(2)
    names = ("decoder/x/weight", "encoder/x/weight")
    runs = [{name: (draw.normal(size=(2, 6)), draw.normal(size=(5, 2))) for name in names} for _ in range(2)]
    found = average([(runs[0], 0.25, 0.5), (runs[1], 1.0, 0.0)], rank=4, encoder_rank=4)
    whole = {name: [b @ a for a, b in (run[name] for run in runs)] for name in names}
    for name, shares in (("decoder/x/weight", (0.5, 0.0)), ("encoder/x/weight", (0.25, 1.0))):
        a, b = found[name]
        assert np.allclose(b @ a, shares[0] * whole[name][0] + shares[1] * whole[name][1])
