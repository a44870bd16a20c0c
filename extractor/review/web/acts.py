"""What a reviewer does on a case page: each act is one request, answered with the page's new regions."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter
from fastapi.responses import HTMLResponse, JSONResponse
from pydantic import BaseModel, Field

from extractor.errors import InputError
from extractor.record.models import LISTS, facts_by_id
from extractor.review.act.fields import code_of, forms_of, kind_of
from extractor.review.act.propose import propose
from extractor.review.act.steps import Act, perform
from extractor.review.act.typed import judge, parse_value
from extractor.review.show.forming import add_form, change_form, typed_of
from extractor.review.show.said import sentence_at
from extractor.review.show.telling import told_since
from extractor.review.store.cases import Case, StaleError, read_case, write_version
from extractor.review.store.connect import reading
from extractor.review.store.trail import read_trail
from extractor.review.web.regions import regions
from extractor.review.web.render import fragment
from extractor.review.web.site import Changing, SignedIn, Site, SiteOf

router = APIRouter(include_in_schema=False)


class Step(BaseModel):
    """An act on the version the page shows."""

    version: int = Field(ge=0)
    act: Act


@router.post("/cases/{case_id}/acts")
def act(case_id: str, step: Step, session: Changing, site: SiteOf) -> JSONResponse:
    """Do one thing to a case. 409 where another changed it since; nothing is written then."""
    case = read_case(site.store, case_id)
    if case.row.version != step.version:
        return _stale(site, case_id, step.version, session)
    done = perform(step.act, case, session.person, site.reader, site.store)
    try:
        write_version(site.store, case_id, step.version, done.change, session.person)
    except StaleError:
        return _stale(site, case_id, step.version, session)
    new = read_case(site.store, case_id)
    return JSONResponse({**regions(site, new, session.person), "fact": done.fact})


def _stale(site: Site, case_id: str, seen: int, session: Any) -> JSONResponse:
    case = read_case(site.store, case_id)
    with reading(site.store) as connection:
        lines = [line for line in read_trail(connection, case_id) if line.version > seen]
    told = told_since(lines, case.sheet, site.reader.limits)
    values = regions(site, case, session.person)
    return JSONResponse({**values, "error": told}, 409)


@router.get("/cases/{case_id}/regions")
def regions_again(case_id: str, session: SignedIn, site: SiteOf) -> JSONResponse:
    """The regions as they stand."""
    return JSONResponse(regions(site, _read(site, case_id), session.person))


@router.get("/cases/{case_id}/forms/{fact_id}")
def form(case_id: str, fact_id: str, session: SignedIn, site: SiteOf) -> HTMLResponse:
    """The form that changes a fact."""
    case = _read(site, case_id)
    assert case.sheet
    record = case.sheet.record
    kind = kind_of(record, fact_id)
    if kind is None:
        raise InputError("That fact is no longer in the record; look again.")
    view = change_form(kind, facts_by_id(record)[fact_id], site.reader.limits)
    return HTMLResponse(fragment("_form.html", form=view))


class Selection(BaseModel):
    """Characters of the note that a person selected, and the kind of fact, once chosen."""

    start: int = Field(ge=0)
    end: int = Field(ge=0)
    kind: str | None = Field(default=None, max_length=40)


@router.post("/cases/{case_id}/adding")
def adding(case_id: str, selection: Selection, session: SignedIn, site: SiteOf) -> HTMLResponse:
    """What the grammar reads in the selected words, and the form for any other fact."""
    case = _read(site, case_id)
    assert case.sheet
    start, end = selection.start, selection.end
    if end <= start:
        start, end = sentence_at(case.sheet.transcript.text, start)
    if selection.kind:
        if selection.kind not in LISTS and selection.kind != "elements":
            raise InputError("Choose what kind of fact to add.")
        return HTMLResponse(fragment("_form.html", form=add_form(selection.kind, site.reader.limits)))
    proposals = [(p.kind, *typed_of(p.kind, p.fields, site.reader.limits)) for p in
                 propose(case.sheet, start, end, site.reader)]  # fmt: skip
    words = case.sheet.transcript.text[start:end]
    return HTMLResponse(fragment("_adding.html", words=words, start=start, end=end, proposals=proposals))


class TypedValue(BaseModel):
    """A value while it is typed."""

    what: str = Field(max_length=80)
    text: str = Field(max_length=80)
    unit: str | None = Field(default=None, max_length=20)


@router.post("/judge")
def judge_typed(typed: TypedValue, session: SignedIn, site: SiteOf) -> JSONResponse:
    """Hold a value against its unit and range while it is typed."""
    what = code_of(forms_of("measurements", site.reader.limits)[0], typed.what, site.reader.limits)
    limit = site.reader.limits.measurements.get(what)
    try:
        value = parse_value(typed.text, limit.unit if limit else typed.unit)
    except InputError as error:
        return JSONResponse({"level": "wrong", "sentence": str(error)})
    verdict = judge(limit, value)
    return JSONResponse({"level": verdict.level, "sentence": verdict.sentence})


def _read(site: Site, case_id: str) -> Case:
    case = read_case(site.store, case_id)
    if case.sheet is None:
        raise InputError("Nothing was recognized of this case yet; wait for it.")
    return case
