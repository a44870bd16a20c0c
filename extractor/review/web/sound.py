"""Sound for hearing: a plain copy in which the browser seeks by range requests."""

from __future__ import annotations

from fastapi import APIRouter
from fastapi.responses import FileResponse

from extractor.errors import InputError
from extractor.review.hear.listening import listening_copy
from extractor.review.store.cases import read_case
from extractor.review.web.site import SignedIn, SiteOf

router = APIRouter(include_in_schema=False)


@router.get("/cases/{case_id}/sound/{part}")
def sound(case_id: str, part: int, session: SignedIn, site: SiteOf) -> FileResponse:
    """The sound of one part of a note."""
    case = read_case(site.store, case_id)
    parts = case.sheet.parts if case.sheet else ()
    if not 0 <= part < len(parts) or not parts[part].sound:
        raise InputError("This part of the note has no sound.")
    copy = listening_copy(site.store, str(parts[part].sound))
    return FileResponse(copy, media_type="audio/wav")
