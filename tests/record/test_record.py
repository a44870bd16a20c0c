from __future__ import annotations

import json

import jsonschema
import pytest
from pydantic import ValidationError

from extractor.errors import ExtractorError, InputError
from extractor.facts.draft import FactDraft, FlagDraft, RepairDraft, Span
from extractor.record import (
    CaseRecord,
    DraftError,
    build_record,
    facts_by_id,
    read_record,
    record_json,
    record_of,
    record_schema,
    write_record,
)
from extractor.record.models import LISTS
from extractor.speech.transcript import Transcript, Word

TEXT = "Right knee. The rim is two, no, three millimeters."
WORDS = tuple(
    Word(start=start, end=start + len(word), start_s=n * 0.5, end_s=n * 0.5 + 0.4, probability=0.9)
    for n, (word, start) in enumerate((w, TEXT.index(w)) for w in TEXT.split())
)
NOTE = Transcript(text=TEXT, words=WORDS, kind="audio", file_name="a.wav", seconds=5.0)


def at(words: str, rule: str = "a rule") -> Span:
    start = TEXT.index(words)
    return Span(start, start + len(words), rule)


def draft(kind: str, words: str, /, key: str = "", **fields: object) -> FactDraft:
    return FactDraft(kind, fields, (at(words),), key=key)


def test_evidence_has_words_and_seconds():
    record = build_record(NOTE, [draft("measurements", "rim is two, no, three", what="rim.width", value=3, unit="mm")])
    (evidence,) = record.measurements[0].evidence
    assert TEXT[evidence.start : evidence.end] == evidence.text == "rim is two, no, three"
    assert (evidence.start_s, evidence.end_s) == (1.5, 3.9)
    assert evidence.rule == "a rule"


def test_part_of_a_word_takes_the_whole_words_seconds_and_typed_text_has_none():
    first = build_record(NOTE, [draft("laterality", "ight", value="right")]).laterality
    assert first and (first.evidence[0].start_s, first.evidence[0].end_s) == (0.0, 0.4)
    typed = build_record(Transcript(text=TEXT), [draft("laterality", "Right", value="right")]).laterality
    assert typed and typed.evidence[0].start_s is None


def test_ids_and_order_do_not_depend_on_the_order_of_drafts():
    drafts = [
        draft("measurements", "three", what="rim.width", value=3, unit="mm"),
        draft("measurements", "two", what="rim.width", value=2, unit="mm"),
        draft("steps", "rim", code="rim-preparation"),
        draft("steps", "knee", code="positioning"),
    ]
    record = build_record(NOTE, drafts)
    assert [(m.id, m.value) for m in record.measurements] == [("m1", 2), ("m2", 3)]
    assert [(s.order, s.code) for s in record.steps] == [(1, "positioning"), (2, "rim-preparation")]
    assert record_json(build_record(NOTE, drafts[::-1])) == record_json(record)


def test_steps_may_bring_their_own_order():
    drafts = [draft("steps", "rim", code="a", order=1), draft("steps", "knee", code="b", order=2)]
    assert [s.code for s in build_record(NOTE, drafts).steps] == ["a", "b"]
    with pytest.raises(DraftError, match="some steps have an order"):
        build_record(NOTE, [*drafts, draft("steps", "two", code="c")])


def test_the_side_said_most_often_and_the_other_kept():
    drafts = [
        draft("laterality", words, value=side) for words, side in (("rim", "left"), ("Right", "right"), ("two", "left"))
    ]
    laterality = build_record(NOTE, drafts).laterality
    assert laterality and laterality.value == "left"
    assert [(o.value, o.evidence[0].text) for o in laterality.others] == [("right", "Right")]
    tied = build_record(NOTE, drafts[:2]).laterality
    assert tied and tied.value == "right", "on a tie the one said first"


