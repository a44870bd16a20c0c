"""What a reviewer can do with a sheet: values as typed, questions and their answers, facts added, addenda."""

from __future__ import annotations

import pytest

from extractor.checks.words import called
from extractor.errors import InputError
from extractor.grammar.limits import Limit
from extractor.language.quantity_words import quantity_words
from extractor.record.models import Flag, facts_by_id
from extractor.review.act import facts as do
from extractor.review.act.addendum import joined, read_again
from extractor.review.act.primary import open_flags, primary_facts, standing
from extractor.review.act.propose import evidence_at, propose
from extractor.review.act.questions import question_of
from extractor.review.act.reading import Reader
from extractor.review.act.settle import answer
from extractor.review.act.typed import judge, parse_value
from extractor.review.models import NotePart, Sheet
from extractor.review.show.forming import change_form
from extractor.speech.transcript import Transcript
from tests.review.notes import CLEAN, FLAGGED, SIDELESS

WHEN = "2026-01-02T03:04:05+00:00"


def sheet_of(reader: Reader, text: str) -> Sheet:
    transcript = Transcript(text=text)
    part = NotePart(recording="r", start=0, end=len(text), at=WHEN)
    return Sheet(record=reader.read(transcript, "c"), transcript=transcript, parts=(part,))


def measured(sheet: Sheet, what: str) -> list[tuple[float | None, tuple[float, ...]]]:
    return [(m.value, m.earlier_values) for m in sheet.record.measurements if m.what == what]


# 1 in = 25.4 mm exactly (international inch, 1959); cm to mm is by definition of the prefix (SI brochure)
@pytest.mark.parametrize(
    ("typed", "due", "expected"),
    [
        ("19", "mm", (19, None, None, "mm", False)),
        (" 19 mm ", "mm", (19, None, None, "mm", False)),
        ("1.9 cm", "mm", (19, None, None, "mm", False)),
        ("1,9cm", "mm", (19, None, None, "mm", False)),
        ("1 inch", "mm", (25.4, None, None, "mm", False)),
        ("about 10", "mm", (10, None, None, "mm", True)),
        ("1 to 2", "mm", (None, 1, 2, "mm", False)),
        ("1–2 mm", "mm", (None, 1, 2, "mm", False)),
        ("at least 5", "mm", (None, 5, None, "mm", False)),
        ("<3 mm", "mm", (None, None, 3, "mm", False)),
        ("-5", "deg", (-5, None, None, "deg", False)),
        ("1.5 hours", "min", (90, None, None, "min", False)),
        ("40 cc", "mL", (40, None, None, "mL", False)),
    ],
)
def test_typed_values_are_read_with_their_unit(typed: str, due: str, expected: tuple[object, ...]) -> None:
    value = parse_value(typed, due)
    assert (value.value, value.low, value.high, value.unit, value.approximate) == expected


@pytest.mark.parametrize(
    ("typed", "told"),
    [("", "Type a number"), ("abc", "Type a number"), ("19 minutes", "no unit for this"), ("19 blorbs", "no unit"),
     ("3 to 2", "smaller"), ("1e9", "Type a number")],
)  # fmt: skip
def test_what_is_no_value_is_told_in_a_sentence(typed: str, told: str) -> None:
    with pytest.raises(InputError, match=told):
        parse_value(typed, "mm")


def test_a_value_is_held_against_what_can_be_and_what_is_usual() -> None:
    limit = Limit("x.length", "here", "s", "none", called="length", unit="mm", possible=(2, 60), usual=(8, 45),
                  why="size of the thing")  # fmt: skip
    levels = {
        text: judge(limit, parse_value(text, "mm")).level for text in ("19", "50", "61", "1 to 9", "5 cm", "7 cm")
    }
    assert levels == {
        "19": "usual", "50": "unusual", "61": "impossible", "1 to 9": "impossible", "5 cm": "unusual",
        "7 cm": "impossible",
    }  # fmt: skip
    assert "size of the thing" in judge(limit, parse_value("61", "mm")).sentence


