from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from extractor.cli import main

FINE = (
    "Right knee arthroscopy. There was a radial tear of the lateral meniscus, twelve millimeters long. "
    "The tear was rasped. Three all-inside stitches were placed in the lateral meniscus, five millimeters apart. "
    "Tourniquet time was forty minutes."
)
"""A note with nothing that must be settled."""
TWO_SIDES = (
    "Left knee arthroscopy. The medial meniscus of the right knee was repaired with two all-inside stitches today."
)
"""A note that says both sides of the operated knee."""


@dataclass(frozen=True)
class Ran:
    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        return json.loads(self.out)


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Callable[..., Ran]:
    """Run a command in this process."""
    monkeypatch.setenv("COLUMNS", "80")

    def call(*args: object) -> Ran:
        capsys.readouterr()
        code = main([str(a) for a in args])
        captured = capsys.readouterr()
        return Ran(code, captured.out, captured.err)

    return call


@pytest.fixture
def fine(tmp_path: Path) -> Path:
    path = tmp_path / "fine.txt"
    path.write_text(FINE, encoding="utf-8")
    return path


@pytest.fixture
def two_sides(tmp_path: Path) -> Path:
    path = tmp_path / "two-sides.txt"
    path.write_text(TWO_SIDES, encoding="utf-8")
    return path
