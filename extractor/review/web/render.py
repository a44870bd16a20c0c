"""Templates, and what all of them know."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from extractor.review.show.bar import WIDTH
from extractor.review.show.words import CASE_WORDS, plain
from extractor.review.store.people import Session

TEMPLATES = Path(__file__).resolve().parent.parent / "templates"


@lru_cache(maxsize=1)
def environment() -> Environment:
    """The templates, escaping everything, refusing names they are not given."""
    made = Environment(
        loader=FileSystemLoader(TEMPLATES), autoescape=True, undefined=StrictUndefined, trim_blocks=True,
        lstrip_blocks=True, auto_reload=False,
    )  # fmt: skip
    made.filters["plain"] = plain
    made.filters["moment"] = moment
    made.globals.update(CASE_WORDS=CASE_WORDS, BAR_WIDTH=WIDTH)
    return made


def moment(at: str) -> str:
    """'2026-05-04 13:22' of an ISO time."""
    return at[:16].replace("T", " ")


def fragment(template: str, **values: Any) -> str:
    """A piece of a page as text."""
    return environment().get_template(template).render(**values)


def page(request: Request, template: str, session: Session | None, *, status: int = 200, **values: Any) -> HTMLResponse:
    """A whole page for a person."""
    person = session.person if session else None
    csrf = session.csrf if session else ""
    html = fragment(template, person=person, csrf=csrf, path=request.url.path, **values)
    return HTMLResponse(html, status)
