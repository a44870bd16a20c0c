"""The regions of a case page, rendered from a case as it stands."""

from __future__ import annotations

from typing import Any

from extractor.review.models import Person
from extractor.review.show.asking import asking_view
from extractor.review.show.said import said_of
from extractor.review.show.sheet import sheet_view
from extractor.review.store.cases import Case, read_signatures
from extractor.review.store.connect import reading
from extractor.review.web.render import fragment
from extractor.review.web.site import Site


def regions(site: Site, case: Case, person: Person) -> dict[str, Any]:
    """Questions and sheet as HTML, and what the page's script must know of the case."""
    assert case.sheet is not None
    closed = case.row.state in ("signed", "amended")
    may_change = person.may_change and not closed
    with reading(site.store) as connection:
        signatures = read_signatures(connection, case.row.id)
    asking = asking_view(case.sheet, case.row.state, site.reader.limits, may_change=may_change)
    values = {"case": case, "asking": asking, "may_change": may_change, "signatures": signatures, "person": person}
    return {
        "version": case.row.version,
        "state": case.row.state,
        "ready": asking.standing.ready and may_change,
        "unread": list(asking.standing.unread),
        "questions": fragment("_questions.html", **values),
        "sheet": fragment("_sheet.html", view=sheet_view(case.sheet, site.reader.limits), **values),
    }


def said_region(case: Case) -> str:
    """What was said, as HTML."""
    assert case.sheet is not None
    return fragment("_said.html", parts=said_of(case.sheet), case=case)
