"""Flags as questions: one sentence, what it rests on, and choices that can be given by number."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from extractor.checks.words import called, said, with_unit
from extractor.grammar.limits import Limits
from extractor.record import vocabulary as v
from extractor.record.facts import Evidence, Known, Measurement, Procedure
from extractor.record.models import CaseRecord, Flag, facts_by_id
from extractor.review.act.fields import forms_of, kind_of
from extractor.review.models import Sheet

Kind = Literal["keep", "set", "reject", "add", "value", "open"]


@dataclass(frozen=True)
class Choice:
    """One answer. `typed` are the fields it sets on `fact`; 'value' and 'open' ask for words as well."""

    number: int
    kind: Kind
    label: str
    why: str = ""
    fact: str | None = None
    typed: tuple[tuple[str, str], ...] = ()
    asks: str = ""
    hint: str = ""
    rejects: tuple[str, ...] = ()


@dataclass(frozen=True)
class Question:
    """A flag as it is asked."""

    flag: Flag
    asks: str
    rests_on: tuple[Evidence, ...]
    choices: tuple[Choice, ...]


ASKS = {
    "side-missing": "Which knee was operated on?",
    "side-conflict": "Which knee was operated on?",
    "compartment-conflict": "Which compartment was it?",
    "value-conflict": "Which is right?",
    "graft-length-mismatch": "Which number is right?",
    "graft-width-mismatch": "Which number is right?",
    "root-distance-mismatch": "Which number is right?",
    "value-implausible": "What was the value?",
    "unit-suspect": "What was the value?",
    "unit-missing": "Which unit was meant?",
    "number-uncertain": "Which number was said?",
    "term-uncertain": "Which word was said?",
    "unread-number": "Does it belong to the case?",
    "element-missing": "What should the report say?",
    "graft-identifier-missing": "What is the identifier on the graft's label?",
    "step-missing": "Was it done?",
    "step-order": "Was it done in this order?",
}
NUMBERED = re.compile(r"(\d+(?:\.\d+)?)(?:\s*(mm²|mmHg|mm|degrees|min|mL|weeks|%|N)\b)?")


def question_of(sheet: Sheet, flag: Flag, limits: Limits) -> Question:
    """Turn a flag into a question with its choices; the last ones are always to leave it open or say why."""
    facts = [fact for identity in flag.facts if (fact := facts_by_id(sheet.record).get(identity))]
    choices = _choices(sheet.record, flag, facts, limits)
    choices.append(Choice(0, "open", "leave open, with a reason", asks="why it stays open"))
    numbered = tuple(Choice(**{**choice.__dict__, "number": number}) for number, choice in enumerate(choices[-9:], 1))
    own = tuple(e for fact in facts for e in fact.evidence[:1])
    rests = tuple(dict.fromkeys((*own, *flag.evidence))) if len(facts) < 2 else own
    return Question(flag, ASKS.get(flag.check, "Is it right?"), rests, numbered)


def _choices(record: CaseRecord, flag: Flag, facts: list[Known], limits: Limits) -> list[Choice]:
    make = MAKERS.get(flag.check)
    if make:
        return make(record, flag, facts, limits)
    numbers = [fact for fact in facts if isinstance(fact, Measurement)]
    if flag.check == "value-conflict" or (flag.check == "number-uncertain" and len(numbers) > 1):
        return _one_of(numbers, limits)
    if numbers:
        return _numbers(flag, numbers, limits)
    return _plain(flag, facts)


BY_SOUND = ", by the sound"
"""How the second reading ends what it proposes."""


def _term(record: CaseRecord, flag: Flag, facts: list[Known], limits: Limits) -> list[Choice]:
    """The word that the sound proposes in place of the one heard, for each fact that has a field for it."""
    numbers = [fact for fact in facts if isinstance(fact, Measurement)]
    if flag.suggestion and any(c.isdigit() for c in flag.suggestion) and numbers:
        return _numbers(flag, numbers, limits)
    word = (flag.suggestion or "").partition(BY_SOUND)[0].strip("'").replace(" ", "-")
    keep, *rest = _plain(flag, facts)
    out = [keep]
    for fact in facts if word else []:
        kind, now = kind_of(record, fact.id) or "", fact.model_dump(mode="json")
        for form in forms_of(kind, limits):
            if word in form.choices and now.get(form.name) in set(form.choices) - {word}:
                label = word if kind == "laterality" else f"{form.called}: {word.replace('-', ' ')}"
                why = f"the sound allows it; {now[form.name]} was heard"
                out.append(Choice(0, "set", label, why, fact.id, ((form.name, word),)))
    return out[:6] + rest


def _plain(flag: Flag, facts: list[Known]) -> list[Choice]:
    out = [Choice(0, "keep", "it is right as said")]
    if len(facts) == 1:
        out.append(Choice(0, "reject", "it is not so: strike the fact", fact=facts[0].id))
    return out


def _numbers(flag: Flag, facts: list[Measurement], limits: Limits) -> list[Choice]:
    first = facts[0]
    keep = f"{said(first)}, as heard" if len(facts) == 1 else "all are right as heard"
    out = [Choice(0, "keep", keep)]
    for fact, shown, by_sound in _suggested(flag, facts, limits):
        many = len(facts) > 1
        label = f"the {called(fact.what, limits, fact.site)} is {shown}" if many else shown
        fits = "the sound allows it" if by_sound else "then it fits" if many else "this would fit"
        why = f"{fits}; {said(fact)} was heard" if many else fits
        out.append(Choice(0, "set", label, why, fact.id, (("value", shown),)))
    unit = with_unit("", first.unit)
    name = called(first.what, limits, first.site)
    out.append(Choice(0, "value", "another value", fact=first.id, asks=f"the {name}", hint=unit))
    return out


def _suggested(flag: Flag, facts: list[Measurement], limits: Limits) -> list[tuple[Measurement, str, bool]]:
    """Values that the suggestion names for these facts, in its order, and whether the sound speaks for each.

    Where several facts are meant, a number goes with the fact named last before it.
    """
    text = flag.suggestion or ""
    found: dict[tuple[str, str], tuple[Measurement, str, bool]] = {}
    names = {fact.id: called(fact.what, limits) for fact in facts}
    for match in NUMBERED.finditer(text):
        before = text[: match.start()].lower()
        places = {fact.id: before.rfind(names[fact.id].lower()) for fact in facts}
        fact = facts[0] if len(facts) == 1 else max(facts, key=lambda f: places[f.id])
        if len(facts) > 1 and places[fact.id] < 0:
            continue
        unit = next((u for u, word in UNITS.items() if word == match[2]), None) or fact.unit
        shown = with_unit(match[1], unit)
        if shown != said(fact):
            known = found.get((fact.id, shown), (fact, shown, False))
            found[fact.id, shown] = (fact, shown, known[2] or text[match.end() :].startswith(BY_SOUND))
    return list(found.values())


UNITS = {"deg": "degrees", "mm[Hg]": "mmHg", "mm2": "mm²", "wk": "weeks", "%": "%", "mm": "mm", "min": "min",
         "mL": "mL", "N": "N"}  # fmt: skip


def _one_of(facts: list[Measurement], limits: Limits) -> list[Choice]:
    out = []
    for fact in facts:
        others = tuple(f.id for f in facts if f.id != fact.id)
        words = fact.evidence[0].text
        out.append(Choice(0, "keep", said(fact), f"heard: “{words}”", fact.id, rejects=others))
    out.append(Choice(0, "keep", "both are right: they are different things"))
    return out


def _side(record: CaseRecord, flag: Flag, facts: list[Known], limits: Limits) -> list[Choice]:
    side = record.laterality
    if side is None or flag.check == "side-missing":
        return [Choice(0, "add", name, typed=(("value", name),)) for name in ("right", "left", "bilateral")]
    times = len(side.evidence)
    out = [Choice(0, "keep", side.value, f"said {times} times" if times > 1 else "said once", side.id)]
    for other in dict.fromkeys([*(o.value for o in side.others), *(s for s in ("right", "left") if s != side.value)]):
        if other != side.value:
            count = sum(len(o.evidence) for o in side.others if o.value == other)
            why = f"said {count} times" if count > 1 else "said once" if count else ""
            out.append(Choice(0, "set", other, why, side.id, (("value", other),)))
    return out


def _compartment(record: CaseRecord, flag: Flag, facts: list[Known], limits: Limits) -> list[Choice]:
    procedure = next((fact for fact in facts if isinstance(fact, Procedure)), None)
    if procedure is None or not procedure.compartment:
        return _plain(flag, facts)
    out = [Choice(0, "keep", procedure.compartment, "as read", procedure.id)]
    for name in dict.fromkeys((*(o.value for o in procedure.compartment_others), *v.COMPARTMENTS)):
        if name != procedure.compartment:
            out.append(Choice(0, "set", name, fact=procedure.id, typed=(("compartment", name),)))
    return out


def _unread(record: CaseRecord, flag: Flag, facts: list[Known], limits: Limits) -> list[Choice]:
    return [Choice(0, "keep", "it tells nothing of this case")]


def _element(record: CaseRecord, flag: Flag, facts: list[Known], limits: Limits) -> list[Choice]:
    named = next((n for n in v.ELEMENTS if n.replace("_", " ") in flag.message.lower()), None)
    out = [Choice(0, "keep", "the report needs none")]
    if named:
        none = Choice(0, "add", "none, and the report shall say so", fact=named, typed=(("text", "None"),))
        words = Choice(0, "value", "add it in words", fact=named, asks=named.replace("_", " "))
        out = [none, words, *out] if named in ("blood_loss", "complications", "specimens") else [words, *out]
    return out


def _step(record: CaseRecord, flag: Flag, facts: list[Known], limits: Limits) -> list[Choice]:
    told = flag.message.lower()
    code = next((code for code in sorted(v.STEPS, key=len, reverse=True) if code.replace("-", " ") in told), None)
    out = [Choice(0, "keep", "not done, or not worth telling")]
    if code:
        typed = (("code", code), ("status", "performed"))
        out.append(Choice(0, "add", f"it was done: add {code.replace('-', ' ')}", typed=typed))
    return out


def _identifier(record: CaseRecord, flag: Flag, facts: list[Known], limits: Limits) -> list[Choice]:
    graft = next((fact.id for fact in facts), None) or next((g.id for g in record.grafts), None)
    return [Choice(0, "value", "type the identifier", fact=graft, asks="identifier of the graft")]


Maker = Callable[[CaseRecord, Flag, list[Known], Limits], list[Choice]]
MAKERS: dict[str, Maker] = {
    "side-missing": _side,
    "side-conflict": _side,
    "compartment-conflict": _compartment,
    "term-uncertain": _term,
    "unread-number": _unread,
    "element-missing": _element,
    "step-missing": _step,
    "graft-identifier-missing": _identifier,
}