def test_elements_said_twice_are_joined():
    drafts = [
        draft("elements", "rim", name="complications", text="none"),
        draft("elements", "Right", name="complications", text="none"),
    ]
    record = build_record(NOTE, drafts)
    assert record.elements.complications and record.elements.complications.text == "none"
    assert len(record.elements.complications.evidence) == 2
    more = build_record(NOTE, [*drafts, draft("elements", "two", name="complications", text="one")])
    assert more.elements.complications and more.elements.complications.text == "none; one"


def test_flags_and_repairs_from_reading():
    drafts = [draft("measurements", "two", key="w", what="rim.width", value=2)]
    flag = FlagDraft("number-uncertain", "2 or 3?", (at("two, no, three"),), ("w",), "3 mm")
    record = build_record(NOTE, drafts, [RepairDraft("ream", "rim", "a rim is meant", (at("rim"),))], "x", [flag])
    assert (record.flags[0].facts, record.flags[0].severity, record.flags[0].origin) == (("m1",), "review", "reading")
    assert record.repairs[0].evidence[0].text == "rim"


WRONG = [
    ([FactDraft("mesurements", {}, (at("rim"),))], "kind 'mesurements' (did you mean 'measurements'?)"),
    ([FactDraft("measurements", {"what": "rim.width"}, ())], "has no evidence"),
    ([draft("measurements", "rim", what="rim.width", valeu=2)], "field 'valeu' (did you mean 'value'?)"),
    ([draft("measurements", "rim", value=2)], "does not fit the record: what: Field required"),
    ([draft("measurements", "rim", what="rim.width", value="2")], "does not fit the record: value"),
    ([draft("measurements", "rim", what="rim.width", value=True)], "does not fit the record: value"),
    ([draft("measurements", "rim", what="rim.width", value=float("nan"))], "does not fit the record: value"),
    ([draft("measurements", "rim", what="rim.width", role="seen")], "does not fit the record: role"),
    ([draft("ties", "rim", between=("a",))], "does not fit the record: between"),
    ([draft("laterality", "rim", value="middle")], "does not fit the record: value"),
    ([draft("elements", "rim", name="surgon", text="x")], "named 'surgon' (did you mean 'surgeon'?)"),
    ([draft("elements", "rim", name="surgeon")], "has no text"),
    ([FactDraft("laterality", {"value": "left"}, (Span(0, 999, "far"),))], "rule 'far' points at characters 0 to 999"),
    ([FactDraft("laterality", {"value": "left"}, (Span(3, 3, "empty"),))], "rule 'empty' points at"),
    (
        [draft("steps", "rim", key="k", code="a"), draft("steps", "two", key="k", code="b")],
        "two drafts have the key 'k'",
    ),
    ([draft("procedures", "rim", code="x", compartment_others=["lateral"])], "compartment_others is a list of"),
]


@pytest.mark.parametrize(("drafts", "message"), WRONG)
def test_a_draft_that_does_not_fit_is_a_clear_error_and_never_dropped(drafts, message):
    with pytest.raises(ExtractorError) as refused:
        build_record(NOTE, drafts)
    assert message in str(refused.value)
    assert "\n" not in str(refused.value)


@pytest.mark.parametrize(
    ("flag", "message"),
    [
        (FlagDraft("unread-nmber", "?", ()), "did you mean 'unread-number'?"),
        (FlagDraft("unread-number", "?", (), ("gone",)), "points at a draft 'gone' that is not there"),
    ],
)
def test_a_flag_that_does_not_fit(flag, message):
    with pytest.raises(DraftError) as refused:
        build_record(NOTE, [], flags=[flag])
    assert message in str(refused.value)


