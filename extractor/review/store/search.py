"""The work list: what waits, oldest first, and one search box over it."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import ColumnElement, Connection, and_, func, or_, select

from extractor.review.store.cases import ROW, Row
from extractor.review.store.tables import case_words, cases

PAGE = 50
STATES = {
    "recording": ("recording",), "waiting": ("waiting",), "failed": ("failed",), "new": ("new",),
    "review": ("in-review",), "in-review": ("in-review",), "signed": ("signed", "amended"), "amended": ("amended",),
    "amending": ("amending",),
}  # fmt: skip
"""Words of the search box that name a state."""
SIDES = ("left", "right", "bilateral")
DONE = ("signed", "amended")


@dataclass(frozen=True)
class Listing:
    """One page of the list; `more` says whether older pages follow."""

    rows: list[Row]
    more: bool
    page: int


def find_cases(connection: Connection, query: str = "", *, show: str = "open", page: int = 0) -> Listing:
    """Find cases by side, procedure, state, or words of the note: every word given must fit.

    Args:
        connection: an open connection.
        query: the search box's text.
        show: 'open' (not signed), 'signed' or 'all'.
        page: from 0.
    """
    statement = select(*ROW)
    words = query.lower().split()[:12]
    if any(word not in STATES and word not in SIDES for word in words):
        statement = statement.outerjoin(case_words, case_words.c.case_id == cases.c.id)
    tests = [_test(word) for word in words]
    if show == "open" and not any(word in STATES for word in words):
        tests.append(cases.c.state.not_in(DONE))  # not "in": the oldest are then read in order of time, few of them
    elif show == "signed":
        tests.append(cases.c.state.in_(DONE))
    order = cases.c.created.asc() if show == "open" else cases.c.created.desc()
    statement = statement.where(and_(True, *tests)).order_by(order, cases.c.id).offset(page * PAGE).limit(PAGE + 1)
    rows = [Row(**row._mapping) for row in connection.execute(statement)]
    return Listing(rows[:PAGE], len(rows) > PAGE, page)


def _test(word: str) -> ColumnElement[bool]:
    if word in STATES:
        return cases.c.state.in_(STATES[word])
    if word in SIDES:
        return cases.c.side == word
    return or_(
        case_words.c.words.contains(word, autoescape=True),
        cases.c.procedure_code.contains(word, autoescape=True),
        cases.c.compartment == word,
        func.lower(cases.c.label).contains(word, autoescape=True),
        cases.c.created.startswith(word, autoescape=True),
    )
