from __future__ import annotations

from collections.abc import Callable

import pytest

from extractor.checks import CheckConfig, Schedule, run_checks
from extractor.grammar.limits import Limits, load_limits
from extractor.record.models import Flag

from .builders import Note


@pytest.fixture(scope="session")
def limits() -> Limits:
    return load_limits()


@pytest.fixture
def note() -> Note:
    return Note()


@pytest.fixture
def flags_of(limits: Limits) -> Callable[..., dict[str, list[Flag]]]:
    """Flags of a note by check; of one check with `check`."""

    def run(note: Note, schedule: Schedule | None = None, config: CheckConfig | None = None) -> dict[str, list[Flag]]:
        out: dict[str, list[Flag]] = {}
        for flag in run_checks(note.record(), limits, schedule=schedule, config=config).flags:
            out.setdefault(flag.check, []).append(flag)
        return out

    return run
