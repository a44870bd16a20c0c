"""The store: versions, the trail, search. On SQLite and on a real PostgreSQL."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest
from sqlalchemy import inspect, select, text
from sqlalchemy.exc import DBAPIError

from extractor.errors import InputError
from extractor.record import record_json
from extractor.review.act.primary import primary_facts, standing
from extractor.review.act.reading import Reader
from extractor.review.act.steps import Act, perform
from extractor.review.command import audit
from extractor.review.hear.arrive import take_text
from extractor.review.models import Person
from extractor.review.store.cases import StaleError, read_case, read_signatures, read_version, write_version
from extractor.review.store.connect import Store, StoreError, open_store, reading, writing
from extractor.review.store.search import PAGE, find_cases
from extractor.review.store.tables import metadata, trail
from extractor.review.store.trail import verify
from tests.review.conftest import RESEARCHER, SCRIBE, SURGEON
from tests.review.notes import CLEAN, FLAGGED, SIDELESS


def do(store: Store, reader: Reader, case_id: str, person: Person = SURGEON, **act: object) -> None:
    case = read_case(store, case_id)
    done = perform(Act.model_validate(act), case, person, reader, store)
    write_version(store, case_id, case.row.version, done.change, person)


def read_all(store: Store, reader: Reader, case_id: str) -> None:
    sheet = read_case(store, case_id).sheet
    assert sheet
    for fact in primary_facts(sheet.record):
        do(store, reader, case_id, do="accept", fact=fact.id)


def test_migrations_make_the_schema_that_the_code_uses(store: Store) -> None:
    found = inspect(store.engine)
    for table in metadata.tables.values():
        columns = {c["name"]: c for c in found.get_columns(table.name)}
        assert set(columns) == {c.name for c in table.columns}
        for column in table.columns:
            assert columns[column.name]["nullable"] == column.nullable, f"{table.name}.{column.name}"
        assert set(found.get_pk_constraint(table.name)["constrained_columns"]) == {c.name for c in table.primary_key}
        assert {i["name"] for i in found.get_indexes(table.name)} >= {i.name for i in table.indexes}


def test_opening_a_store_again_changes_nothing(tmp_path: Path, reader: Reader) -> None:
    first = open_store(str(tmp_path / "cases.sqlite"))
    case = take_text(first, reader, CLEAN, label="a", person=SURGEON, how="test")
    first.close()
    again = open_store(f"sqlite:///{tmp_path / 'cases.sqlite'}")
    assert read_case(again, case).row.side == "left"
    with reading(again) as connection:
        assert connection.exec_driver_sql("pragma journal_mode").scalar() == "wal"
    again.close()


@pytest.mark.parametrize(
    ("url", "told"), [("mysql://x/y", "no such kind"), ("/proc/nowhere/x.sqlite", "cannot be opened")]
)
def test_a_store_that_cannot_be_opened_is_told_in_one_sentence(url: str, told: str) -> None:
    with pytest.raises(StoreError, match=told):
        open_store(url)


def test_every_version_stays_readable(store: Store, reader: Reader) -> None:
    case = take_text(store, reader, CLEAN, label="a", person=SURGEON, how="test")
    do(store, reader, case, do="change", fact="side", fields={"value": "right"})
    do(store, reader, case, do="reject", fact="side")
    sides = [read_version(store, case, n).sheet.record.laterality.value for n in (1, 2, 3)]  # type: ignore[union-attr]
    assert sides == ["left", "right", "right"]
    before = read_case(store, case).sheet.record.review["side"].before  # type: ignore[union-attr]
    assert before and before["value"] == "left"


def test_the_later_of_two_writers_is_refused_and_nothing_of_either_is_lost(store: Store, reader: Reader) -> None:
    case_id = take_text(store, reader, CLEAN, label="a", person=SURGEON, how="test")
    seen = read_case(store, case_id)
    first = perform(Act(do="accept", fact="side"), seen, SURGEON, reader, store)
    second = perform(Act(do="accept", fact="p1"), seen, SCRIBE, reader, store)
    write_version(store, case_id, seen.row.version, first.change, SURGEON)
    with pytest.raises(StaleError):
        write_version(store, case_id, seen.row.version, second.change, SCRIBE)
    do(store, reader, case_id, SCRIBE, do="accept", fact="p1")
    review = read_case(store, case_id).sheet.record.review  # type: ignore[union-attr]
    assert (review["side"].who, review["p1"].who) == ("Marlow", "Tansy")


def test_undo_goes_back_step_by_step_and_not_over_another_persons_work(store: Store, reader: Reader) -> None:
    case = take_text(store, reader, CLEAN, label="a", person=SURGEON, how="test")
    before = read_case(store, case).sheet
    do(store, reader, case, do="accept", fact="side")
    do(store, reader, case, do="reject", fact="p1")
    do(store, reader, case, do="undo")
    assert set(read_case(store, case).sheet.record.review) == {"side"}  # type: ignore[union-attr]
    do(store, reader, case, do="undo")
    assert read_case(store, case).sheet == before
    with pytest.raises(InputError, match="nothing to undo"):
        do(store, reader, case, do="undo")
    do(store, reader, case, do="accept", fact="side")
    with pytest.raises(InputError, match="Marlow's"):
        do(store, reader, case, SCRIBE, do="undo")


def test_signing_needs_questions_settled_and_facts_read_and_ends_change(store: Store, reader: Reader) -> None:
    case = take_text(store, reader, FLAGGED, label="a", person=SURGEON, how="test")
    with pytest.raises(InputError, match="settled"):
        do(store, reader, case, do="sign")
    stops = [f for f in read_case(store, case).sheet.record.flags if f.severity == "stop"]  # type: ignore[union-attr]
    assert [f.check for f in stops] == ["graft-length-mismatch"]
    do(store, reader, case, do="answer", flag=stops[0].id, choice=2)
    with pytest.raises(InputError, match="read before signing"):
        do(store, reader, case, do="sign")
    read_all(store, reader, case)
    do(store, reader, case, do="sign")
    signed = read_case(store, case)
    assert signed.row.state == "signed" and signed.sheet
    with reading(store) as connection:
        (signature,) = read_signatures(connection, case)
    # the hash is of the file that the record package writes: anyone can compute it again
    assert signature.record_sha256 == hashlib.sha256(record_json(signed.sheet.record).encode()).hexdigest()
    with pytest.raises(InputError, match="amendment"):
        do(store, reader, case, do="reject", fact="side")
    with pytest.raises(InputError, match="reason"):
        do(store, reader, case, do="amend")
    do(store, reader, case, do="amend", words="the label was read again")
    do(store, reader, case, do="change", fact="m1", fields={"value": "21 mm"})
    do(store, reader, case, do="change", fact="m3", fields={"value": "20 mm"})
    read_all(store, reader, case)
    assert standing(read_case(store, case).sheet).stops == 0  # type: ignore[arg-type]
    do(store, reader, case, do="sign")
    assert read_case(store, case).row.state == "amended"
    with reading(store) as connection:
        assert [s.reason for s in read_signatures(connection, case)] == [None, "the label was read again"]
        assert verify(connection, case) is None


def test_a_researcher_changes_nothing(store: Store, reader: Reader) -> None:
    case = take_text(store, reader, CLEAN, label="a", person=SURGEON, how="test")
    with pytest.raises(InputError, match="researcher"):
        do(store, reader, case, RESEARCHER, do="accept", fact="side")


def test_the_database_itself_refuses_to_alter_the_trail(store: Store, reader: Reader) -> None:
    case = take_text(store, reader, CLEAN, label="a", person=SURGEON, how="test")
    for statement in ("update trail set who = 'another'", "delete from trail", "delete from versions"):
        with pytest.raises(DBAPIError, match="append-only"), writing(store) as connection:
            connection.execute(text(statement))
    with reading(store) as connection:
        assert verify(connection, case) is None


@pytest.mark.parametrize(
    ("statement", "told"),
    [
        ("update trail set who = 'another' where number = 3", "line 3 .* was altered"),
        ("update trail set detail = replace(detail, 'left', 'right') where number = 3", "line 3 .* was altered"),
        ("delete from trail where number = 2", "line 2 is missing"),
        ("delete from trail where number = 4", "ends at line 3, but 4 lines were written"),
        ("update versions set body = (select body from versions where version = 1) where version = 2",
         "line 3 .*: version 2 of the record was altered"),
        ("delete from versions where version = 3", "line 4 .*: version 3 of the record is gone"),
    ],
)  # fmt: skip
def test_audit_names_the_first_broken_link(store: Store, reader: Reader, statement: str, told: str) -> None:
    case = take_text(store, reader, CLEAN, label="a", person=SURGEON, how="test")  # lines 1 and 2
    do(store, reader, case, do="accept", fact="side")
    do(store, reader, case, do="accept", fact="p1")
    with writing(store) as connection:  # whoever can do this owns the machine; the chain must still tell
        if store.engine.dialect.name == "sqlite":
            for table in ("trail", "versions"):
                for verb in ("update", "delete"):
                    connection.execute(text(f"drop trigger {table}_no_{verb}"))
        else:
            for table in ("trail", "versions"):
                connection.execute(text(f"drop trigger {table}_append_only on {table}"))
        connection.execute(text(statement))
    with reading(store) as connection:
        broken = verify(connection, case)
    assert broken is not None
    import re

    assert re.search(told, broken), broken


def test_audit_prints_the_trail_and_says_that_it_holds(tmp_path: Path, reader: Reader) -> None:
    url = str(tmp_path / "cases.sqlite")
    store = open_store(url)
    case = take_text(store, reader, CLEAN, label="a", person=SURGEON, how="test")
    do(store, reader, case, do="accept", fact="side")
    with reading(store) as connection:
        rows = list(connection.execute(select(trail).order_by(trail.c.number)))
    store.close()
    said: list[str] = []
    assert audit(case, say=said.append, store=url)
    assert len(said) == 5 and "accept" in said[3] and said[-1].startswith("The trail holds")
    # the chain computed here from what is published of it, not by the program's own function
    before = "0" * 64
    for row in rows:
        line = [row.case_id, row.number, row.at, row.who, row.act, row.detail, row.version, row.body_sha256, before]
        before = hashlib.sha256(json.dumps(line, ensure_ascii=False, separators=(",", ":")).encode()).hexdigest()
        assert row.hash == before
    with pytest.raises(StoreError, match="no such case"):
        audit("0123456789abcdef", say=said.append, store=url)


def test_search_finds_by_side_procedure_state_and_words(store: Store, reader: Reader) -> None:
    made = {
        name: take_text(store, reader, note, label=f"{name}.txt", person=SURGEON, how="test")
        for name, note in {"clean": CLEAN, "flagged": FLAGGED, "sideless": SIDELESS}.items()
    }
    do(store, reader, made["clean"], do="accept", fact="side")
    expected = {
        "left": ["clean"], "right": ["flagged"], "transplant": ["flagged"], "RADIAL tear": ["clean"],
        "new": ["flagged", "sideless"], "in-review": ["clean"], "sideless.txt": ["sideless"],
        "right tourniquet": [], "medial": ["flagged", "sideless"], "100%": [], "": ["clean", "flagged", "sideless"],
    }  # fmt: skip
    names = {case: name for name, case in made.items()}
    with reading(store) as connection:
        for query, want in expected.items():
            found = [names[row.id] for row in find_cases(connection, query).rows]
            assert sorted(found) == sorted(want), query
        assert [names[r.id] for r in find_cases(connection).rows] == ["clean", "flagged", "sideless"]  # oldest first
        assert find_cases(connection, show="signed").rows == []


def test_a_long_list_comes_in_pages(store: Store, reader: Reader) -> None:
    for number in range(PAGE + 3):
        take_text(store, reader, "The rim was rasped.", label=f"{number}.txt", person=SURGEON, how="test")
    with reading(store) as connection:
        first, second = find_cases(connection), find_cases(connection, page=1)
    assert (len(first.rows), first.more, len(second.rows), second.more) == (PAGE, True, 3, False)
    assert not {row.id for row in first.rows} & {row.id for row in second.rows}
