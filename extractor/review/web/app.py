"""The application, put together. Pages in `pages`, `acts`, `dictate`, `sound`, `enter`; the machine side in `api`."""

from __future__ import annotations

import gc
import threading
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import cast

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, RedirectResponse, Response
from fastapi.staticfiles import StaticFiles
from starlette.exceptions import HTTPException
from starlette.types import ASGIApp

from extractor.errors import ExtractorError
from extractor.review.act.typed import parse_value
from extractor.review.store.connect import StoreError
from extractor.review.web import acts, api, dictate, enter, pages, sound
from extractor.review.web.guard import Guard
from extractor.review.web.render import environment, page
from extractor.review.web.site import Refused, SignIn, Site, session_of
from extractor.speech.transcript import Transcript

STATIC = Path(__file__).resolve().parent.parent / "static"
ROUTERS = tuple(module.router for module in (pages, acts, dictate, sound, enter, api))


def make_app(site: Site) -> ASGIApp:
    """The whole application for one site."""

    @asynccontextmanager
    async def running(_: FastAPI) -> AsyncIterator[None]:
        site.worker.start()
        threading.Thread(target=_warm, args=(site,), daemon=True).start()
        yield
        site.worker.stop()

    app = FastAPI(
        title="Review page of the case record extractor",
        summary="Cases, records and audit trails for programs. Drafts until signed; not a medical device.",
        version="1",
        docs_url=None,  # they would load scripts from elsewhere
        redoc_url=None,
        lifespan=running,
    )
    app.state.site = site
    app.mount("/static", StaticFiles(directory=STATIC), name="static")
    for router in ROUTERS:
        app.include_router(router)
    app.add_exception_handler(ExtractorError, _sentence)
    app.add_exception_handler(RequestValidationError, _invalid)
    app.add_exception_handler(HTTPException, _http)
    app.add_exception_handler(500, _unexpected)
    return Guard(cast(ASGIApp, app), site)


def _warm(site: Site) -> None:
    """Do once, in the background, what would make the first click slow, and every tenth page."""
    for name in environment().list_templates():
        environment().get_template(name)
    parse_value("1 cm", "mm")
    site.reader.read(Transcript(text="Left knee. The tear is ten millimeters long."))
    gc.freeze()  # the packs stay for good: the collector need not walk over them, which takes it half a second


def _sentence(request: Request, error: Exception) -> Response:
    status = 404 if isinstance(error, StoreError) else 400
    if isinstance(error, Refused):
        status = error.status
    if isinstance(error, SignIn):
        if _wants_page(request):
            return RedirectResponse("/enter", 303)
        status = 401
    return _told(request, status, str(error))


def _invalid(request: Request, error: Exception) -> Response:
    assert isinstance(error, RequestValidationError)
    first = error.errors()[0]
    place = ".".join(str(part) for part in first["loc"][1:])
    return _told(request, 422, f"{place or 'The request'}: {first['msg']}.")


def _http(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    words = {404: "There is no such page.", 405: "That cannot be done here."}
    return _told(request, error.status_code, words.get(error.status_code, str(error.detail)))


def _unexpected(request: Request, error: Exception) -> Response:
    return _told(request, 500, "Something went wrong in the program; nothing was changed. Try again.")


def _told(request: Request, status: int, sentence: str) -> Response:
    if _wants_page(request):
        return page(request, "problem.html", session_of(request), status=status, sentence=sentence)
    return JSONResponse({"error": sentence}, status)


def _wants_page(request: Request) -> bool:
    return "text/html" in request.headers.get("accept", "") and not request.url.path.startswith("/api/")
