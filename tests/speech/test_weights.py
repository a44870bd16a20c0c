from __future__ import annotations

import pytest

from extractor.errors import ModelError
from extractor.speech import weights
from extractor.speech.model import load_model


@pytest.fixture(scope="module")
def blob() -> bytearray:
    return weights.packaged_weights()


def test_one_changed_byte_is_refused(blob: bytearray) -> None:
    changed = bytearray(blob)
    changed[-1] ^= 1
    with pytest.raises(ModelError, match="not the pinned ones"):
        weights.verify(changed)


def test_a_missing_package_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(weights, "PARTS", (("no_such_weights_package", "model.bin.part1"),))
    with pytest.raises(ModelError, match="missing.*no_such_weights_package.*make setup"):
        weights.packaged_weights()


def test_the_layout_accounts_for_every_byte(blob: bytearray) -> None:
    tensors = list(weights.find_tensors(blob).values())
    for tensor, following in zip(tensors, tensors[1:], strict=False):
        end = tensor.offset + weights.view(blob, tensor).nbytes
        assert end < following.offset < end + 200  # between them lie only the next one's name, shape and type
    # Whisper base has 6 encoder and 6 decoder layers of width 512 (Radford et al. 2022, arXiv 2212.04356, table 1).
    named = weights.find_tensors(blob)
    assert named["decoder/embeddings/weight"].shape[1] == 512
    assert {name.split("/")[1] for name in named if name.startswith("encoder/layer_") and name[14].isdigit()} == {
        f"layer_{n}" for n in range(6)
    }


@pytest.mark.parametrize("kept", [0, 3, 100, 5_000])
def test_a_cut_off_file_is_refused(blob: bytearray, kept: int) -> None:
    with pytest.raises(ModelError, match="breaks off"):
        weights.find_tensors(blob[:kept])


def test_another_version_is_refused(blob: bytearray) -> None:
    with pytest.raises(ModelError, match="version 9"):
        weights.find_tensors(b"\x09\x00\x00\x00" + bytes(blob[4:2000]))


def test_a_folder_that_is_no_whole_model_is_refused(tmp_path: object) -> None:
    with pytest.raises(ModelError, match="has no model.bin"):
        load_model(str(tmp_path))


def test_a_folder_that_is_not_there_is_refused() -> None:
    with pytest.raises(ModelError, match="no model folder"):
        load_model("./no/such/folder")
