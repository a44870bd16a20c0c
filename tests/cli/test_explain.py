"""`extractor explain`: quantities as the interface fixes them, rules that fired and nearly, the ledger."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from extractor.batch.inputs import find_notes, read_note
from extractor.grammar.packs import Grammar
from extractor.outputs.ledger import ledger

Run = Callable[..., Any]


@pytest.mark.parametrize(
    ("sentence", "expected"),
    [
        ("the defect was nineteen millimeters", [(19, None, None, "mm")]),
        ("two to three centimeters", [(None, 20, 30, "mm")]),
        ("flexed to ninety degrees for an hour and ten minutes", [(90, None, None, "deg"), (70, None, None, "min")]),
        ("at least ten cc", [(None, 10, None, "mL")]),
        ("eighteen by nine", [(18, None, None, None), (9, None, None, None)]),
        ("nothing was measured", []),
    ],
)
def test_quantities_are_ucum_with_characters(run: Run, sentence: str, expected: list[tuple[object, ...]]) -> None:
    """UCUM codes (UCUM 2.2, table of units): mm, deg, min, mL; a number without unit has null."""
    found = run("explain", sentence, "--json").json["quantities"]
    assert [(q["value"], q["low"], q["high"], q["unit"]) for q in found] == expected
    assert all(sentence[q["start"] : q["end"]] == q["text"] for q in found)


def test_json_has_all_parts(run: Run) -> None:
    data = run("explain", "The graft was cut at eighteen millimeters.", "--json").json
    assert {"quantities", "concepts", "clauses", "rules"} <= set(data)
    assert {"fired", "nearly"} == set(data["rules"])
    for part in (*data["concepts"], *data["clauses"]):
        assert data["text"][part["start"] : part["end"]] == part["text"]
    fired = data["rules"]["fired"]
    assert fired and all(":" in rule["where"] or rule["where"] == "built in" for rule in fired)


def test_a_rule_that_nearly_fired_says_what_it_wanted(run: Run) -> None:
    """'The gap was found' names what a measuring rule is about, and no number."""
    data = run("explain", "The meniscus graft, four millimeters.", "--json").json
    nearly = data["rules"]["nearly"]
    assert nearly and all(near["why_not"] and near["where"].count(":") == 1 for near in nearly)
    fired = {rule["rule"] for rule in data["rules"]["fired"]}
    assert not fired & {near["rule"] for near in nearly}


def test_a_denied_clause_is_shown_as_denied(run: Run) -> None:
    clauses = run("explain", "We did not trim the graft of the meniscus.", "--json").json["clauses"]
    assert [c["negated"] for c in clauses] == [True]


def test_a_sentence_without_its_subject_is_read_as_part_of_a_note(run: Run) -> None:
    ran = run("explain", "Tourniquet time was fifty minutes.")
    assert ran.code == 0 and "tourniquet.time" in ran.out and "does not say what it is about" in ran.out


@pytest.mark.parametrize("sentence", ["", " ", "...", "\U0001f9b5", "مرحبا", "mm " * 300])
def test_any_words_are_explained(run: Run, sentence: str) -> None:
    assert run("explain", sentence, "--json").code == 0


def test_neither_sentence_nor_ledger_is_bad_input(run: Run) -> None:
    assert run("explain").code == 2


NOTE = """\
Left knee, lateral meniscus transplant with the thirty degree scope. He is forty years old.
The defect measured nineteen millimeters. An eight millimeter cannula was placed. Tourniquet sixty minutes.
The blue thing on the wall was seventy millimeters.
"""


def test_the_ledger_accounts_for_every_number_with_a_unit(run: Run, tmp_path: Path) -> None:
    (tmp_path / "n.txt").write_text(NOTE, encoding="utf-8")
    ran = run("explain", "--ledger", tmp_path / "n.txt", "--json")
    went = {n["text"]: n["went"] for n in ran.json[0]["numbers"]}
    assert ran.code == 0
    assert {went[t] for t in ("nineteen millimeters", "sixty minutes")} == {"fact"}
    assert next(w for t, w in went.items() if "ight millimeter" in t) == "device"
    assert next(w for t, w in went.items() if "hirty" in t) == "known"
    assert next(w for t, w in went.items() if "seventy" in t) == "flagged"
    assert "closes" in run("explain", "--ledger", tmp_path / "n.txt").out


def test_the_ledger_closes_on_our_own_notes(run: Run) -> None:
    files = sorted((Path(__file__).resolve().parents[1] / "gold").glob("*.yaml"))
    ran = run("explain", *(part for f in files for part in ("--ledger", f)))
    assert files and ran.code == 0, "\n".join(line for line in ran.out.splitlines() if line.startswith("  open"))


def test_the_ledger_closes_on_the_shared_notes(shared: Path, grammar: Grammar) -> None:
    """On every note there is; of those kept for measuring nothing but a name and a count is ever shown."""
    folders = [shared / name for name in ("gold", "gold-checks", "real-notes", "real-notes/other")]
    files = [f for folder in folders for f in sorted(folder.glob("*.*")) if f.suffix in (".yaml", ".txt")]
    notes = find_notes([str(f) for f in files], ("text", "annotated"))
    count = {n.case_id: Counter(e.went for e in ledger(read_note(n).text, grammar)) for n in notes}
    assert len(notes) == len(files) > 80 and sum(c.total() for c in count.values()) > 500
    assert {name: c["open"] for name, c in count.items() if c["open"]} == {}


def test_bytes_that_are_no_text_are_told(run: Run) -> None:
    ran = run("explain", "knee \udced left")
    assert ran.code == 2 and "not UTF-8" in ran.err and "internal" not in ran.err