def test_the_question_of_a_mismatch_offers_what_would_fit_and_each_answer_takes_effect(reader: Reader) -> None:
    sheet = sheet_of(reader, FLAGGED)
    (flag,) = open_flags(sheet, "stop")
    labels = [c.label for c in question_of(sheet, flag, reader.limits).choices]
    # the defect was 20 mm; one millimeter is taken off (contract, section 8.12), so 19, or a defect of 13, would fit 12
    assert labels[0].startswith("all are right") and labels[-1].startswith("leave open")
    assert any("graft is 19 mm" in label for label in labels) and any("defect is 13 mm" in label for label in labels)
    for number, label in enumerate(labels, 1):
        words = {"another value": "19 mm", "leave open, with a reason": "asked the surgeon"}.get(label, "")
        settled, _ = answer(sheet, flag.id, number, words, reader, "Tansy", WHEN)
        settled = settled.model_copy(update={"record": reader.check(settled.record)})
        assert not open_flags(settled, "stop"), label
        assert settled.settled[flag.id].who == "Tansy"
        if "graft is 19" in label or label == "another value":
            assert measured(settled, "graft.ap_length")[0][0] == 19
            review = next(r for r in settled.record.review.values() if r.state == "edited")
            assert review.before is not None and review.before["value"] == 12


def doubted(sheet: Sheet, check: str, fact: str, suggestion: str) -> Sheet:
    """The sheet with a doubt as the second reading raises it."""
    flag = Flag(id="d", check=check, severity="review", message="It may have been another.", facts=(fact,),
                suggestion=suggestion, origin="second-reading")  # fmt: skip
    return sheet.model_copy(update={"record": sheet.record.model_copy(update={"flags": (flag,)})})


@pytest.mark.parametrize(
    ("check", "fact", "suggestion", "label", "field", "value"),
    [
        ("number-uncertain", "m1", "the length of the tear 20 mm, by the sound", "20 mm", "value", 20),
        ("term-uncertain", "side", "right, by the sound", "right", "value", "right"),
        ("term-uncertain", "p1", "medial, by the sound: that would settle it", "compartment: medial", "compartment",
         "medial"),
    ],
)  # fmt: skip
def test_what_the_sound_proposes_is_a_choice_that_takes_effect(
    reader: Reader, check: str, fact: str, suggestion: str, label: str, field: str, value: object
) -> None:
    sheet = doubted(sheet_of(reader, CLEAN), check, fact, suggestion)
    choices = question_of(sheet, sheet.record.flags[0], reader.limits).choices
    (offered,) = [c for c in choices if c.label == label]
    assert "the sound allows it" in offered.why and choices[0].kind == "keep"
    new, _ = answer(sheet, "d", offered.number, "", reader, "Tansy", WHEN)
    assert getattr(facts_by_id(new.record)[fact], field) == value
    assert new.record.review[fact].state == "edited"


def test_a_word_that_no_field_of_the_fact_takes_is_no_choice(reader: Reader) -> None:
    sheet = doubted(sheet_of(reader, CLEAN), "term-uncertain", "m1", "'route', by the sound")
    assert [c.kind for c in question_of(sheet, sheet.record.flags[0], reader.limits).choices] == [
        "keep", "reject", "open",
    ]  # fmt: skip


def test_fields_are_read_and_typed_in_words(reader: Reader) -> None:
    sheet = sheet_of(reader, CLEAN)
    form = change_form("measurements", facts_by_id(sheet.record)["m1"], reader.limits)
    shown = {f.form.name: f.value for f in form.fields}
    assert shown["what"] == "length of the tear"
    for words in next(f.words for f in form.fields if f.form.name == "what"):
        record = do.change(sheet.record, "m1", {"what": words.upper(), "value": "3"}, reader.limits, "Tansy", WHEN)
        assert called(facts_by_id(record)["m1"].what, reader.limits) == words  # type: ignore[attr-defined]


def test_an_answer_that_asks_for_words_needs_them(reader: Reader) -> None:
    sheet = sheet_of(reader, FLAGGED)
    (flag,) = open_flags(sheet, "stop")
    last = len(question_of(sheet, flag, reader.limits).choices)
    with pytest.raises(InputError, match="why it stays open"):
        answer(sheet, flag.id, last, "  ", reader, "Tansy", WHEN)
    with pytest.raises(InputError, match="no choice 9"):
        answer(sheet, flag.id, 9, "", reader, "Tansy", WHEN)
    with pytest.raises(InputError, match="no longer open"):
        answer(sheet, "nothing", 1, "", reader, "Tansy", WHEN)


