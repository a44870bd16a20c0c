"""Dictating in the page, and dropping files: sound and words come in here."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, BinaryIO

from fastapi import APIRouter, File, Request, UploadFile
from fastapi.responses import HTMLResponse, JSONResponse, Response
from pydantic import BaseModel, Field

from extractor.errors import ExtractorError, InputError
from extractor.review.act.steps import Act, perform
from extractor.review.hear.arrive import (
    LONGEST_TEXT,
    SOUND,
    TEXT,
    end_dictation,
    has_recording,
    shown_name,
    suffix_of,
    take_sound,
    take_text,
)
from extractor.review.models import Person
from extractor.review.show.summing import first_facts, progress_of
from extractor.review.store.cases import create_case, read_case, write_version
from extractor.review.store.clock import now
from extractor.review.store.connect import writing
from extractor.review.store.people import Session
from extractor.review.store.recordings import add_recording, note_piece, read_recording
from extractor.review.store.sounds import keep_piece
from extractor.review.web.render import page
from extractor.review.web.site import Changing, Refused, SignedIn, Site, SiteOf

router = APIRouter(include_in_schema=False)
MOST_PIECES = 50_000
MOST_FILES = 50


@router.get("/dictate")
def dictate(request: Request, session: SignedIn, site: SiteOf) -> HTMLResponse:
    """The page for dictating a new case."""
    _may_dictate(session)
    return page(request, "dictate.html", session, case=None)


@router.get("/cases/{case_id}/dictate")
def dictate_addendum(request: Request, case_id: str, session: SignedIn, site: SiteOf) -> HTMLResponse:
    """The page for dictating an addendum."""
    _may_dictate(session)
    return page(request, "dictate.html", session, case=read_case(site.store, case_id))


def _may_dictate(session: Session) -> None:
    if not session.person.may_change:
        raise Refused(403, "A researcher reads and does not dictate; sign in as a surgeon or scribe.")


class Beginning(BaseModel):
    """A dictation that begins: of a new case, or as an addendum to one."""

    case: str | None = Field(default=None, max_length=32)
    reason: str = Field(default="", max_length=2000)
    media_type: str = Field(default="", max_length=64)


@router.post("/dictations")
def begin(beginning: Beginning, session: Changing, site: SiteOf) -> JSONResponse:
    """Begin a dictation; its pieces may come from now on."""
    person = session.person
    case_id = beginning.case
    if case_id:
        _open_for_addendum(site, case_id, beginning.reason, person)
    with writing(site.store) as connection:
        if not case_id:
            label = f"dictated {now()[:16].replace('T', ' ')}"
            case_id = create_case(connection, label=label, state="recording", who=person.name, how="dictated")
        recording = add_recording(
            connection, case_id, kind="dictation", state="recording", who=person.name,
            addendum=int(beginning.case is not None), media_type=beginning.media_type,
        )  # fmt: skip
    return JSONResponse({"case": case_id, "recording": recording})


def _open_for_addendum(site: Site, case_id: str, reason: str, person: Person) -> None:
    case = read_case(site.store, case_id)
    if case.sheet is None:
        raise InputError("Nothing was recognized of this case yet; wait before adding to it.")
    if case.row.state in ("signed", "amended"):
        done = perform(Act(do="amend", words=reason), case, person, site.reader, site.store)
        write_version(site.store, case_id, case.row.version, done.change, person)


@router.put("/dictations/{recording}/pieces/{number}")
async def piece(request: Request, recording: str, number: int, session: Changing, site: SiteOf) -> Response:
    """Keep one piece of a dictation. Once this is answered, the piece outlives any stop of the program."""
    data = await request.body()
    if not data or not 0 <= number < MOST_PIECES:
        raise InputError("That is no piece of a recording.")
    from starlette.concurrency import run_in_threadpool

    await run_in_threadpool(_keep, site, recording, number, data)
    return Response(status_code=204)


def _keep(site: Site, recording: str, number: int, data: bytes) -> None:
    has_recording(site.store, recording)
    digest = keep_piece(site.store, recording, number, data)
    note_piece(site.store, recording, number, digest, len(data))
    site.worker.wake()


@router.post("/dictations/{recording}/end")
def end(recording: str, session: Changing, site: SiteOf) -> JSONResponse:
    """End a dictation; it is recognized next. Ending it twice does no harm."""
    found = read_recording(site.store, recording)
    if found.state == "recording":
        end_dictation(site.store, found)
        site.worker.wake()
    return JSONResponse({"case": found.case_id})


@router.get("/dictations/{recording}/heard")
def heard(recording: str, session: SignedIn, site: SiteOf) -> JSONResponse:
    """What was understood so far. That its page asks shows that it is there."""
    site.worker.seen(recording)
    progress = progress_of(read_recording(site.store, recording), site.reader)
    return JSONResponse(
        {"state": progress.state, "heard": progress.heard, "side": progress.side, "facts": progress.facts,
         "done_s": progress.done_s, "percent": progress.percent, "problem": progress.problem}
    )  # fmt: skip


@router.post("/cases")
def drop(files: Annotated[list[UploadFile], File()], session: Changing, site: SiteOf) -> JSONResponse:
    """Take dropped files, each as a case of its own."""
    taken, refused = [], []
    if len(files) > MOST_FILES:
        raise InputError(f"That are {len(files)} files; add {MOST_FILES} at a time at most.")
    for file in files:
        name = shown_name(file.filename or "note")
        try:
            taken.append(take_file(site, file.file, name, session.person, "dropped"))
        except ExtractorError as error:
            refused.append(f"{name}: {error}")
    if refused and not taken:
        raise Refused(400, " ".join(refused))
    return JSONResponse({"cases": taken, "refused": refused})


def take_file(site: Site, file: BinaryIO, name: str, person: Person, how: str) -> str:
    """Make a case of a file; gives the case's id.

    Raises:
        InputError: where it is neither sound nor text.
    """
    suffix = suffix_of(name)
    if suffix in TEXT:
        data = file.read(LONGEST_TEXT * 4 + 1)
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError:
            raise InputError("it is not UTF-8 text; save it as plain text.") from None
        return take_text(site.store, site.reader, text, label=name, person=person, how=how)
    if suffix not in SOUND:
        raise InputError(f"it is neither sound nor plain text; give {', '.join(SOUND[:6])} or .txt.")
    case = take_sound(site.store, _chunks(file), label=name, person=person, how=how)
    site.worker.wake()
    return case


def _chunks(file: BinaryIO) -> Iterator[bytes]:
    while chunk := file.read(1 << 20):
        yield chunk


@router.get("/cases/{case_id}/read-back")
def read_back(case_id: str, session: SignedIn, site: SiteOf) -> JSONResponse:
    """The side and the measurements as they were understood, to be compared with what was meant."""
    case = read_case(site.store, case_id)
    if case.sheet is None:
        raise InputError("Nothing was recognized of this case yet; wait for it.")
    record = case.sheet.record
    side = record.laterality.value if record.laterality else None
    facts = first_facts(record, site.reader)
    return JSONResponse({"side": side, "facts": facts, "heard": case.sheet.transcript.text})
