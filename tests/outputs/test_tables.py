"""Tables: tidy, complete, UCUM."""

from __future__ import annotations

import csv
import io

import pytest

from extractor.errors import InputError
from extractor.outputs.tables import tables
from extractor.record.models import LISTS
from extractor.record.vocabulary import UNITS

from .builders import Said, whole_case


def read(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_one_table_a_kind_with_a_row_a_fact() -> None:
    record = whole_case().record()
    out = tables([record])
    assert set(out) == {"cases", "laterality", "elements", "flags", "repairs", *LISTS}
    for kind in LISTS:
        rows = read(out[kind])
        assert [row["id"] for row in rows] == [fact.id for fact in getattr(record, kind)]
        assert all(row["case_id"] == "case-7" and row["text"] and row["rule"] for row in rows)


def test_values_come_back_as_they_went_in() -> None:
    record = whole_case().record()
    rows = {row["id"]: row for row in read(tables([record])["measurements"])}
    for fact in record.measurements:
        row = rows[fact.id]
        for name in ("value", "low", "high"):
            value = getattr(fact, name)
            assert row[name] == "" if value is None else float(row[name]) == value
        assert row["unit"] == (fact.unit or "") and row["unit"] in {*UNITS, ""}
        assert row["approximate"] == str(fact.approximate).lower()
    assert rows["m1"]["earlier_values"] == "18" and rows["m1"]["start_s"] == "70"
    tie = read(tables([record])["ties"])[0]
    assert (tie["between_1"], tie["between_2"]) == ("posterior-superior", "posterior-inferior")
    graded = [row for row in read(tables([record])["findings"]) if row["grade_value"]]
    assert [(row["grade_system"], row["grade_value"]) for row in graded] == [("outerbridge", "3")]


def test_columns_do_not_depend_on_what_was_said() -> None:
    full, empty = tables([whole_case().record()]), tables([Said().record()])
    assert {name: text.splitlines()[0] for name, text in full.items()} == {
        name: text.splitlines()[0] for name, text in empty.items()
    }


def test_flags_and_review_are_told() -> None:
    record = whole_case().record(("value-conflict", "stop", ("m1", "m2")), rejected=("m1",))
    out = tables([record])
    assert [(row["check"], row["facts"]) for row in read(out["flags"])] == [("value-conflict", "m1; m2")]
    assert read(out["measurements"])[0]["review"] == "rejected"
    assert read(out["cases"])[0]["flags_stop"] == "1"


def test_two_cases_of_one_name_are_refused() -> None:
    record = whole_case().record()
    with pytest.raises(InputError, match="case-7"):
        tables([record, record])