def test_a_question_settled_opens_again_when_it_reads_otherwise(reader: Reader) -> None:
    sheet = sheet_of(reader, FLAGGED)
    (flag,) = open_flags(sheet, "stop")
    settled, _ = answer(sheet, flag.id, 1, "", reader, "Tansy", WHEN)
    assert not open_flags(settled, "stop")
    graft = next(m.id for m in settled.record.measurements if m.what == "graft.ap_length")
    record = do.change(settled.record, graft, {"value": "11"}, reader.limits, "Tansy", WHEN)
    assert open_flags(settled.model_copy(update={"record": reader.check(record)}), "stop")


def test_a_side_never_said_is_asked_and_given(reader: Reader) -> None:
    sheet = sheet_of(reader, SIDELESS)
    flag = next(f for f in open_flags(sheet) if f.check == "side-missing")
    choices = question_of(sheet, flag, reader.limits).choices
    number = next(c.number for c in choices if c.label == "left")
    settled, _ = answer(sheet, flag.id, number, "", reader, "Tansy", WHEN)
    assert settled.record.laterality and settled.record.laterality.value == "left"
    assert "side-missing" not in [f.check for f in reader.check(settled.record).flags]


def test_changing_the_side_changes_that_of_the_procedures_read_with_it(reader: Reader) -> None:
    sheet = sheet_of(reader, CLEAN)
    assert {p.side for p in sheet.record.procedures} == {"left"}
    record = do.change(sheet.record, "side", {"value": "right"}, reader.limits, "Tansy", WHEN)
    assert {p.side for p in record.procedures} == {"right"}
    assert "side-conflict" not in [f.check for f in reader.check(record).flags]


@pytest.mark.parametrize(
    ("fact", "typed", "told"),
    [
        ("side", {"value": "middle"}, "one of left, right"),
        ("m1", {"value": "twelve"}, "Type a number"),
        ("m1", {"color": "red"}, "no color"),
        ("m1", {"what": ""}, "cannot be left out"),
        ("m99", {"value": "1"}, "no longer in the record"),
    ],
)
def test_a_change_that_cannot_be_is_refused_in_a_sentence(
    reader: Reader, fact: str, typed: dict[str, str], told: str
) -> None:
    with pytest.raises(InputError, match=told):
        do.change(sheet_of(reader, CLEAN).record, fact, typed, reader.limits, "Tansy", WHEN)


@pytest.mark.parametrize(
    ("kind", "typed", "check"),
    [
        ("measurements", {"what": "rim.width", "value": "2"},
         lambda f: (f.what, f.value, f.unit) == ("rim.width", 2, "mm")),
        ("sutures", {"tissue": "native", "region": "posterior", "surface": "superior", "color": "blue", "count": "2"},
         lambda f: (f.color, f.count) == ("blue", 2)),
        ("ties", {"first": "posterior-superior", "second": "posterior-inferior"},
         lambda f: f.between == ("posterior-superior", "posterior-inferior")),
        ("steps", {"code": "trephination", "status": "performed"}, lambda f: f.code == "trephination" and f.order > 1),
        ("devices", {"kind": "cannula", "value": "8 mm"}, lambda f: (f.size, f.unit) == (8, "mm")),
        ("grafts", {"source": "allograft", "identifier": "3318"}, lambda f: f.identifier == "3318"),
        ("plan", {"item": "weight-bearing", "value": "partial"}, lambda f: f.value == "partial"),
        ("elements", {"name": "surgeon", "text": "Marlow"}, lambda f: f.text == "Marlow"),
        ("findings", {"structure": "acl", "finding": "intact", "status": "present"}, lambda f: f.finding == "intact"),
    ],
)  # fmt: skip
def test_a_missed_fact_is_added_with_the_words_it_rests_on(
    reader: Reader, kind: str, typed: dict, check: object
) -> None:
    sheet = sheet_of(reader, CLEAN)
    place = evidence_at(sheet, 0, 9)
    record, identity = do.add(sheet.record, kind, typed, place, reader.limits, "Tansy", WHEN)
    fact = facts_by_id(record)[identity]
    assert callable(check) and check(fact)
    assert fact.evidence[0].text == "Left knee" and record.review[identity].state == "accepted"
    assert identity not in facts_by_id(sheet.record) or kind == "elements"


