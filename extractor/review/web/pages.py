"""The pages a person opens: the work list, a case, its history."""

from __future__ import annotations

import json
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from pydantic import BaseModel, Field

from extractor.review.show.summing import progress_of
from extractor.review.show.telling import detail_words
from extractor.review.store.cases import read_case, read_row
from extractor.review.store.connect import reading
from extractor.review.store.recordings import of_cases
from extractor.review.store.search import find_cases
from extractor.review.store.trail import read_trail, verify
from extractor.review.web.regions import regions, said_region
from extractor.review.web.render import fragment, page
from extractor.review.web.site import SignedIn, Site, SiteOf

router = APIRouter(include_in_schema=False)


class Find(BaseModel):
    """What the search box asks. Sent in the body, so that no word of a note is in an address."""

    query: str = Field(default="", max_length=200)
    show: str = Field(default="open", pattern="^(open|signed|all)$")
    page: int = Field(default=0, ge=0, le=100_000)


def _rows(site: Site, find: Find) -> dict[str, Any]:
    with reading(site.store) as connection:
        listing = find_cases(connection, find.query, show=find.show, page=find.page)
        under_way = of_cases(connection, [row.id for row in listing.rows])
    progress = {case: progress_of(recording, site.reader) for case, recording in under_way.items()}
    return {"listing": listing, "progress": progress, "find": find}


@router.get("/")
def work_list(request: Request, session: SignedIn, site: SiteOf) -> HTMLResponse:
    """The work list: what waits, oldest first."""
    return page(request, "list.html", session, **_rows(site, Find()), store=site.store.shown)


@router.post("/list")
def list_again(find: Find, session: SignedIn, site: SiteOf) -> JSONResponse:
    """The rows of the list for a search, and whether anything in them is under way."""
    values = _rows(site, find)
    return JSONResponse({"rows": fragment("_rows.html", **values), "busy": bool(values["progress"])})


@router.get("/cases/{case_id}")
def case_page(request: Request, case_id: str, session: SignedIn, site: SiteOf) -> Response:
    """One case: questions, sheet, what was said."""
    case = read_case(site.store, case_id)
    with reading(site.store) as connection:
        under_way = of_cases(connection, [case_id]).get(case_id)
    progress = progress_of(under_way, site.reader) if under_way else None
    if case.sheet is None:
        return page(request, "waiting.html", session, case=case, progress=progress)
    values = regions(site, case, session.person)
    return page(request, "case.html", session, case=case, said=said_region(case), progress=progress, **values)


@router.get("/cases/{case_id}/progress")
def case_progress(case_id: str, session: SignedIn, site: SiteOf) -> JSONResponse:
    """How far the recognition of a case is, with its first facts."""
    with reading(site.store) as connection:
        row = read_row(connection, case_id)
        recording = of_cases(connection, [case_id]).get(case_id)
    progress = progress_of(recording, site.reader) if recording else None
    html = fragment("_progress.html", progress=progress, state=row.state)
    return JSONResponse({"state": row.state, "version": row.version, "busy": bool(recording), "progress": html})


@router.get("/cases/{case_id}/history")
def history(request: Request, case_id: str, session: SignedIn, site: SiteOf) -> HTMLResponse:
    """Everything that happened to a case, and whether the trail holds."""
    with reading(site.store) as connection:
        row = read_row(connection, case_id)
        lines = read_trail(connection, case_id)
        broken = verify(connection, case_id)
    details = [json.loads(line.detail) for line in lines]
    told = list(zip(lines, details, strict=True))
    return page(request, "history.html", session, row=row, lines=told, broken=broken, told=detail_words)
