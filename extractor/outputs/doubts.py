"""What is doubtful in a record, the gravest first."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from extractor.outputs.wording import clock, quoted
from extractor.record.facts import Known
from extractor.record.models import CaseRecord, Flag, facts_by_id

NAMES = {"stop": "SETTLE", "review": "review", "note": "remark"}
STYLES = {"stop": "bold red", "review": "yellow", "note": "dim"}
COUNTED = {"stop": ("to settle before signing",) * 2, "review": ("to review",) * 2, "note": ("remark", "remarks")}
SHOWN = 3
"""So many of a flag's places are shown."""
MARKS = {"stop": "!!", "review": "?"}
"""How a fact is marked that a flag points at; a remark marks nothing."""


def counted(record: CaseRecord) -> str:
    """The number of each: '1 to settle before signing, 2 to review'."""
    count = Counter(flag.severity for flag in record.flags)
    parts = [f"{count[s]} {COUNTED[s][count[s] != 1]}" for s in ("stop", "review", "note") if count[s]]
    return ", ".join(parts) or "nothing doubtful was found"


def marks(record: CaseRecord) -> dict[str, str]:
    """The mark of each fact that a flag points at, the gravest flag's."""
    out: dict[str, str] = {}
    for severity in ("review", "stop"):
        for flag in record.flags:
            if flag.severity == severity:
                out.update(dict.fromkeys(flag.facts, MARKS[severity]))
    return out


def doubts_view(record: CaseRecord) -> RenderableType:
    """The flags of one record under its name, for `extractor check`."""
    title = Text.assemble((record.case_id or "case", "bold"), ": ", counted(record))
    return Group(title, Padding(flag_table(record), (0, 0, 1, 2))) if record.flags else title


def flag_table(record: CaseRecord) -> Table:
    """One row a flag: how grave, what is wrong, what to do, where it was said."""
    facts = facts_by_id(record)
    table = Table.grid(padding=(0, 2, 0, 0))
    table.add_column(no_wrap=True, width=6)
    table.add_column(ratio=1)
    for flag in record.flags:
        cell = Text(flag.message)
        if flag.suggestion:
            cell.append(f"\nmaybe: {flag.suggestion}")
        cell.append(f"\n{where(flag, facts)}", style="dim")
        table.add_row(Text(NAMES[flag.severity], style=STYLES[flag.severity]), cell)
    return table


def where(flag: Flag, facts: Mapping[str, Known]) -> str:
    """The check's name and where its facts were said: 'graft-length-mismatch: 1:02, 0:31'."""
    evidence = [facts[name].evidence[0] for name in flag.facts if name in facts] or flag.evidence
    places = dict.fromkeys(clock(e.start_s) if e.start_s is not None else quoted(e.text, 36) for e in evidence)
    return f"{flag.check}: {', '.join(list(places)[:SHOWN])}" if places else flag.check
