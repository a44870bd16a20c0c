"""`extractor review`, `extractor account` and `extractor audit` as they are typed."""

from __future__ import annotations

import contextlib
import os
import re
import signal
import sqlite3
import ssl
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import httpx

from tests.machine import need_command
from tests.review.notes import CLEAN
from tests.review.running import ROOT


def extractor(*words: object, typed: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "extractor", *map(str, words)], input=typed, capture_output=True, text=True, cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )  # fmt: skip


@contextlib.contextmanager
def reviewing(*words: object) -> Iterator[tuple[str, list[str]]]:
    """`extractor review`, running; gives the address to open and the lines printed."""
    process = subprocess.Popen(
        [sys.executable, "-m", "extractor", "review", *map(str, words)], cwd=ROOT, text=True, stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT, env={**os.environ, "PYTHONPATH": str(ROOT)},
    )  # fmt: skip
    assert process.stdout
    lines: list[str] = []
    for line in process.stdout:
        lines.append(line)
        if line.startswith("Cases are kept"):
            break
    try:
        yield next(line.split()[1] for line in lines if line.startswith("Open ")), lines
    finally:
        process.send_signal(signal.SIGINT)
        lines += process.communicate()[0].splitlines(keepends=True)


def test_a_note_given_at_the_start_is_reviewed_and_audited_and_a_broken_link_is_named(tmp_path: Path) -> None:
    store, note = tmp_path / "cases.sqlite", tmp_path / "Wetherby-left.txt"
    note.write_text(CLEAN, encoding="utf-8")
    with reviewing("--store", store, "--port", 0, "--name", "Marlow", note) as (address, lines):
        with httpx.Client(follow_redirects=True, timeout=180) as client:
            page = client.get(address).text
            found = re.search(r"/cases/([0-9a-f]{16})", page)
            assert found and "Marlow, surgeon" in page
        with httpx.Client(follow_redirects=True, timeout=180) as stranger:
            assert stranger.get(address.replace("=", "=x")).url.path == "/enter"
    assert "Wetherby" not in "".join(lines) and "Traceback" not in "".join(lines)
    fine = extractor("audit", found[1], "--store", store)
    assert fine.returncode == 0 and "The trail holds: 2 lines" in fine.stdout
    with sqlite3.connect(store) as database:
        database.execute("drop trigger trail_no_update")
        database.execute("update trail set who = 'somebody' where number = 1")
    broken = extractor("audit", found[1], "--store", store)
    assert broken.returncode == 1 and "BROKEN: line 1 " in broken.stdout
    none = extractor("audit", "0123456789abcdef", "--store", store)
    assert none.returncode == 2 and "no such case" in none.stderr and "Traceback" not in none.stderr


def test_accounts_are_made_changed_and_removed(tmp_path: Path) -> None:
    store = tmp_path / "cases.sqlite"
    made = extractor("account", "Quill", "--role", "researcher", "--store", store, typed="a long enough one\n")
    assert (made.returncode, made.stdout) == (0, "Quill can sign in as researcher.\n")
    assert extractor("account", "Quill", "--store", store, typed="short\n").returncode == 2
    assert extractor("account", "Quill", "--remove", "--store", store).returncode == 0
    gone = extractor("account", "Quill", "--remove", "--store", store)
    assert gone.returncode == 2 and "no account" in gone.stderr


def test_beyond_this_machine_a_browser_signs_in_over_tls(tmp_path: Path) -> None:
    openssl = need_command("openssl")
    store, key, certificate = (tmp_path / name for name in ("cases.sqlite", "site.key", "site.crt"))
    subprocess.run(
        [openssl, "req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:prime256v1", "-nodes", "-days", "2",
         "-subj", "/CN=localhost", "-addext", "subjectAltName=DNS:localhost", "-keyout", key, "-out", certificate],
        check=True, capture_output=True,
    )  # fmt: skip
    way = ("--store", store, "--port", 0, "--host", "0.0.0.0", "--certificate", certificate, "--key", key)
    assert extractor("review", *way).returncode == 2  # nobody has an account
    extractor("account", "Tansy", "--store", store, typed="a long enough one\n")
    with reviewing(*way, "--served-as", "localhost") as (address, _):
        assert "token" not in address
        base = f"https://localhost:{address.rstrip('/').rpartition(':')[2]}"
        trusted = ssl.create_default_context(cafile=str(certificate))
        with httpx.Client(base_url=base, verify=trusted, timeout=180, trust_env=False) as client:
            assert client.get("/", headers={"accept": "text/html"}).headers["location"] == "/enter"
            answer = client.post("/enter", data={"name": "Tansy", "password": "a long enough one"})
            assert "secure" in answer.headers["set-cookie"].lower()
            assert "Tansy, scribe" in client.get("/").text
