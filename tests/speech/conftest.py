from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import av
import numpy as np
import pytest
from numpy.typing import NDArray

from extractor.speech.model import SpeechModel, load_model

DEMO = Path(__file__).resolve().parents[2] / "audio_demo"
RATE = 16_000


@pytest.fixture(scope="session")
def model() -> SpeechModel:
    return load_model()


@pytest.fixture(scope="session")
def demo() -> Path:
    return DEMO


@pytest.fixture
def write_sound(tmp_path: Path) -> Callable[..., Path]:
    """Write samples (channels x samples, -1 to 1) as a file; the ending and codec say the form."""

    def write(name: str, samples: NDArray[np.floating], rate: int = RATE, codec: str = "pcm_s16le") -> Path:
        whole = np.atleast_2d(np.asarray(samples, np.float64))
        layout = "mono" if len(whole) == 1 else "stereo"
        path = tmp_path / name
        with av.open(str(path), "w") as container:
            stream = container.add_stream(codec, rate=rate, layout=layout)
            for start in range(0, whole.shape[1], 1024):
                part = (whole[:, start : start + 1024] * 32767).astype("<i2")
                frame = av.AudioFrame.from_ndarray(part.T.reshape(1, -1).copy(), format="s16", layout=layout)
                frame.sample_rate, frame.pts = rate, start
                container.mux(stream.encode(frame))
            container.mux(stream.encode(None))
        return path

    return write
