from __future__ import annotations

import jsonschema
from hypothesis import given, settings
from hypothesis import strategies as st

from extractor.checks import CHECKS, check_file, run_checks
from extractor.checks.derive import derive_all
from extractor.facts.draft import FactDraft, FlagDraft, Span
from extractor.grammar.limits import Limits, load_limits
from extractor.record import build_record, facts_by_id, record_of, record_schema, write_record
from extractor.record import vocabulary as v
from extractor.record.files import record_json
from extractor.record.models import Review
from extractor.speech.transcript import Transcript

from .builders import Note

FOUND_IN_READING = {"number-uncertain", "term-uncertain", "unread-number"}


def test_every_check_of_the_contract_is_there_with_its_severity():
    codes = {check.code for check in CHECKS}
    assert codes == set(v.CHECK_SEVERITY) - FOUND_IN_READING
    assert {check.code: check.severity for check in CHECKS} == {c: v.CHECK_SEVERITY[c] for c in codes}
    assert all(check.reason and check.source for check in CHECKS)


def bad_case() -> Note:
    return Note().transplant(side="right").measure("tear.length", 160).measure("tear.rim_distance", 3, None)


def test_the_gravest_first_and_ids_that_stay(limits: Limits):
    checked = run_checks(bad_case().record(), limits)
    rank = {"stop": 0, "review": 1, "note": 2}
    severities = [rank[f.severity] for f in checked.flags]
    assert severities == sorted(severities) and len(set(severities)) == 3
    assert run_checks(checked, limits) == checked
    assert len({f.id for f in checked.flags}) == len(checked.flags)


def test_a_rejected_fact_raises_nothing(limits: Limits):
    record = bad_case().record()
    assert "unit-suspect" in {f.check for f in run_checks(record, limits).flags}
    rejected = record.model_copy(update={"review": {"m1": Review(state="rejected")}})
    assert "unit-suspect" not in {f.check for f in run_checks(rejected, limits).flags}


def test_flags_from_reading_stay_and_are_not_said_twice(limits: Limits):
    span = (Span(0, 8, "length"),)
    fields = {"what": "tear.length", "value": 18}
    draft = FactDraft("measurements", fields, span, key="a")
    flags = [FlagDraft("unit-missing", "18 what?", span, ("a",)), FlagDraft("unread-number", "7?", span)]
    record = build_record(Transcript(text="eighteen"), [draft], flags=flags)
    checked = run_checks(record, limits)
    assert sorted(f.check for f in checked.flags if f.severity == "review") == ["unit-missing", "unread-number"]
    assert [f.message for f in checked.flags if f.check == "unit-missing"] == ["18 what?"]


def test_check_file(tmp_path, limits: Limits):
    write_record(bad_case().record(), tmp_path / "a.json")
    assert check_file(tmp_path / "a.json") == run_checks(bad_case().record(), limits)


def any_of(values: tuple[str, ...]) -> st.SearchStrategy[str | None]:
    return st.none() | st.sampled_from(values) | st.text(max_size=4)


number = st.none() | st.floats(-1e6, 1e6, allow_nan=False) | st.integers(-5, 200)
positions = st.sampled_from([f"{r}-{s}" for r in ("anterior", "posterior") for s in v.SURFACES]) | st.text(max_size=3)
draft = st.one_of(
    st.fixed_dictionaries(
        {
            "what": st.sampled_from(v.MEASUREMENTS) | st.text(max_size=5),
            "value": number,
            "low": number,
            "high": number,
            "unit": any_of(v.UNITS),
            "approximate": st.booleans(),
            "site": any_of(("femoral", "medial")),
            "role": st.sampled_from([None, "observed", "target", "made", "reference"]),
        }
    ).map(lambda f: ("measurements", f)),
    st.fixed_dictionaries(
        {
            "tissue": any_of(v.TISSUES),
            "region": any_of(v.REGIONS),
            "surface": any_of(v.SURFACES),
            "color": any_of(("blue", "white")),
            "pattern": any_of(v.SUTURE_PATTERNS),
            "form": any_of(v.SUTURE_FORMS),
            "technique": any_of(v.TECHNIQUES),
            "count": st.none() | st.integers(0, 9),
        }
    ).map(lambda f: ("sutures", f)),
    st.tuples(positions, positions).map(lambda pair: ("ties", {"between": pair})),
    st.sampled_from(v.STEPS).map(lambda code: ("steps", {"code": code})),
    st.fixed_dictionaries(
        {
            "code": st.sampled_from(v.PROCEDURES),
            "compartment": any_of(v.COMPARTMENTS),
            "side": st.sampled_from([None, "left", "right", "bilateral"]),
        }
    ).map(lambda f: ("procedures", f)),
    st.fixed_dictionaries({"structure": any_of(v.STRUCTURES), "finding": st.sampled_from(v.FINDINGS)}).map(
        lambda f: ("findings", f)
    ),
    st.sampled_from(["left", "right", "bilateral"]).map(lambda side: ("laterality", {"value": side})),
    st.fixed_dictionaries(
        {"kind": st.sampled_from(v.DEVICES), "size": number, "length": number, "unit": any_of(v.UNITS)}
    ).map(lambda f: ("devices", f)),
    st.fixed_dictionaries({"what": st.just("sutures"), "tissue": any_of(v.TISSUES), "count": st.integers(0, 9)}).map(
        lambda f: ("claims", f)
    ),
    st.sampled_from(v.ELEMENTS).map(lambda name: ("elements", {"name": name, "text": "x"})),
)
LIMITS = load_limits()
SCHEMA = jsonschema.Draft202012Validator(record_schema())


@settings(deadline=None, max_examples=150)
@given(st.lists(draft, max_size=25))
def test_whatever_a_record_holds_no_check_raises_or_edits(drafts: list[tuple[str, dict]]):
    text = "x" * 30
    record = build_record(
        Transcript(text=text),
        [FactDraft(kind, fields, (Span(n, n + 1, "r"),)) for n, (kind, fields) in enumerate(drafts)],
    )
    checked = run_checks(record, LIMITS)
    assert checked.model_copy(update={"flags": record.flags}) == record
    assert run_checks(checked, LIMITS) == checked
    derive_all(record, LIMITS)
    assert {identity for flag in checked.flags for identity in flag.facts} <= set(facts_by_id(record))
    data = checked.model_dump(mode="json")
    SCHEMA.validate(data)
    assert record_json(record_of(data, "here")) == record_json(checked)