def full() -> CaseRecord:
    fields: dict[str, dict[str, object]] = {
        "procedures": {"code": "meniscus-repair", "compartment_others": [{"value": "lateral", "spans": (at("rim"),)}]},
        "findings": {"structure": "patella", "finding": "chondral-lesion", "grade": {"system": "icrs", "value": 2}},
        "measurements": {"what": "a.new_one", "low": 1, "high": 2.5, "earlier_values": [2]},
        "sutures": {"usp_size": 2, "count": 3},
        "ties": {"between": ("posterior-superior", "posterior-inferior")},
        "steps": {"code": "a-step-of-a-site"},
        "devices": {"kind": "screw", "size": 9, "length": 28},
        "grafts": {"source": "allograft", "identifier": 4419},
        "plan": {"item": "weight-bearing", "value": "non"},
        "claims": {"what": "sutures", "count": 4},
    }
    assert set(fields) == set(LISTS)
    drafts = [FactDraft(kind, f, (at("knee"),)) for kind, f in fields.items()]
    drafts += [draft("laterality", "Right", value="right"), draft("elements", "rim", name="surgeon", text="the author")]
    return build_record(NOTE, drafts, case_id="full")


def test_json_reads_back_the_same_and_fits_the_schema(tmp_path):
    record = full()
    write_record(record, tmp_path / "deep" / "r.json")
    assert read_record(tmp_path / "deep" / "r.json") == record
    assert [p.name for p in (tmp_path / "deep").iterdir()] == ["r.json"], "no half-written file is left"
    text = (tmp_path / "deep" / "r.json").read_text(encoding="utf-8")
    assert text == record_json(record)
    schema = record_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(json.loads(text), schema)


def test_whole_numbers_are_written_whole_and_sizes_as_text():
    data = json.loads(record_json(full()))
    assert json.dumps(data["measurements"][0]["low"]) == "1"
    assert json.dumps(data["measurements"][0]["high"]) == "2.5"
    assert data["sutures"][0]["usp_size"] == "2"
    assert data["findings"][0]["grade"]["value"] == "2"
    assert data["grafts"][0]["identifier"] == "4419"


def test_keys_stand_in_the_order_of_the_contract():
    # record-contract.md, section 1; claims are this program's own.
    names = (
        "schema_version case_id source laterality procedures findings measurements sutures ties steps devices grafts "
        "plan elements claims flags repairs review"
    )
    data = json.loads(record_json(full()))
    assert list(data) == names.split()
    assert list(data["measurements"][0])[:2] == ["id", "what"]
    assert list(data["measurements"][0])[-2:] == ["certainty", "evidence"]


def test_the_schema_refuses_what_is_no_record():
    data = json.loads(record_json(full()))
    data["measurements"][0]["evidence"] = []
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(data, record_schema())


def test_every_fact_has_an_id_of_its_own():
    ids = list(facts_by_id(full()))
    assert ids == ["side", "p1", "f1", "m1", "s1", "t1", "st1", "d1", "g1", "pl1", "c1", "surgeon"]


def test_facts_cannot_be_changed_in_place():
    with pytest.raises(ValidationError):
        full().measurements[0].value = 3  # type: ignore[misc]


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"{", "is no JSON"),
        (b"\xff\xfe", "is not UTF-8"),
        (b"[1]", "is JSON but no case record"),
        (b'{"case_id": "x"}', "has schema_version None"),
        (b'{"case_id": "x", "schema_version": "2"}', "has schema_version '2' and this program reads '1'"),
        (b'{"case_id": "x", "schema_version": "1", "steps": [{"id": "st1"}]}', "steps.0"),
        (b'{"case_id": "x", "schema_version": "1", "extra": 1}', "extra does not fit a record"),
        (b"[" * 100000, "is no JSON"),
    ],
)
def test_a_file_that_is_no_record_gets_one_clear_sentence(tmp_path, content, message):
    path = tmp_path / "r.json"
    path.write_bytes(content)
    with pytest.raises(InputError) as refused:
        read_record(path)
    assert message in str(refused.value)
    assert "\n" not in str(refused.value)


def test_missing_file_and_place_that_cannot_be_written(tmp_path):
    with pytest.raises(InputError, match="cannot be read"):
        read_record(tmp_path / "none.json")
    (tmp_path / "file").write_text("")
    with pytest.raises(InputError, match="cannot be written"):
        write_record(full(), tmp_path / "file" / "r.json")


def test_a_record_of_older_years_without_later_fields_is_read():
    assert record_of({"case_id": "old", "schema_version": "1"}, "old.json") == CaseRecord(case_id="old")
