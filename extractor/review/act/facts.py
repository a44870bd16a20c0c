"""Accept, change, reject, add: each gives a new record, its doubts set anew by the caller."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from pydantic import ValidationError

from extractor.errors import InputError
from extractor.grammar.limits import Limits
from extractor.record import vocabulary as v
from extractor.record.facts import Element, Evidence, Known, Laterality
from extractor.record.models import LISTS, CaseRecord, Review, facts_by_id
from extractor.review.act.fields import FieldForm, code_of, forms_of, kind_of
from extractor.review.act.typed import parse_value
from extractor.review.models import BY_HAND

CARRIED = ("id", "evidence", "certainty")


def fields_of(fact: Known) -> dict[str, Any]:
    """What a fact says, without its id, certainty and evidence."""
    return {name: value for name, value in fact.model_dump(mode="json").items() if name not in CARRIED}


def the_fact(record: CaseRecord, fact_id: str) -> Known:
    """The fact with this id.

    Raises:
        InputError: where the record has none.
    """
    fact = facts_by_id(record).get(fact_id)
    if fact is None:
        raise InputError("That fact is no longer in the record; look again.")
    return fact


def mark(record: CaseRecord, fact_id: str, state: v.ReviewState, who: str, when: str) -> CaseRecord:
    """Set a fact's review state; the fields before its first change are kept through all later ones."""
    the_fact(record, fact_id)
    old = record.review.get(fact_id)
    before = old.before if old else None
    if state == "accepted" and old and old.state == "edited":
        state = "edited"  # read again after a change: it stays changed, and is read
    review = {**record.review, fact_id: Review(state=state, who=who, when=when, before=before)}
    return record.model_copy(update={"review": review})


def change(
    record: CaseRecord, fact_id: str, typed: Mapping[str, str], limits: Limits, who: str, when: str
) -> CaseRecord:
    """Give a fact other fields.

    Raises:
        InputError: for a value that is none, or a field the fact does not have.
    """
    fact = the_fact(record, fact_id)
    kind = kind_of(record, fact_id) or ""
    new = made_of(kind, {**fields_of(fact), **_filled(kind, fields_of(fact), typed, limits)}, fact)
    if fields_of(new) == fields_of(fact):
        return mark(record, fact_id, "accepted", who, when)
    old = record.review.get(fact_id)
    before = old.before if old and old.before else fields_of(fact)
    record = replaced(record, kind, new)
    if kind == "laterality" and isinstance(fact, Laterality) and isinstance(new, Laterality):
        record = _side_of_procedures(record, fact.value, new.value)
    review = {**record.review, fact_id: Review(state="edited", who=who, when=when, before=before)}
    return record.model_copy(update={"review": review})


def add(
    record: CaseRecord, kind: str, typed: Mapping[str, str], evidence: Evidence, limits: Limits, who: str, when: str
) -> tuple[CaseRecord, str]:
    """Add a fact that was missed; gives the record and the new fact's id.

    Raises:
        InputError: for fields that make no fact of this kind.
    """
    fields = _filled(kind, {}, typed, limits)
    evidence = evidence.model_copy(update={"rule": BY_HAND})
    identity = _new_id(record, kind, typed)
    if kind == "steps":
        fields["order"] = max((step.order for step in record.steps), default=0) + 1
    if kind == "laterality":
        if record.laterality:
            raise InputError("The side is in the record already; change it there.")
        model: type[Known] = Laterality
    else:
        model = Element if kind == "elements" else LISTS[kind][1]
    fact = _validated(model, {**fields, "id": identity, "evidence": (evidence,), "certainty": 1.0})
    record = replaced(record, kind, fact)
    review = {**record.review, identity: Review(state="accepted", who=who, when=when)}
    return record.model_copy(update={"review": review}), identity


def replaced(record: CaseRecord, kind: str, fact: Known) -> CaseRecord:
    """Put a fact in the place of the one with its id, or at the end of its list."""
    if kind == "laterality":
        return record.model_copy(update={"laterality": fact})
    if kind == "elements":
        return record.model_copy(update={"elements": record.elements.model_copy(update={fact.id: fact})})
    old = getattr(record, kind)
    if any(o.id == fact.id for o in old):
        return record.model_copy(update={kind: tuple(fact if o.id == fact.id else o for o in old)})
    return record.model_copy(update={kind: (*old, fact)})


