"""The guard and the machine side, over real HTTP."""

from __future__ import annotations

import asyncio
import re
import socket
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import httpx
import pytest
from fastapi.routing import APIRoute

from extractor.errors import InputError
from extractor.record import record_of
from extractor.review.command import Door, account, is_loopback, make_site, serve
from extractor.review.store.connect import open_store
from extractor.review.web.app import ROUTERS
from extractor.review.web.guard import Guard
from extractor.speech.transcript import Transcript
from tests.review.notes import CLEAN, FLAGGED
from tests.review.running import Page, add_text, free_port


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Page]:
    folder = tmp_path_factory.mktemp("web")
    account("Quill", "researcher", "a long enough one", store=str(folder / "cases.sqlite"))
    page = Page(str(folder / "cases.sqlite"), free_port())
    page.start()
    yield page
    page.kill()


@contextmanager
def enter(page: Page) -> Iterator[tuple[httpx.Client, str]]:
    with httpx.Client(base_url=page.base, follow_redirects=True, timeout=180) as client:
        html = client.get(page.door.removeprefix(page.base)).text
        found = re.search(r'name="csrf" content="([^"]+)"', html)
        assert found
        yield client, found[1]


def test_nobody_gets_in_without_the_token_or_an_account(running: Page) -> None:
    with httpx.Client(base_url=running.base) as client:
        for path in ("/", "/cases/0123456789abcdef", "/dictate"):
            answer = client.get(path, headers={"accept": "text/html"})
            assert (answer.status_code, answer.headers["location"]) == (303, "/enter")
        assert client.get("/api/cases/0123456789abcdef").status_code == 401
        assert client.get("/enter?token=guessed").status_code == 200 and not client.cookies
        assert client.post("/enter", data={"name": "Quill", "password": "wrong"}).status_code == 403
        assert client.get("/api/cases/0123456789abcdef", headers={"authorization": "Bearer x"}).status_code == 401


def test_the_session_cookie_is_kept_from_scripts_and_other_sites(running: Page) -> None:
    with httpx.Client(base_url=running.base) as client:
        cookie = client.get(running.door.removeprefix(running.base)).headers["set-cookie"].lower()
    assert "httponly" in cookie and "samesite=strict" in cookie


def test_every_answer_carries_the_policy_and_no_page_has_script_or_style_of_its_own(running: Page) -> None:
    with enter(running) as (client, _), running.program() as program:
        case = add_text(program, FLAGGED)
        for path in ("/", f"/cases/{case}", "/dictate", f"/cases/{case}/history", "/static/case.js", "/nowhere"):
            answer = client.get(path, headers={"accept": "text/html"})
            policy = answer.headers["content-security-policy"]
            assert "default-src 'none'" in policy and "unsafe" not in policy and "script-src 'self'" in policy
            assert answer.headers["x-content-type-options"] == "nosniff"
            if path.startswith("/static"):
                continue
            assert not re.search(r"<script(?![^>]*\bsrc=)|\sstyle=|\son\w+=|<style", answer.text), path
            assert not re.search(r"""(?:src|href)=["'](?:https?:)?//""", answer.text), path


def test_a_change_needs_the_pages_own_token_origin_and_host(running: Page) -> None:
    with enter(running) as (client, csrf), running.program() as program:
        case = add_text(program, CLEAN)
        body = {"version": 1, "act": {"do": "accept", "fact": "side"}}
        url = f"/cases/{case}/acts"
        assert client.post(url, json=body).status_code == 403
        assert client.post(url, json=body, headers={"x-csrf": "guess"}).status_code == 403
        foreign = {"x-csrf": csrf, "origin": "http://evil.example"}
        assert client.post(url, json=body, headers=foreign).status_code == 403
        assert client.get("/", headers={"host": "evil.example"}).status_code == 421
        assert program.get(f"/api/cases/{case}").json()["version"] == 1
        assert client.post(url, json=body, headers={"x-csrf": csrf}).status_code == 200


def test_a_researcher_reads_and_cannot_change(running: Page) -> None:
    with running.program() as program, httpx.Client(base_url=running.base, follow_redirects=True) as client:
        case = add_text(program, CLEAN)
        html = client.post("/enter", data={"name": "Quill", "password": "a long enough one"}).text
        csrf = re.search(r'name="csrf" content="([^"]+)"', html)
        assert csrf and "What waits" in html
        assert "Accept" not in client.get(f"/cases/{case}").text
        body = {"version": 1, "act": {"do": "accept", "fact": "side"}}
        assert client.post(f"/cases/{case}/acts", json=body, headers={"x-csrf": csrf[1]}).status_code == 403
        assert client.post("/dictations", json={}, headers={"x-csrf": csrf[1]}).status_code == 403


