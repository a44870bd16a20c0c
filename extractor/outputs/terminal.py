"""A record as a surgeon looks at it: doubts first, then side and procedure, numbers, sutures, steps, the rest.

Nothing is told by color alone: it reads the same in a pipe. Every line says where it was said, by the second
of the recording, or by its words where there is no sound.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeVar

from rich.box import SIMPLE_HEAD
from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.rule import Rule
from rich.table import Table
from rich.text import Text

from extractor.checks.words import first_up, number
from extractor.outputs.doubts import MARKS, counted, flag_table, marks
from extractor.outputs.facts import device_words, finding_words, graft_words, step_words
from extractor.outputs.quadrants import placed, quadrant_table, tie_line
from extractor.outputs.wording import (
    Wording,
    clock,
    measured,
    place_words,
    plain,
    plan_words,
    procedure_words,
    quoted,
    said_at,
    stitch_words,
)
from extractor.record import vocabulary as v
from extractor.record.facts import Finding, Known, Measurement, Step
from extractor.record.models import CaseRecord, facts_by_id

CAUTION = "Draft by a machine: check every line against what was said before relying on it."
NOTHING = "Nothing about work that the packs know was said in this note."
PROCEDURE_STATUS = {"performed": "", "prior": " (earlier operation)", "planned": " (planned)"}
NOT_DONE = ("conditional", "planned", "declined")
F = TypeVar("F", bound=Known)


def view(record: CaseRecord, wording: Wording) -> RenderableType:
    """Lay a record out for a terminal of 80 columns or more.

    Args:
        record: the record; facts a reviewer rejected are left out.
        wording: what measurements are called.
    """
    if not facts_by_id(record) and not record.flags:
        return Group(_title(record), Text(NOTHING))
    live = _Live(record)
    parts: list[RenderableType] = [_title(record), _doubts(record), _headline(record, live), _procedures(live)]
    parts += _measurements(live, wording)
    parts += _sutures(live)
    parts += _steps(live)
    parts += _findings(live)
    parts += _things(live)
    parts += _plan(live)
    parts += _elements(live)
    parts += _repairs(record)
    parts += [Text(), Text(CAUTION, style="italic")]
    return Group(*parts)


class _Live:
    """The facts nobody rejected, and the marks of those that are doubtful."""

    def __init__(self, record: CaseRecord) -> None:
        self.record = record
        self.marks = marks(record)
        self._rejected = {name for name, review in record.review.items() if review.state == "rejected"}

    def facts(self, facts: Iterable[F]) -> list[F]:
        return [f for f in facts if f.id not in self._rejected]

    def mark(self, fact: Known) -> str:
        return self.marks.get(fact.id, "")


def _title(record: CaseRecord) -> RenderableType:
    source = record.source
    parts = [f"{source.kind}"]
    parts += [clock(source.seconds)] if source.seconds is not None else []
    parts += [source.speech_model] if source.speech_model else []
    title = Text.assemble((record.case_id or "case", "bold"), f"  ({', '.join(parts)})")
    return Rule(title, align="left", characters="-")


def _section(name: str, *content: RenderableType) -> list[RenderableType]:
    return [Text(), Text(name, style="bold"), *(Padding(c, (0, 0, 0, 2)) for c in content)]


def _doubts(record: CaseRecord) -> RenderableType:
    title = Text.assemble(("DOUBTFUL", "bold"), f"  {counted(record)}")
    if not record.flags:
        return title
    key = f"below, {MARKS['stop']} marks what must be settled and {MARKS['review']} what is to be reviewed"
    return Group(title, Padding(flag_table(record), (0, 0, 0, 2)), Text(f"  ({key})", style="dim"))


def _headline(record: CaseRecord, live: _Live) -> RenderableType:
    side = record.laterality if record.laterality and live.facts([record.laterality]) else None
    if side is None:
        return Group(Text(), Text("SIDE NOT SAID", style="bold reverse"))
    name = f"BOTH {side.of}s" if side.value == "bilateral" else f"{side.value.upper()} {side.of}"
    line = Text.assemble((name, "bold reverse"), " of the patient", (f"   {said_at(side.evidence)}", "dim"))
    for other in side.others:
        line.append(f"\n{MARKS['stop']} {other.value} was said as well: {said_at(other.evidence)}")
    return Group(Text(), line)


def _procedures(live: _Live) -> RenderableType:
    lines = Text()
    for fact in live.facts(live.record.procedures):
        status = PROCEDURE_STATUS[fact.status]
        mark = f" {live.mark(fact)}" if live.mark(fact) else ""
        lines.append(f"{first_up(procedure_words(fact))}{status}{mark}", style="bold" if not status else "")
        lines.append(f"   {said_at(fact.evidence)}\n", style="dim")
    if not lines.plain:
        return Text("No procedure was named")
    lines.rstrip()
    return lines


def _measurements(live: _Live, wording: Wording) -> list[RenderableType]:
    facts = live.facts(live.record.measurements)
    if not facts:
        return []
    table = Table(box=SIMPLE_HEAD, show_edge=False, pad_edge=False, padding=(0, 2, 0, 0))
    for name in ("what", "value", "role", "said"):
        table.add_column(name, no_wrap=name == "value")
    groups = _grouped(facts)
    for thing, own in groups.items():
        for i, fact in enumerate(own):
            last = i == len(own) - 1 and thing != list(groups)[-1]
            table.add_row(
                wording.measurement(fact), _value(fact, live), _role(fact),
                Text(said_at(fact.evidence, 34), style="dim"), end_section=last,
            )  # fmt: skip
    return _section("MEASUREMENTS", table)


def _role(fact: Measurement) -> str:
    return "not this case" if fact.role == "reference" else fact.role or ""


def _grouped(facts: Sequence[Measurement]) -> dict[str, list[Measurement]]:
    """Measurements by the thing measured, things in the contract's order, then as said."""
    known = list(v.DIMENSIONS)
    things = list(dict.fromkeys(f.what.split(".")[0] for f in facts))
    things.sort(key=lambda t: known.index(t) if t in known else len(known))
    return {thing: [f for f in facts if f.what.split(".")[0] == thing] for thing in things}


