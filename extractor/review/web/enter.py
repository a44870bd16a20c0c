"""The door: the printed address with its launch token, or an account's name and password."""

from __future__ import annotations

import threading
import time
from typing import Annotated

from fastapi import APIRouter, Form, Request
from fastapi.responses import JSONResponse, RedirectResponse, Response

from extractor.review.models import Person
from extractor.review.store.people import check_password, close_session, has_people, open_session, same
from extractor.review.web.render import page
from extractor.review.web.site import COOKIE, SignedIn, Site, SiteOf, session_of

router = APIRouter(include_in_schema=False)
_one_at_a_time = threading.Lock()
WAIT_S = 0.5
"""How long a wrong password is answered late; wrong ones are answered one after another."""


@router.get("/enter")
def door(request: Request, site: SiteOf, token: str = "") -> Response:
    """Let a browser in by the launch token, or ask for name and password."""
    if token and site.loopback and same(token, site.launch_token):
        return _let_in(site, site.launch_person)
    if session_of(request):
        return RedirectResponse("/", 303)
    return _ask(request, site, "That address is no longer good; open the one printed last." if token else "")


@router.post("/enter")
def knock(
    request: Request,
    site: SiteOf,
    name: Annotated[str, Form(max_length=64)] = "",
    password: Annotated[str, Form(max_length=256)] = "",
) -> Response:
    """Sign in with an account."""
    person = check_password(site.store, name, password)
    if person is None:
        with _one_at_a_time:
            time.sleep(WAIT_S)
        return _ask(request, site, "Name and password do not go together.", status=403)
    return _let_in(site, person)


@router.post("/leave")
def leave(request: Request, session: SignedIn, site: SiteOf) -> JSONResponse:
    """Sign out."""
    close_session(site.store, request.cookies.get(COOKIE, ""))
    answer = JSONResponse({"left": True})
    answer.delete_cookie(COOKIE)
    return answer


def _ask(request: Request, site: Site, problem: str, status: int = 200) -> Response:
    accounts = has_people(site.store)
    return page(request, "enter.html", None, status=status, problem=problem, accounts=accounts, loopback=site.loopback)


def _let_in(site: Site, person: Person) -> Response:
    answer = RedirectResponse("/", 303)
    answer.set_cookie(
        COOKIE, open_session(site.store, person), httponly=True, samesite="strict", secure=site.secure, path="/"
    )
    return answer