def test_every_route_that_changes_something_refuses_a_researcher_and_a_stranger(running: Page) -> None:
    """New routes are found by themselves: whatever is not a page to read or one of these questions must refuse."""
    asks_only = {"/list", "/judge", "/cases/{case_id}/adding", "/api/find", "/enter", "/leave"}
    routes = [route for router in ROUTERS for route in router.routes if isinstance(route, APIRoute)]
    writing = [(m, r.path) for r in routes for m in r.methods if m != "GET" and r.path not in asks_only]
    assert len(writing) >= 7
    with running.program() as program:
        case = add_text(program, CLEAN)
    with httpx.Client(base_url=running.base, follow_redirects=True) as client:
        html = client.post("/enter", data={"name": "Quill", "password": "a long enough one"}).text
        csrf = re.search(r'name="csrf" content="([^"]+)"', html)
        assert csrf
        assert client.get("/dictate").status_code == 403
        for method, path in writing:
            url = path.format(case_id=case, recording="0123456789abcdef", number=0)
            body: dict[str, Any] = {"json": {"version": 1, "act": {"do": "accept", "fact": "side"}}}
            if path in ("/cases", "/api/cases"):
                body = {"files": {"files" if path == "/cases" else "file": ("a.txt", b"Left knee.")}}
            assert client.request(method, url, headers={"x-csrf": csrf[1]}, **body).status_code == 403, url
            assert httpx.request(method, running.base + url, **body).status_code == 401, url


def test_a_stranger_s_upload_is_refused_before_any_of_it_is_taken(running: Page) -> None:
    head = f"POST /cases HTTP/1.1\r\nHost: 127.0.0.1:{running.port}\r\nContent-Length: 99999999\r\n"
    with socket.create_connection(("127.0.0.1", running.port), timeout=180) as line:
        line.sendall(f"{head}Content-Type: multipart/form-data; boundary=b\r\n\r\n--b\r\n".encode())
        assert line.recv(64).startswith(b"HTTP/1.1 401 ")  # answered though the body never comes


def test_signing_in_ends_the_browser_s_session_before_and_leaving_needs_the_page(running: Page) -> None:
    with enter(running) as (client, csrf):
        before = client.cookies["extractor_session"]
        client.get(running.door.removeprefix(running.base))
        assert client.cookies["extractor_session"] != before
        stale = httpx.get(running.base, cookies={"extractor_session": before})
        assert stale.status_code == 401 or stale.headers["location"] == "/enter"
        assert client.post("/leave").status_code == 403
        assert client.post("/leave", headers={"x-csrf": csrf}).status_code == 403  # of the session before
        assert client.get("/api/cases/0123456789abcdef").status_code == 404


def test_a_fault_is_logged_without_its_words(caplog: pytest.LogCaptureFixture, tmp_path: Path) -> None:
    store = open_store(str(tmp_path / "cases.sqlite"))
    site = make_site(store, 1, Door(), recognizer=lambda path: Transcript(text=""))

    async def faulty(scope: Any, receive: Any, send: Any) -> None:
        raise ValueError("Wetherby, left knee")

    async def ask() -> httpx.Response:
        transport = httpx.ASGITransport(app=Guard(faulty, site))
        async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1:1") as client:
            return await client.get("/")

    with ThreadPoolExecutor(1) as pool:  # a loop of its own, whatever runs in this thread
        answer = pool.submit(asyncio.run, ask()).result()
    store.close()
    assert answer.status_code == 500 and "Wetherby" not in answer.text
    assert "ValueError" in caplog.text and "Wetherby" not in caplog.text


def test_bodies_over_the_limit_are_refused_whether_their_length_is_told_or_not(running: Page) -> None:
    with enter(running) as (client, csrf):
        big = b"x" * (17 << 20)
        url, headers = "/dictations/0123456789abcdef/pieces/0", {"x-csrf": csrf}
        assert client.put(url, content=big, headers=headers).status_code == 413
        try:
            answer = client.put(url, content=(big[i : i + 65536] for i in range(0, len(big), 65536)), headers=headers)
            assert answer.status_code == 413
        except httpx.WriteError:
            pass  # the page closed the line before all was sent: refused as well


@pytest.mark.parametrize(
    ("name", "data", "told"),
    [
        ("x.exe", b"MZ", "neither sound nor plain text"),
        ("x.txt", b"\xff\xfe\x00a", "not UTF-8"),
        ("x.txt", b"   ", "empty"),
        ("x.txt", b"a\0b", "no note as text"),
    ],
)
def test_files_that_are_no_notes_are_refused_in_a_sentence(running: Page, name: str, data: bytes, told: str) -> None:
    with running.program() as program:
        answer = program.post("/api/cases", files={"file": (name, data)})
        assert answer.status_code == 400 and told in answer.json()["error"]


