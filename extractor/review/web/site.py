"""What every request needs: the store, the reader, the worker, and who is let in."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from fastapi import Depends, Request
from starlette.requests import HTTPConnection

from extractor.errors import ExtractorError
from extractor.review.act.reading import Reader
from extractor.review.hear.worker import Worker
from extractor.review.models import Person
from extractor.review.store.connect import Store
from extractor.review.store.people import Session, find_session, same

COOKIE = "extractor_session"
MIB = 1 << 20


class Refused(ExtractorError):
    """A request that is not let through; `status` is its HTTP status."""

    def __init__(self, status: int, sentence: str) -> None:
        """Keep the status beside the sentence."""
        super().__init__(sentence)
        self.status = status


class SignIn(ExtractorError):
    """Nobody is signed in; a page sends the browser to the door, the machine side answers 401."""


@dataclass(frozen=True)
class Site:
    """One running review page."""

    store: Store
    reader: Reader
    worker: Worker
    launch_token: str
    launch_person: Person
    hosts: frozenset[str]
    loopback: bool
    secure: bool = False
    upload_limit: int = 500 * MIB
    request_limit: int = 16 * MIB
    started: str = field(default="")


def site_of(request: Request) -> Site:
    """The site a request came to."""
    site: Site = request.app.state.site
    return site


def session_of(request: Request) -> Session | None:
    """Who a request is from: a browser's cookie, or a program's launch token."""
    return session_on(site_of(request), request)


def session_on(site: Site, request: HTTPConnection) -> Session | None:
    """Do what `session_of` does, for a request that has not reached the application yet."""
    cookie = request.cookies.get(COOKIE)
    if cookie and (session := find_session(site.store, cookie)):
        return session
    kind, _, token = request.headers.get("authorization", "").partition(" ")
    if kind.lower() == "bearer" and site.loopback and same(token, site.launch_token):
        return Session(site.launch_person, "")
    return None


def signed_in(request: Request) -> Session:
    """The session of a request that needs one.

    Raises:
        SignIn: where there is none.
    """
    session = session_of(request)
    if session is None:
        raise SignIn("Sign in first.")
    return session


def own(request: Request) -> Session:
    """The session of a request that carries the page's own token, whoever sends it.

    Raises:
        SignIn: where nobody is signed in.
        Refused: for a forged request.
    """
    session = signed_in(request)
    if session.csrf and not same(request.headers.get("x-csrf", ""), session.csrf):
        raise Refused(403, "This request did not come from the page; open the page again.")
    return session


def changing(request: Request) -> Session:
    """The session of a request that changes something: it carries the page's own token, and is no researcher's.

    Raises:
        SignIn: where nobody is signed in.
        Refused: for a forged request, or one of a person who only reads.
    """
    session = own(request)
    if not session.person.may_change:
        raise Refused(403, "A researcher reads and does not change; sign in as a surgeon or scribe.")
    return session


SiteOf = Annotated[Site, Depends(site_of)]
SignedIn = Annotated[Session, Depends(signed_in)]
Own = Annotated[Session, Depends(own)]
Changing = Annotated[Session, Depends(changing)]
