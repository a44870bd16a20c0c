"""Running a review page, a browser and a database for the tests."""

from __future__ import annotations

import os
import pwd
import re
import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import httpx

from tests.machine import missing

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
CHROMIUM = shutil.which("chromium")
FLAGS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@dataclass
class Page:
    """A running review page; `kill` ends it as a power cut would, `start` runs it again on the same store.

    The file `says`, once written, holds the words that the fake recognizer hears from then on.
    """

    store: str
    port: int
    fake: bool = True
    process: subprocess.Popen[str] | None = None
    door: str = ""
    printed: str = ""
    says: Path | None = None

    @property
    def base(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    @property
    def token(self) -> str:
        return self.door.rpartition("=")[2]

    def start(self, *files: Path) -> None:
        command = [sys.executable, str(HERE / "server.py"), self.store, str(self.port), "fake" if self.fake else "real"]
        self.process = subprocess.Popen(
            [*command, *map(str, files)], cwd=ROOT, text=True, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
            env={**os.environ, "PYTHONPATH": str(ROOT), "REVIEW_FAKE_SAYS": str(self.says or "")},
        )  # fmt: skip
        assert self.process.stdout
        for line in self.process.stdout:
            self.printed += line
            if line.startswith("Open "):
                self.door = line.split()[1]
                break
        else:
            raise AssertionError(f"the page did not start: {self.printed}")

    def kill(self) -> None:
        assert self.process
        self.process.send_signal(signal.SIGKILL)
        self.process.communicate()

    def stop(self) -> str:
        assert self.process
        self.process.terminate()
        return self.process.communicate(timeout=180)[0]

    def program(self) -> httpx.Client:
        """A program's client, let in by the launch token."""
        return httpx.Client(base_url=self.base, headers={"authorization": f"Bearer {self.token}"}, timeout=180)


def add_text(program: httpx.Client, text: str, name: str = "note.txt") -> str:
    answer = program.post("/api/cases", files={"file": (name, text.encode(), "text/plain")})
    assert answer.status_code == 201, answer.text
    return str(answer.json()["case"])


def wait_for(what: Any, seconds: float = 300.0) -> Any:
    """Ask until the answer is true. Gives up loudly; no test passes or fails by how long it took."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        if found := what():
            return found
        time.sleep(0.1)
    raise AssertionError(f"never came true: {what}")


@contextmanager
def postgres() -> Iterator[str]:
    """A PostgreSQL server of our own, in a folder of its own; gives its URL."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    initdb = str(found[-1]) if found else shutil.which("initdb")
    if not initdb:
        missing("PostgreSQL (Debian: postgresql)")
    bin_folder, folder = Path(str(initdb)).parent, Path(tempfile.mkdtemp(prefix="review-pg-"))
    as_user: list[str] = []
    if os.geteuid() == 0:  # the server refuses to run as root
        user = pwd.getpwnam("postgres")
        os.chown(folder, user.pw_uid, user.pw_gid)
        as_user = ["runuser", "-u", "postgres", "--"]
    data, port = folder / "data", free_port()

    def run(*command: str) -> None:
        subprocess.run([*as_user, *command], check=True, cwd="/", stdout=subprocess.DEVNULL, stderr=subprocess.STDOUT)

    run(str(bin_folder / "initdb"), "-D", str(data), "-U", "tester", "--auth=trust", "-E", "UTF8", "--no-sync")
    options = f"-p {port} -k {folder} -c listen_addresses=127.0.0.1 -c fsync=off"
    run(str(bin_folder / "pg_ctl"), "-D", str(data), "-o", options, "-w", "-l", str(folder / "log"), "start")
    try:
        yield f"postgresql://tester@127.0.0.1:{port}/postgres"
    finally:
        run(str(bin_folder / "pg_ctl"), "-D", str(data), "-m", "immediate", "stop")
        shutil.rmtree(folder, ignore_errors=True)


def need_chromium() -> str:
    if CHROMIUM is None:
        missing("Chromium (Debian: chromium)")
    return str(CHROMIUM)


def case_in(url: str) -> str:
    found = re.search(r"/cases/([0-9a-f]{16})", url)
    assert found, url
    return found[1]
