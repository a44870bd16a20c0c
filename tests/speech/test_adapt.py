from __future__ import annotations

import io

import numpy as np
import pytest

from extractor.errors import ModelError
from extractor.speech import adapt
from extractor.speech.weights import find_tensors, packaged_weights, verify, view


@pytest.fixture(scope="module")
def deltas() -> dict[str, adapt.Factors]:
    return adapt.read_deltas(adapt.packaged_deltas())


def test_the_file_is_small() -> None:
    assert len(adapt.packaged_deltas()) <= 10_000_000


def test_one_changed_byte_is_refused() -> None:
    data = bytearray(adapt.packaged_deltas())
    data[len(data) // 2] ^= 1
    with pytest.raises(ModelError, match="SHA-256 differs"):
        adapt.verify(bytes(data))


@pytest.mark.parametrize("data", [b"", b"PK\x03\x04", b"no archive at all"])
def test_what_is_no_archive_is_refused_in_one_sentence(data: bytes) -> None:
    with pytest.raises(ModelError, match="damaged"):
        adapt.read_deltas(data)


@pytest.mark.parametrize("names", [["x|A"], ["x|A", "x|B", "y|B"], ["z"]])
def test_a_factor_without_its_partner_is_refused(names: list[str]) -> None:
    file = io.BytesIO()
    np.savez(file, **{name: np.zeros((2, 2), np.float16) for name in names})
    with pytest.raises(ModelError):
        adapt.read_deltas(file.getvalue())


def test_a_factor_in_bytes_is_what_its_scales_make_of_it() -> None:
    draw = np.random.default_rng(0)
    a, b = draw.normal(size=(3, 8)), draw.normal(size=(5, 3))
    file = io.BytesIO()
    arrays: dict[str, np.ndarray] = {}
    for side, matrix, ranks in (("A", a, a), ("B", b, b.T)):
        scales = (np.abs(ranks).max(1) / 127).astype(np.float16)
        whole = np.rint(ranks / scales[:, None].astype(float)).astype(np.int8)
        arrays |= {f"x|{side}": whole if matrix is ranks else whole.T, f"x|{side}|scales": scales}
    np.savez(file, **arrays)
    (read,) = adapt.read_deltas(file.getvalue()).values()
    for found, wanted in zip(read, (a, b), strict=True):
        np.testing.assert_allclose(found, wanted, atol=np.abs(wanted).max() / 127)


def test_weights_move_by_the_product_of_the_factors_and_others_stay(deltas: dict[str, adapt.Factors]) -> None:
    plain = packaged_weights()
    before = bytes(plain)
    adapt.adapt(plain)
    tensors = find_tensors(before)
    assert set(deltas) < set(tensors)
    for name, tensor in tensors.items():
        if not tensor.shape:
            continue
        old, new = view(before, tensor), view(plain, tensor)
        if name not in deltas:
            assert np.array_equal(old, new), name
            continue
        a, b = (factor.astype(np.float64) for factor in deltas[name])
        wanted = old.astype(np.float64) + b @ a
        # Half precision keeps 11 bits (IEEE 754-2019, binary16): half a unit in the last place is 2**-11 of the value.
        np.testing.assert_allclose(new.astype(np.float64), wanted, rtol=2**-10, atol=2**-15, err_msg=name)
        assert not np.array_equal(old, new), name


def test_what_is_adapted_is_no_longer_taken_for_the_pinned_weights() -> None:
    weights = packaged_weights()
    adapt.adapt(weights)
    with pytest.raises(ModelError):
        verify(weights)


def test_deltas_are_added_to_no_other_model(deltas: dict[str, adapt.Factors]) -> None:
    weights = packaged_weights()
    name = sorted(deltas)[0].encode()
    weights[weights.index(name)] ^= 1  # a model whose weights have other names
    with pytest.raises(ModelError, match="does not fit this model"):
        adapt.adapt(weights)
