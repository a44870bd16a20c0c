"""Whole notes: how well they are read against their annotations, and that nothing is invented.

tests/gold are notes worded and annotated for the project. Those of ../shared (annotated notes, real reports of knee
arthroscopy, notes of other work) are no part of the repository: the tests on them skip where the folder is absent.
Floors stand a little below what was measured when they were set, so that a loss is seen.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import pytest

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.record import CaseRecord
from extractor.record.models import LISTS
from extractor.speech.transcript import Transcript

from .scoring import PRIMARY, Score, read_gold, score

OWN = sorted((Path(__file__).parent / "gold").glob("n*.yaml"))
SINCE_READ = "u208"
"""Notes up to this one were read since, and move to tests/gold as they are mended."""
UNREAD = sorted(p for p in (Path(__file__).parent / "gold_unread").glob("u*.yaml") if p.stem > SINCE_READ)
"""Written blind and worked on by nobody: what fails in them is never printed."""
SHARED_NOTES = [f"gold/d{n:02}" for n in range(1, 21)] + [f"gold-checks/c{n:02}" for n in range(1, 13)]
REAL_NOTES = [f"real-notes/r{n:02}" for n in range(1, 12, 2)]
OPEN_KNEE = "open knee"
MENISCUS = ("meniscus.", "tear.", "defect.", "rim.", "graft.", "resection.", "stitch.")


@cache
def read(path: Path) -> CaseRecord:
    gold = read_gold(path)
    return extract(Transcript(text=gold["note"]), load_grammar(), case_id=gold["id"])


def scored(paths: list[Path]) -> Score:
    return score((read_gold(path), read(path)) for path in paths)


@pytest.fixture(scope="module")
def own() -> Score:
    return scored(OWN)


@pytest.fixture(scope="module")
def annotated(shared: Path) -> Score:
    return scored([shared / f"{name}.yaml" for name in SHARED_NOTES])


@pytest.fixture(scope="module")
def real(shared: Path) -> Score:
    return scored([shared / f"{name}.yaml" for name in REAL_NOTES])


def told(total: Score) -> str:
    return "\n".join(total.errors)


def well_formed(record: CaseRecord, text: str) -> None:
    """Every fact has evidence, and every piece of evidence is what stands at its place in the note."""
    facts = [fact for kind in LISTS for fact in getattr(record, kind)]
    facts += [record.laterality] if record.laterality else []
    assert all(fact.evidence for fact in facts)
    for fact in facts:
        for piece in fact.evidence:
            assert text[piece.start : piece.end] == piece.text and piece.text.strip()


@pytest.mark.parametrize("path", OWN, ids=lambda path: path.stem)
def test_own_note_is_read(path: Path) -> None:
    gold, record = read_gold(path), read(path)
    well_formed(record, gold["note"])
    side = record.laterality.value if record.laterality else None
    assert side == gold["facts"].get("laterality", side)
    for kind in ("measurements", "sutures", "ties", "steps"):
        if kind in gold["facts"]:
            assert bool(getattr(record, kind)) == bool(gold["facts"][kind]), kind


@pytest.mark.parametrize(
    ("kinds", "floor"),
    [
        (PRIMARY, 0.975),
        (("laterality",), 0.99),
        (("measurements",), 0.97),
        (("sutures",), 0.98),
        (("ties",), 0.99),
        (("steps",), 0.98),
        (("procedures",), 0.985),
        (("findings",), 0.98),
        (("devices",), 0.975),
        (("plan",), 0.985),
    ],
    ids=lambda value: "-".join(value) if isinstance(value, tuple) and len(value) == 1 else None,
)
def test_own_notes(own: Score, kinds: tuple[str, ...], floor: float) -> None:
    assert own.notes > 300
    assert own.f1(*kinds) >= floor, told(own)


@pytest.mark.parametrize(
    ("kinds", "floor"),
    [
        (PRIMARY, 0.928),
        (("laterality",), 0.99),
        (("measurements",), 0.925),
        (("sutures",), 0.9),
        (("steps",), 0.98),
        (("procedures",), 0.916),
        (("findings",), 0.967),
        (("plan",), 0.964),
    ],
    ids=lambda value: "-".join(value) if isinstance(value, tuple) and len(value) == 1 else None,
)
def test_notes_that_nobody_worked_on(kinds: tuple[str, ...], floor: float) -> None:
    """Floors a point below what was measured: the honest figure of the rules, to be raised and never to fall."""
    total = scored(UNREAD)
    assert total.notes == 20
    assert total.f1(*kinds) >= floor, total.f1(*kinds)


@pytest.mark.parametrize(
    ("name", "most"), [("traps", 0.012), ("not_performed", 0.015), ("false_alarms", 0.012), ("flags", 0.12)]
)
def test_own_notes_say_nothing_untrue(own: Score, name: str, most: float) -> None:
    assert own.of[name] > 25
    assert own.share_bad(name) <= most, told(own)


@pytest.mark.parametrize(
    ("kinds", "floor"),
    [
        (PRIMARY, 0.995),
        (("laterality",), 1.0),
        (("steps",), 0.99),
        (("procedures",), 0.99),
        (("findings",), 0.98),
        (("devices",), 0.98),
        (("plan",), 0.98),
    ],
    ids=lambda value: "-".join(value) if isinstance(value, tuple) and len(value) == 1 else None,
)
def test_annotated_notes(annotated: Score, kinds: tuple[str, ...], floor: float) -> None:
    assert annotated.notes == len(SHARED_NOTES)
    assert annotated.f1(*kinds) >= floor, told(annotated)


@pytest.mark.parametrize("name", ["traps", "not_performed", "false_alarms", "flags"])
def test_annotated_notes_say_nothing_untrue(annotated: Score, name: str) -> None:
    assert annotated.of[name] > 10
    assert annotated.bad[name] == 0, told(annotated)


@pytest.mark.parametrize(
    ("kinds", "floor"),
    [
        (("laterality",), 1.0),
        (("measurements",), 0.95),
        (("procedures",), 0.9),
        (("steps",), 0.9),
        (("findings",), 0.9),
    ],
    ids=lambda value: "-".join(value) if isinstance(value, tuple) else None,
)
def test_real_reports(real: Score, kinds: tuple[str, ...], floor: float) -> None:
    assert real.f1(*kinds) >= floor, told(real)


def test_real_reports_say_nothing_untrue(real: Score) -> None:
    assert real.of["traps"] > 50
    assert real.share_bad("traps") <= 0.02, told(real)
    assert real.bad["false_alarms"] == 0 and real.bad["flags"] == 0, told(real)


def other_work(shared: Path) -> list[tuple[str, str, CaseRecord]]:
    """(title, group, record) of the real notes that are not of arthroscopic knee work."""
    folder = shared / "real-notes" / "other"
    with (folder / "index.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    found = []
    for row in rows:
        path = folder / f"{row['id']}.txt"
        if path.is_file():
            text = path.read_text(encoding="utf-8")
            record = extract(Transcript(text=text), load_grammar(), case_id=row["id"])
            well_formed(record, text)
            found.append((f"{row['id']} {row['title']}", row["group"], record))
    return found


def test_notes_of_other_work_give_no_knee_facts(shared: Path) -> None:
    """Other joints, scans, consults, therapy, open surgery: no meniscus work, and no operation that was none."""
    notes = other_work(shared)
    assert len(notes) > 30 and len({group for _, group, _ in notes}) == 3
    for title, group, record in notes:
        assert not record.sutures and not record.ties, title
        assert not [p for p in record.procedures if p.status == "performed"], title
        assert not [m for m in record.measurements if m.what.startswith(MENISCUS)], title
        if not group.startswith(OPEN_KNEE):
            assert not record.measurements and not record.devices, title
            assert not [s for s in record.steps if s.status == "performed"], title


def test_notes_of_other_joints_give_nothing_at_all(shared: Path) -> None:
    joints = [(title, record) for title, group, record in other_work(shared) if "another joint" in group]
    assert len(joints) >= 5
    for title, record in joints:
        assert record.laterality is None and not record.flags, title
        assert not any(getattr(record, kind) for kind in LISTS), title
