"""The machine side: JSON, described by /openapi.json. A program sends the launch token as a bearer token."""

from __future__ import annotations

import json
from typing import Annotated, Any

from fastapi import APIRouter, File, UploadFile
from fastapi.responses import JSONResponse, Response
from pydantic import BaseModel, Field

from extractor.errors import InputError
from extractor.record import record_json
from extractor.record.models import CaseRecord
from extractor.review.act.steps import Act, perform
from extractor.review.hear.arrive import shown_name
from extractor.review.store.cases import Case, StaleError, read_case, read_row, read_signatures, write_version
from extractor.review.store.connect import reading
from extractor.review.store.search import find_cases
from extractor.review.store.trail import read_trail, verify
from extractor.review.web.dictate import take_file
from extractor.review.web.site import Changing, SignedIn, SiteOf

router = APIRouter(prefix="/api", tags=["cases"])


class Problem(BaseModel):
    """The one shape of every error."""

    error: str


class CaseLine(BaseModel):
    """A case in the list."""

    id: str
    created: str
    changed: str
    state: str
    version: int
    side: str | None
    compartment: str | None
    procedure_code: str | None
    stops: int
    questions: int


class Signature(BaseModel):
    """Who signed which version. `record_sha256` is of the bytes that `/record` gives for it."""

    version: int
    who: str
    role: str
    at: str
    record_sha256: str
    reason: str | None


class CaseState(CaseLine):
    """A case: its line, its record, what was settled and signed."""

    record: CaseRecord | None
    settled: dict[str, Any]
    signatures: list[Signature]


class Found(BaseModel):
    """A page of the list."""

    cases: list[CaseLine]
    more: bool


class Taken(BaseModel):
    """The id of a case that was made."""

    case: str


class Trail(BaseModel):
    """A case's audit trail, and the first broken link where one is broken."""

    lines: list[dict[str, Any]]
    broken: str | None


class Step(BaseModel):
    """An act on a version."""

    version: int = Field(ge=0)
    act: Act


ERRORS: dict[int | str, dict[str, Any]] = {code: {"model": Problem} for code in (400, 401, 403, 404, 409, 413, 422)}


class Query(BaseModel):
    """What to look for. In the body, so that no word of a note is in an address."""

    query: str = Field(default="", max_length=200)
    show: str = Field(default="all", pattern="^(open|signed|all)$")
    page: int = Field(default=0, ge=0, le=100_000)


@router.post("/find", responses=ERRORS)
def find_in_list(query: Query, session: SignedIn, site: SiteOf) -> Found:
    """Find cases by side, procedure, state or words of the note."""
    with reading(site.store) as connection:
        listing = find_cases(connection, query.query, show=query.show, page=query.page)
    return Found(cases=[CaseLine.model_validate(row, from_attributes=True) for row in listing.rows], more=listing.more)


@router.post("/cases", status_code=201, responses=ERRORS)
def add_case(file: Annotated[UploadFile, File()], session: Changing, site: SiteOf) -> Taken:
    """Add a note, as sound or plain text."""
    name = shown_name(file.filename or "note")
    return Taken(case=take_file(site, file.file, name, session.person, "sent by a program"))


@router.get("/cases/{case_id}", responses=ERRORS)
def get_case(case_id: str, session: SignedIn, site: SiteOf) -> CaseState:
    """A case as it stands."""
    return _state(site, read_case(site.store, case_id))


@router.get("/cases/{case_id}/record", responses=ERRORS)
def get_record(case_id: str, session: SignedIn, site: SiteOf) -> Response:
    """The record alone, as `extractor` reads and writes it."""
    case = read_case(site.store, case_id)
    if case.sheet is None:
        raise InputError("Nothing was recognized of this case yet; wait for it.")
    return Response(record_json(case.sheet.record), media_type="application/json")


@router.post("/cases/{case_id}/acts", response_model=CaseState, responses=ERRORS)
def act(case_id: str, step: Step, session: Changing, site: SiteOf) -> Any:
    """Accept, change, reject, add, answer, undo, sign or amend. 409 where the version is no longer the newest."""
    case = read_case(site.store, case_id)
    if case.row.version != step.version:
        return _conflict(case)
    done = perform(step.act, case, session.person, site.reader, site.store)
    try:
        write_version(site.store, case_id, step.version, done.change, session.person)
    except StaleError:
        return _conflict(read_case(site.store, case_id))
    return _state(site, read_case(site.store, case_id))


@router.get("/cases/{case_id}/trail", responses=ERRORS)
def get_trail(case_id: str, session: SignedIn, site: SiteOf) -> Trail:
    """Everything that happened to a case."""
    with reading(site.store) as connection:
        read_row(connection, case_id)
        lines = read_trail(connection, case_id)
        broken = verify(connection, case_id)
    return Trail(lines=[{**line.__dict__, "detail": json.loads(line.detail)} for line in lines], broken=broken)


def _conflict(case: Case) -> Any:
    sentence = f"The case is at version {case.row.version} by now; read it again and send the act for that."
    return JSONResponse({"error": sentence, "version": case.row.version}, 409)


def _state(site: Any, case: Case) -> CaseState:
    with reading(site.store) as connection:
        signatures = read_signatures(connection, case.row.id)
    sheet = case.sheet
    return CaseState(
        **{name: getattr(case.row, name) for name in CaseLine.model_fields},
        record=sheet.record if sheet else None,
        settled={flag: s.model_dump(mode="json") for flag, s in sheet.settled.items()} if sheet else {},
        signatures=[Signature(**{name: getattr(s, name) for name in Signature.model_fields}) for s in signatures],
    )