def test_paths_are_never_made_of_names(running: Page) -> None:
    with running.program() as program:
        case = add_text(program, CLEAN, name="../../../../tmp/escaped.txt")
        kept = Path(running.store).parent
        assert not any("escaped" in p.name for p in kept.rglob("*"))
        state = program.get(f"/api/cases/{case}").json()
        assert state["state"] == "new"
        for path in (
            "/static/../command.py",
            "/static/%2e%2e/command.py",
            f"/cases/{case}/sound/..%2f..%2fcases.sqlite",
        ):
            assert program.get(path).status_code in (400, 404, 422)


def test_one_error_shape(running: Page) -> None:
    with running.program() as program:
        answers = [
            program.get("/api/cases/nothing"),
            program.get("/api/nowhere"),
            program.post("/api/find", json={"page": -1}),
            program.post("/api/find", content=b"{", headers={"content-type": "application/json"}),
            program.delete("/api/find"),
            program.post("/api/cases"),
        ]
    for answer in answers:
        assert 400 <= answer.status_code < 500
        assert list(answer.json()) == ["error"] and answer.json()["error"].endswith(".")


def test_the_machine_side_is_described_and_does_what_it_says(running: Page) -> None:
    with running.program() as program:
        paths = program.get("/openapi.json").json()["paths"]
        assert set(paths) == {
            "/api/find", "/api/cases", "/api/cases/{case_id}", "/api/cases/{case_id}/record",
            "/api/cases/{case_id}/acts", "/api/cases/{case_id}/trail",
        }  # fmt: skip
        case = add_text(program, FLAGGED)
        state = program.get(f"/api/cases/{case}").json()
        stop = next(f["id"] for f in state["record"]["flags"] if f["severity"] == "stop")
        step = {"version": 1, "act": {"do": "answer", "flag": stop, "choice": 2}}
        assert program.post(f"/api/cases/{case}/acts", json=step).json()["stops"] == 0
        conflict = program.post(f"/api/cases/{case}/acts", json=step)
        assert (conflict.status_code, conflict.json()["version"]) == (409, 2)
        record = record_of(program.get(f"/api/cases/{case}/record").json(), "answer")
        assert record.case_id == case
        trail = program.get(f"/api/cases/{case}/trail").json()
        assert [line["act"] for line in trail["lines"]] == ["open", "read", "answer"] and trail["broken"] is None
        found = program.post("/api/find", json={"query": "right transplant"}).json()
        assert case in [c["id"] for c in found["cases"]]


def test_no_patient_data_in_addresses_or_in_what_is_printed(running: Page, tmp_path: Path) -> None:
    page = Page(str(tmp_path / "cases.sqlite"), free_port())
    page.start()
    with enter(page) as (client, csrf), page.program() as program:
        case = add_text(program, CLEAN, name="Doe-Jane.txt")
        client.get(f"/cases/{case}")
        client.post("/list", json={"query": "radial"}, headers={"x-csrf": csrf})
        program.post(f"/api/cases/{case}/acts", json={"version": 1, "act": {"do": "change", "fact": "nothing"}})
        html = client.get("/").text + client.get(f"/cases/{case}").text
    printed = page.printed + page.stop()
    for word in ("Doe", "radial", "left", "tear"):
        assert word not in printed
        assert not re.search(rf'(?:href|src|action)="[^"]*{word}', html)


def test_beyond_loopback_accounts_and_tls_are_needed(tmp_path: Path) -> None:
    store = str(tmp_path / "cases.sqlite")
    with pytest.raises(InputError, match="no account yet"):
        serve(say=print, store=store, door=Door(host="0.0.0.0", port=0))
    account("Marlow", "surgeon", "a long enough one", store=store)
    with pytest.raises(InputError, match="certificate"):
        serve(say=print, store=store, door=Door(host="0.0.0.0", port=0))
    with pytest.raises(InputError, match="cannot be used"):
        serve(say=print, store=store, door=Door(host="0.0.0.0", port=0, certificate=tmp_path / "none.crt"))
    with pytest.raises(InputError, match="goes with a certificate"):
        serve(say=print, store=store, door=Door(port=0, key=tmp_path / "none.key"))
    with pytest.raises(Exception, match="10 characters"):
        account("Marlow", "surgeon", "short", store=store)
    names = {"127.0.0.1": True, "::1": True, "localhost": True, "0.0.0.0": False, "::": False, "10.0.0.1": False}
    assert {host: is_loopback(host) for host in names} == names


def test_what_cannot_be_started_is_told_in_a_sentence(tmp_path: Path, running: Page) -> None:
    store = str(tmp_path / "cases.sqlite")
    with pytest.raises(InputError, match="cannot be had"):
        serve(say=print, store=store, door=Door(port=running.port))
    with pytest.raises(InputError, match="no such folder to watch"):
        serve(say=print, store=store, watch=tmp_path / "nowhere")
    with pytest.raises(InputError, match="cannot be read"):
        serve([tmp_path / "none.txt"], say=print, store=store, door=Door(port=0))
