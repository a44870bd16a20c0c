"""The suture table: native and graft side by side, a column a region, a row a surface, ties drawn between."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rich.box import SIMPLE_HEAD
from rich.table import Table
from rich.text import Text

from extractor.outputs.wording import look, plain
from extractor.record.facts import Suture, Tie
from extractor.record.vocabulary import SURFACES

ORDER = ("posterior", "middle", "anterior")
TIE, NOT_SAID = "|", "not said"


def placed(sutures: Sequence[Suture]) -> list[Suture]:
    """Sutures said one by one: at a region and a surface."""
    return [s for s in sutures if s.region and s.surface]


def quadrant_table(sutures: Sequence[Suture], ties: Sequence[Tie], marks: Mapping[str, str]) -> Table:
    """Lay placed sutures out by tissue, region and surface.

    Args:
        sutures: see `placed`.
        ties: a tie between the two surfaces of one region is drawn in its column.
        marks: by a suture's id, the mark of a doubt about it.
    """
    columns = _columns(sutures)
    table = Table(box=SIMPLE_HEAD, show_edge=False, pad_edge=False, padding=(0, 2, 0, 0))
    table.add_column("")
    for tissue, region in columns:
        table.add_column(f"{plain(tissue).upper()}\n{plain(region)}")
    surfaces = [*SURFACES, *sorted({s.surface for s in sutures if s.surface} - set(SURFACES))]
    for number, surface in enumerate(surfaces):
        if number:
            drawn = [TIE if _tied(region, surfaces[number - 1], surface, ties) else "" for _, region in columns]
            table.add_row("", *drawn)
        cells = [_cell(sutures, tissue, region, surface, marks) for tissue, region in columns]
        table.add_row(plain(surface), *cells)
    return table


def _columns(sutures: Sequence[Suture]) -> list[tuple[str, str]]:
    """Every tissue beside every region that any tissue has, so that what is missing shows."""
    tissues = list(dict.fromkeys(s.tissue or "tissue not said" for s in sutures))
    tissues.sort(key=lambda t: (t != "native", t != "graft"))
    said = dict.fromkeys(s.region for s in sutures if s.region)
    regions = [r for r in ORDER if r in said] + [r for r in said if r not in ORDER]
    return [(tissue, region) for tissue in tissues for region in regions]


def _tied(region: str, above: str, below: str, ties: Sequence[Tie]) -> bool:
    pair = {f"{region}-{above}", f"{region}-{below}"}
    return any(set(tie.between) == pair for tie in ties)


def _cell(sutures: Sequence[Suture], tissue: str, region: str, surface: str, marks: Mapping[str, str]) -> Text:
    own = [s for s in sutures if ((s.tissue or "tissue not said"), s.region, s.surface) == (tissue, region, surface)]
    if not own:
        return Text(NOT_SAID, style="dim")
    return Text(" / ".join(f"{look(s) or 'a suture'}{_mark(s, marks)}" for s in own))


def _mark(suture: Suture, marks: Mapping[str, str]) -> str:
    return f" {marks[suture.id]}" if suture.id in marks else ""


def tie_line(tie: Tie) -> str:
    """A tie in words."""
    first, second = (plain(position) for position in tie.between)
    return f"{first} tied to {second}{f', over {plain(tie.over)}' if tie.over else ''}"
