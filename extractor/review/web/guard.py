"""The guard before every request: known host, own origin, limited size; and the headers every answer carries."""

from __future__ import annotations

import json
import logging
import traceback
from collections.abc import MutableMapping
from pathlib import Path
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect, HTTPConnection
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from extractor.review.web.site import Site, session_on

log = logging.getLogger("extractor.review")

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; media-src 'self'; "
    "connect-src 'self'; form-action 'self'; frame-ancestors 'none'; base-uri 'none'"
)
HEADERS = (
    (b"content-security-policy", POLICY.encode()),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"same-origin"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"microphone=(self), camera=(), geolocation=()"),
)
SAFE = ("GET", "HEAD", "OPTIONS")


class TooLarge(HTTPException):
    """A body went over its limit while it came."""

    def __init__(self) -> None:
        """Say so."""
        super().__init__(413, "That is larger than this page takes.")


class Guard:
    """Plain ASGI, so that answers stream and nothing is held back."""

    def __init__(self, app: ASGIApp, site: Site) -> None:
        """Stand before `app`."""
        self.app, self.site = app, site

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or answer it here."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = {name.decode("latin-1"): value.decode("latin-1") for name, value in scope["headers"]}
        refused = self._refuse(scope, headers)
        if refused is None and self._is_upload(scope) and not await self._is_known(scope):
            refused = 401, "Sign in first."  # before a byte of a large body is kept
        if refused:
            await _answer(send, *refused)
        else:
            await self._let_through(scope, receive, send)

    async def _let_through(self, scope: Scope, receive: Receive, send: Send) -> None:
        limit = self._limit(scope)
        started = False

        async def counted() -> Message:
            nonlocal limit
            message = await receive()
            limit -= len(message.get("body", b""))
            if limit < 0:
                raise TooLarge
            return message

        async def with_headers(message: Message) -> None:
            nonlocal started
            if message["type"] == "http.response.start":
                started = True
                message["headers"] = [*message.get("headers", []), *HEADERS, *_caching(scope)]
            await send(message)

        try:
            await self.app(scope, counted, with_headers)
        except TooLarge:
            if not started:
                await _answer(send, 413, "That is larger than this page takes.")
        except ClientDisconnect:
            pass  # nobody is there to be told
        except Exception as error:  # logged by kind and place only: its words may be a patient's
            place = traceback.extract_tb(error.__traceback__)[-1]
            log.error("%s in %s, line %d", type(error).__name__, Path(place.filename).name, place.lineno or 0)
            if not started:
                await _answer(send, 500, "Something went wrong in the program; nothing was changed. Try again.")

    def _limit(self, scope: Scope) -> int:
        return self.site.upload_limit if self._is_upload(scope) else self.site.request_limit

    def _is_upload(self, scope: Scope) -> bool:
        return scope["method"] == "POST" and scope["path"] in ("/cases", "/api/cases")

    async def _is_known(self, scope: Scope) -> bool:
        return await run_in_threadpool(session_on, self.site, HTTPConnection(scope)) is not None

    def _refuse(self, scope: Scope, headers: MutableMapping[str, str]) -> tuple[int, str] | None:
        host = headers.get("host", "").lower()
        if host not in self.site.hosts:  # a page elsewhere that points its own name at this machine
            return 421, "This page does not answer to that name; open the address that was printed at its start."
        origin = headers.get("origin")
        if scope["method"] not in SAFE and origin and origin.partition("://")[2].lower() != host:
            return 403, "This request came from another page."
        length = headers.get("content-length", "0")
        if not (length.isascii() and length.isdigit()) or int(length) > self._limit(scope):
            return 413, "That is larger than this page takes."
        return None


def _caching(scope: Scope) -> tuple[tuple[bytes, bytes], ...]:
    static = scope["path"].startswith("/static/")
    return ((b"cache-control", b"no-cache" if static else b"no-store"),)


async def _answer(send: Send, status: int, sentence: str) -> None:
    body: Any = json.dumps({"error": sentence}).encode()
    start = {"type": "http.response.start", "status": status}
    await send({**start, "headers": [(b"content-type", b"application/json"), *HEADERS]})
    await send({"type": "http.response.body", "body": body})