def made_of(kind: str, fields: Mapping[str, Any], like: Known) -> Known:
    """A fact of these fields, with the id and evidence of `like`."""
    return _validated(type(like), {**fields, "id": like.id, "certainty": like.certainty, "evidence": like.evidence})


def _validated(model: type[Known], fields: Mapping[str, Any]) -> Known:
    try:
        return model.model_validate(dict(fields))
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        raise InputError(f"{str(first['loc'][0]).replace('_', ' ')}: {first['msg']}.") from error


def _side_of_procedures(record: CaseRecord, old: str, new: str) -> CaseRecord:
    """The procedures were of the side that was read; they go with it."""
    moved = tuple(p.model_copy(update={"side": new}) if p.side == old else p for p in record.procedures)
    return record.model_copy(update={"procedures": moved})


def _new_id(record: CaseRecord, kind: str, typed: Mapping[str, str]) -> str:
    if kind == "laterality":
        return "side"
    if kind == "elements":
        name = typed.get("name", "")
        if name not in v.ELEMENTS:
            raise InputError("Choose which element of the report it is.")
        return name
    letters = LISTS[kind][0]
    taken = [int(m[1]) for fact in getattr(record, kind) if (m := re.fullmatch(letters + r"(\d+)", fact.id))]
    return f"{letters}{max(taken, default=0) + 1}"


def _filled(kind: str, now: Mapping[str, Any], typed: Mapping[str, str], limits: Limits) -> dict[str, Any]:
    forms = {form.name: form for form in forms_of(kind, limits)}
    typed = {name: code_of(forms[name], text, limits) if name in forms else text for name, text in typed.items()}
    out: dict[str, Any] = {}
    for name, text in typed.items():
        if kind == "elements" and name == "name":
            continue
        if name not in forms:
            raise InputError(f"A fact of this kind has no {name.replace('_', ' ')}.")
        form, text = forms[name], text.strip()
        if form.needed and not text:
            raise InputError(f"Say {form.called}; it cannot be left out.")
        out.update(_value(kind, form, text, {**now, **typed}, limits))
    if kind == "ties" and ("first" in typed or "second" in typed):
        pair = tuple(out.pop("between_" + name, None) or "" for name in ("first", "second"))
        if "" in pair or pair[0] == pair[1]:
            raise InputError("A tie joins two different positions; choose both.")
        out["between"] = pair
    return out


def _value(kind: str, form: FieldForm, text: str, whole: Mapping[str, Any], limits: Limits) -> dict[str, Any]:
    if form.input == "value":
        return _measured(kind, text, whole, limits)
    if form.input == "choice" and text and text not in form.choices:
        raise InputError(f"{form.called.capitalize()} is one of {', '.join(form.choices)}.")
    if form.input == "count":
        if text and not re.fullmatch(r"\d{1,4}", text):
            raise InputError(f"{form.called.capitalize()} is a whole number.")
        return {form.name: int(text) if text else None}
    if kind == "ties":
        return {"between_" + form.name: text}
    return {form.name: text or None}


def _measured(kind: str, text: str, whole: Mapping[str, Any], limits: Limits) -> dict[str, Any]:
    empty = {"value": None, "low": None, "high": None}
    if kind == "devices":
        if not text:
            return {"size": None}
        typed = parse_value(text, whole.get("unit") or "mm")
        return {"size": typed.value, "unit": typed.unit}
    if kind == "plan":
        if text in FORM_PLAN:
            return {**empty, "value": text, "unit": None}
        typed = parse_value(text, whole.get("unit"))
        return {**empty, "value": typed.value, "low": typed.low, "high": typed.high, "unit": typed.unit}
    limit = limits.measurements.get(str(whole.get("what")))
    typed = parse_value(text, limit.unit if limit else whole.get("unit"))
    return {"value": typed.value, "low": typed.low, "high": typed.high, "unit": typed.unit,
            "approximate": typed.approximate}  # fmt: skip


FORM_PLAN = ("non", "toe-touch", "partial", "full", "as-tolerated")
