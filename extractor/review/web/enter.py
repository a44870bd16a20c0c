"""The door: the printed address with its launch token, or an account's name and password."""

from __future__ import annotations

import asyncio
from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import JSONResponse, RedirectResponse, Response
from starlette.concurrency import run_in_threadpool

from extractor.review.models import Person
from extractor.review.store.people import check_password, close_session, has_people, open_session, same
from extractor.review.web.render import page
from extractor.review.web.site import COOKIE, Own, Site, SiteOf, session_of

router = APIRouter(include_in_schema=False)
_one_at_a_time = asyncio.Lock()
WAIT_S = 0.5
"""How long a wrong password is answered late. Passwords are looked at one after another, and nobody else waits."""


@router.get("/enter")
def door(request: Request, site: SiteOf, token: str = "") -> Response:
    """Let a browser in by the launch token, or ask for name and password."""
    if token and site.loopback and same(token, site.launch_token):
        return _let_in(request, site, site.launch_person)
    if session_of(request):
        return RedirectResponse("/", 303)
    return _ask(request, site, "That address is no longer good; open the one printed last." if token else "")


@router.post("/enter")
async def knock(
    request: Request,
    site: SiteOf,
    name: Annotated[str, Form(max_length=64)] = "",
    password: Annotated[str, Form(max_length=256)] = "",
) -> Response:
    """Sign in with an account."""
    async with _one_at_a_time:
        person = await run_in_threadpool(check_password, site.store, name, password)
        if person is None:
            await asyncio.sleep(WAIT_S)
    if person is None:
        wrong = "Name and password do not go together."
        return await run_in_threadpool(_ask, request, site, wrong, status=403)
    return await run_in_threadpool(_let_in, request, site, person)


@router.post("/leave")
def leave(request: Request, session: Own, site: SiteOf) -> JSONResponse:
    """Sign out."""
    close_session(site.store, request.cookies.get(COOKIE, ""))
    answer = JSONResponse({"left": True})
    answer.delete_cookie(COOKIE)
    return answer


def _ask(request: Request, site: Site, problem: str, status: int = 200) -> Response:
    accounts = has_people(site.store)
    return page(request, "enter.html", None, status=status, problem=problem, accounts=accounts, loopback=site.loopback)


def _let_in(request: Request, site: Site, person: Person) -> Response:
    close_session(site.store, request.cookies.get(COOKIE, ""))  # what the browser had before is of no use any more
    answer = RedirectResponse("/", 303)
    answer.set_cookie(
        COOKIE, open_session(site.store, person), httponly=True, samesite="strict", secure=site.secure, path="/"
    )
    return answer