def _value(fact: Measurement, live: _Live) -> Text:
    text = Text(measured(fact), style="bold")
    if live.mark(fact):
        text.append(f" {live.mark(fact)}")
    if fact.earlier_values:
        text.append(f" (after {', '.join(number(e) for e in fact.earlier_values)})", style="dim")
    return text


def _sutures(live: _Live) -> list[RenderableType]:
    sutures, ties = live.facts(live.record.sutures), live.facts(live.record.ties)
    own = placed(sutures)
    out: list[RenderableType] = []
    if own:
        out += _section("SUTURES AT EACH POSITION", quadrant_table(own, ties, live.marks))
    if ties:
        rows = [(f"{first_up(tie_line(t))} {live.mark(t)}".rstrip(), said_at(t.evidence)) for t in ties]
        out += _section("TIES", _lines(rows))
    rest = [s for s in sutures if s not in own]
    if rest:
        rows = [(f"{stitch_words(s)}{_at(place_words(s))} {live.mark(s)}".rstrip(), said_at(s.evidence)) for s in rest]
        out += _section("STITCHES", _lines(rows))
    return out


def _at(place: str) -> str:
    return f"; {place}" if place else ""


def _lines(rows: Iterable[tuple[str, str]]) -> Table:
    """Lines with where each was said."""
    table = Table.grid(padding=(0, 3, 0, 0))
    for text, said in rows:
        table.add_row(text, Text(said, style="dim"))
    return table


def _steps(live: _Live) -> list[RenderableType]:
    facts = live.facts(live.record.steps)
    done = [s for s in facts if s.status == "performed"]
    out: list[RenderableType] = []
    if done:
        table = Table.grid(padding=(0, 2, 0, 0))
        table.add_column(justify="right")
        for place, step in enumerate(done, 1):
            table.add_row(str(place), _step(step, live), Text(said_at(step.evidence), style="dim"))
        out += _section("STEPS, IN THE ORDER TOLD", table)
    spoken = [s for s in facts if s.status in NOT_DONE]
    if spoken:
        names = {"conditional": "only if needed", "planned": "considered or planned", "declined": "not done"}
        rows = [(f"{_step(s, live)}: {names[s.status]}", said_at(s.evidence)) for s in spoken]
        out += _section("SPOKEN OF, NOT DONE", _lines(rows))
    return out


def _step(step: Step, live: _Live) -> str:
    return f"{step_words(step)} {live.mark(step)}".rstrip()


def _findings(live: _Live) -> list[RenderableType]:
    facts = live.facts(live.record.findings)
    if not facts:
        return []
    groups: dict[str, list[Finding]] = {}
    for fact in facts:
        part = (fact.structure or "").split("-")[0]
        groups.setdefault(part if part in v.COMPARTMENTS else "elsewhere", []).append(fact)
    table = Table.grid(padding=(0, 3, 0, 0))
    for name in (*v.COMPARTMENTS, "elsewhere"):
        for i, fact in enumerate(groups.get(name, [])):
            text = f"{finding_words(fact)} {live.mark(fact)}".rstrip()
            table.add_row("" if i else name, text, Text(said_at(fact.evidence), style="dim"))
    return _section("FINDINGS", table)


def _things(live: _Live) -> list[RenderableType]:
    devices, grafts = live.facts(live.record.devices), live.facts(live.record.grafts)
    rows = [(f"{device_words(d)} {live.mark(d)}".rstrip(), said_at(d.evidence)) for d in devices]
    rows += [(f"{graft_words(g)} {live.mark(g)}".rstrip(), said_at(g.evidence)) for g in grafts]
    return _section("DEVICES AND GRAFTS", _lines(rows)) if rows else []


def _plan(live: _Live) -> list[RenderableType]:
    facts = live.facts(live.record.plan)
    rows = [(f"{': '.join(plan_words(p))} {live.mark(p)}".rstrip(), said_at(p.evidence)) for p in facts]
    return _section("PLAN", _lines(rows)) if rows else []


def _elements(live: _Live) -> list[RenderableType]:
    elements = live.record.elements
    said = live.facts(e for name in v.ELEMENTS if (e := getattr(elements, name)))
    if not said:
        return []
    table = Table.grid(padding=(0, 3, 0, 0))
    table.add_column(no_wrap=True)
    table.add_column(ratio=1)
    for element in said:
        table.add_row(f"{plain(element.id)} {live.mark(element)}".rstrip(), " ".join(element.text.split()))
    return _section("THE REPORT AROUND IT", table)


def _repairs(record: CaseRecord) -> list[RenderableType]:
    rows = [
        (f"heard {quoted(r.heard)}, read as {quoted(r.read_as)}: {r.why}", said_at(r.evidence)) for r in record.repairs
    ]
    return _section("MISHEARD AND PUT RIGHT", _lines(rows)) if rows else []
