"""Forms for changing and adding facts, filled with what is there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from extractor.checks.words import number, with_unit
from extractor.grammar.limits import Limits
from extractor.record import vocabulary as v
from extractor.record.facts import Known
from extractor.record.models import LISTS
from extractor.review.act.facts import fields_of
from extractor.review.act.fields import FieldForm, forms_of, in_words
from extractor.review.show.words import plain

DUE = {"weight-bearing-duration": "wk", "brace-range": "deg", "flexion-limit": "deg", "follow-up": "wk",
       "therapy-start": "wk"}  # fmt: skip


@dataclass(frozen=True)
class Filled:
    """One field with what stands in it."""

    form: FieldForm
    value: str
    hint: str
    words: tuple[str, ...] = ()


@dataclass(frozen=True)
class FormView:
    """A form: the fact it changes, or the kind it adds."""

    kind: str
    fact: str | None
    what: str
    unit: str
    fields: tuple[Filled, ...]
    title: str


def change_form(kind: str, fact: Known, limits: Limits) -> FormView:
    """The form that changes a fact."""
    fields = fields_of(fact)
    what = str(fields.get("what") or fields.get("item") or "")
    unit = str(fields.get("unit") or "")
    typed = dict(_typed(kind, fields))
    forms = [form for form in forms_of(kind, limits) if form.name in typed or form.name not in ("what", "item")]
    first = sorted(forms, key=lambda form: form.input != "value")  # the value is what is mostly wrong
    filled = tuple(_filled(form, typed.get(form.name, ""), _hint(form, what, unit, limits), limits) for form in first)
    return FormView(kind, fact.id, what, unit, filled, plain(kind))


def add_form(kind: str, limits: Limits) -> FormView:
    """An empty form for a fact of a kind."""
    if kind == "elements":
        names = tuple(v.ELEMENTS)
        which = FieldForm("name", "element", "choice", names, needed=True)
        return FormView(
            kind, None, "", "", tuple(Filled(f, "", "") for f in (which, *forms_of(kind, limits))), "element"
        )
    forms = forms_of(kind, limits)
    given = {"status": {"procedures": "performed", "steps": "performed", "findings": "present"}.get(kind, "")}
    filled = tuple(_filled(form, given.get(form.name, ""), "", limits) for form in forms)
    return FormView(kind, None, "", "", filled, plain(kind))


def _filled(form: FieldForm, value: str, hint: str, limits: Limits) -> Filled:
    """A field with its content; where codes may be typed, they are shown and offered in words."""
    if form.input != "open":
        return Filled(form, value, hint)
    shown = in_words(form, value, limits) if value in form.choices else value
    return Filled(form, shown, hint, tuple(in_words(form, code, limits) for code in form.choices))


def typed_of(kind: str, fields: Mapping[str, Any], limits: Limits) -> tuple[dict[str, str], str]:
    """A proposed fact as its form would be typed, and in words."""
    from extractor.review.act.settle import NOWHERE
    from extractor.review.show.words import name_of, value_of

    model = LISTS[kind][1]
    fact = model.model_validate({**fields, "id": "x", "certainty": 1.0, "evidence": (NOWHERE,)})
    known = {form.name for form in forms_of(kind, limits)}
    typed = {name: value for name, value in _typed(kind, fields).items() if value and name in known}
    return typed, f"{name_of(fact, limits)}: {value_of(fact)}"


def _hint(form: FieldForm, what: str, unit: str, limits: Limits) -> str:
    if form.input != "value":
        return ""
    limit = limits.measurements.get(what)
    return with_unit("", limit.unit if limit else unit or DUE.get(what, ""))


def _typed(kind: str, fields: Mapping[str, Any]) -> dict[str, str]:
    if kind == "ties":
        first, second = fields["between"]
        return {"first": first, "second": second}
    out = {name: "" if value is None else str(value) for name, value in fields.items()
           if not isinstance(value, (list, tuple, dict))}  # fmt: skip
    if kind in ("measurements", "plan"):
        out["value"] = _number(fields)
    if kind == "devices":
        size = fields.get("size")
        out["value"] = "" if size is None else with_unit(number(size), fields.get("unit"))
    return out


def _number(fields: Mapping[str, Any]) -> str:
    value, low, high, unit = (fields.get(name) for name in ("value", "low", "high", "unit"))
    if isinstance(value, str):
        return value
    if value is not None:
        return ("about " if fields.get("approximate") else "") + with_unit(number(value), unit)
    if low is not None and high is not None:
        return with_unit(f"{number(low)} to {number(high)}", unit)
    if low is not None:
        return "at least " + with_unit(number(low), unit)
    return "at most " + with_unit(number(high), unit) if high is not None else ""