def test_a_tie_needs_two_positions(reader: Reader) -> None:
    typed = {"first": "posterior-superior", "second": "posterior-superior"}
    sheet = sheet_of(reader, CLEAN)
    with pytest.raises(InputError, match="two different positions"):
        do.add(sheet.record, "ties", typed, evidence_at(sheet, 0, 4), reader.limits, "Tansy", WHEN)


def test_a_selected_sentence_is_proposed_as_what_the_grammar_reads_in_it(reader: Reader) -> None:
    sheet = sheet_of(reader, CLEAN)
    tear = next(m for m in sheet.record.measurements if m.what == "tear.length")
    without = sheet.record.model_copy(update={"measurements": tuple(m for m in sheet.record.measurements if m != tear)})
    start = CLEAN.index("The tear is twelve")
    found = propose(sheet.model_copy(update={"record": without}), start, CLEAN.index(".", start) + 1, reader)
    assert any(p.kind == "measurements" and (p.fields["what"], p.fields["value"]) == ("tear.length", 12) for p in found)


def added(sheet: Sheet, text: str, reader: Reader) -> Sheet:
    part = NotePart(recording="r2", addendum=True, start=0, end=0, at=WHEN)
    transcript, part = joined(sheet, Transcript(text=text), part)
    return read_again(sheet, transcript, part, reader, quantity_words())


def test_an_addendum_that_corrects_takes_the_place_of_what_it_corrects(reader: Reader) -> None:
    sheet = sheet_of(reader, FLAGGED)
    graft = next(m for m in sheet.record.measurements if m.what == "graft.ap_length")
    record = do.mark(sheet.record, graft.id, "accepted", "Tansy", WHEN)
    record = do.mark(record, "side", "accepted", "Tansy", WHEN)
    new = added(
        sheet.model_copy(update={"record": record}), "Correction, the graft was cut at nineteen millimeters.", reader
    )
    assert measured(new, "graft.ap_length") == [(19, (12,))]
    assert not open_flags(new, "stop")
    assert new.record.review["side"].state == "accepted"  # untouched by the addendum: read is read
    assert new.record.review[graft.id].state == "unreviewed"  # changed by it: to be read again
    assert new.transcript.text.startswith(FLAGGED) and new.parts[1].addendum
    for fact in facts_by_id(new.record).values():
        assert all(new.transcript.text[e.start : e.end] == e.text for e in fact.evidence)


def test_an_addendum_without_a_word_of_correction_leaves_both_values_and_asks(reader: Reader) -> None:
    new = added(sheet_of(reader, FLAGGED), "The graft was cut at nineteen millimeters.", reader)
    assert sorted(v for v, _ in measured(new, "graft.ap_length")) == [12, 19]
    assert "value-conflict" in [f.check for f in open_flags(new, "stop")]


def test_an_addendum_keeps_what_a_person_changed_and_added(reader: Reader) -> None:
    sheet = sheet_of(reader, CLEAN)
    record = do.change(sheet.record, "m1", {"value": "14"}, reader.limits, "Tansy", WHEN)
    record, identity = do.add(record, "steps", {"code": "trephination", "status": "performed"},
                              evidence_at(sheet, 0, 4), reader.limits, "Tansy", WHEN)  # fmt: skip
    new = added(sheet.model_copy(update={"record": record}), "Blood loss was five milliliters.", reader)
    facts = facts_by_id(new.record)
    assert facts["m1"].value == 14 and new.record.review["m1"].state == "edited"  # type: ignore[attr-defined]
    assert facts[identity].code == "trephination"  # type: ignore[attr-defined]
    assert measured(new, "blood_loss.volume") == [(5, ())]
    assert len(facts) == len({id(f) for f in facts.values()})


def test_primary_facts_are_side_procedures_measurements_sutures_and_ties(reader: Reader) -> None:
    sheet = sheet_of(reader, CLEAN)
    kinds = {type(fact).__name__ for fact in primary_facts(sheet.record)}
    assert kinds <= {"Laterality", "Procedure", "Measurement", "Suture", "Tie"} and "Laterality" in kinds
    assert standing(sheet).unread == tuple(fact.id for fact in primary_facts(sheet.record))
