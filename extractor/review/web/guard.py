"""The guard before every request: known host, own origin, limited size; and the headers every answer carries."""

from __future__ import annotations

import json
from collections.abc import MutableMapping
from typing import Any

from starlette.exceptions import HTTPException
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from extractor.review.web.site import Site

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; media-src 'self' blob:; "
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
        if refused:
            await _answer(send, *refused)
            return
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

    def _limit(self, scope: Scope) -> int:
        uploads = scope["path"] in ("/cases", "/api/cases")
        return self.site.upload_limit if uploads else self.site.request_limit

    def _refuse(self, scope: Scope, headers: MutableMapping[str, str]) -> tuple[int, str] | None:
        host = headers.get("host", "").lower()
        if host not in self.site.hosts:  # a page elsewhere that points its own name at this machine
            return 421, "This page does not answer to that name; open the address that was printed at its start."
        origin = headers.get("origin")
        if scope["method"] not in SAFE and origin and origin.partition("://")[2].lower() != host:
            return 403, "This request came from another page."
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > self._limit(scope):
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
