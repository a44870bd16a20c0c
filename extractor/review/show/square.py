"""The four positions as a square, one for the native tissue and one for the graft, with the ties between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from extractor.record.facts import Suture, Tie
from extractor.record.models import CaseRecord
from extractor.review.act.primary import state_of
from extractor.review.show.words import plain

COLUMNS = ("posterior", "middle", "anterior")
ROWS = ("superior", "inferior")
CELL, GAP, LEFT, TOP = 96, 26, 64, 26
CENTER = CELL // 2
KNOWN = frozenset({
    "white", "blue", "green", "black", "purple", "red", "orange", "yellow", "pink", "brown", "gray", "violet",
    "turquoise", "silver",
})  # fmt: skip
"""Plain color words that can be drawn as they are; any other is hatched."""


@dataclass(frozen=True)
class Cell:
    """A position: where it is drawn, what is there, and whether the other tissue has another suture there."""

    position: str
    x: int
    y: int
    fact: str | None
    lines: tuple[str, ...]
    color: str | None
    tape: bool
    striped: bool
    differs: bool
    rejected: bool


@dataclass(frozen=True)
class Tied:
    """A tie, drawn from cell to cell."""

    fact: str
    x1: int
    y1: int
    x2: int
    y2: int


@dataclass(frozen=True)
class Square:
    """One tissue's positions."""

    tissue: str
    columns: tuple[tuple[str, int], ...]
    rows: tuple[tuple[str, int], ...]
    cells: tuple[Cell, ...]
    ties: tuple[Tied, ...]
    width: int
    height: int
    words: str


def squares_of(record: CaseRecord) -> list[Square]:
    """The native tissue's square and the graft's; none where no suture has a position."""
    here = [s for s in record.sutures if s.region in COLUMNS and s.surface in ROWS]
    placed = [s for s in here if s.tissue in ("native", "graft")]
    if not placed:
        return []
    names = [c for c in COLUMNS if c != "middle" or any(s.region == "middle" for s in placed)]
    return [_square(record, tissue, names, placed) for tissue in ("native", "graft")]


def _square(record: CaseRecord, tissue: str, names: Sequence[str], placed: list[Suture]) -> Square:
    xs = {name: LEFT + i * (CELL + GAP) for i, name in enumerate(names)}
    ys = {name: TOP + i * (CELL + GAP) for i, name in enumerate(ROWS)}
    cells = []
    for row in ROWS:
        for column in names:
            here = _at(record, placed, tissue, column, row)
            there = _at(record, placed, "graft" if tissue == "native" else "native", column, row)
            cells.append(_cell(record, here, there, f"{column}-{row}", xs[column], ys[row]))
    places = {cell.position: cell for cell in cells}
    ties = [t for tie in record.ties if tissue == "graft" and (t := _tied(record, tie, places))]
    told = "; ".join(f"{plain(c.position)}: {', '.join(c.lines)}" for c in cells)
    return Square(
        tissue=tissue,
        columns=tuple((name, x + CENTER) for name, x in xs.items()),
        rows=tuple((name, y + CENTER) for name, y in ys.items()),
        cells=tuple(cells),
        ties=tuple(ties),
        width=LEFT + len(names) * (CELL + GAP) - GAP + 4,
        height=TOP + 2 * (CELL + GAP) - GAP + 4,
        words=f"Sutures of the {'native tissue' if tissue == 'native' else 'graft'}. {told}.",
    )


def _at(record: CaseRecord, placed: list[Suture], tissue: str, region: str, surface: str) -> Suture | None:
    here = [s for s in placed if (s.tissue, s.region, s.surface) == (tissue, region, surface)]
    live = [s for s in here if state_of(record, s.id) != "rejected"]
    return next(iter(live or here), None)


def _look(suture: Suture) -> tuple[str | None, str | None, str | None]:
    return suture.color, suture.pattern, suture.form


def _cell(record: CaseRecord, here: Suture | None, there: Suture | None, position: str, x: int, y: int) -> Cell:
    if here is None:
        return Cell(position, x, y, None, ("nothing said",), None, False, False, there is not None, False)
    color = here.color if here.color in KNOWN else None
    differs = there is None or any(a and b and a != b for a, b in zip(_look(here), _look(there), strict=True))
    first = here.color or "no color said"
    second = " ".join(w for w in (plain(here.pattern), here.form or "") if w)
    rejected = state_of(record, here.id) == "rejected"
    lines = tuple(w for w in (first, second, "rejected" if rejected else "") if w)
    striped = here.pattern not in (None, "solid")
    return Cell(position, x, y, here.id, lines, color, here.form == "tape", striped, differs, rejected)


def _tied(record: CaseRecord, tie: Tie, places: dict[str, Cell]) -> Tied | None:
    a, b = (places.get(position) for position in tie.between)
    if a is None or b is None or state_of(record, tie.id) == "rejected":
        return None
    half = CENTER
    return Tied(tie.id, *_edge(a, b, half), *_edge(b, a, half))


def _edge(a: Cell, b: Cell, half: int) -> tuple[int, int]:
    """Where the line from the middle of one cell to that of another leaves the first."""
    dx, dy = (b.x > a.x) - (b.x < a.x), (b.y > a.y) - (b.y < a.y)
    return a.x + half + dx * (half - 6), a.y + half + dy * (half - 6)
