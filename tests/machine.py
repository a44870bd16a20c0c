"""What a test needs of the machine: where it is missing, continuous integration fails and others skip, saying why."""

from __future__ import annotations

import os
import shutil
from typing import NoReturn

import pytest


def missing(what: str) -> NoReturn:
    """Say what is not on this machine."""
    if os.environ.get("CI"):
        pytest.fail(f"{what} is not on this machine; the continuous run must install it")
    pytest.skip(f"{what} is not on this machine; install it to run this test")


def need_command(name: str) -> str:
    """The path of a command that `make system` installs."""
    found = shutil.which(name)
    return found if found else missing(f"{name} (Debian: {name})")
