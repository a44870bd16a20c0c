"""From drafts to the record: ids, words and seconds of the evidence, order. Nothing is dropped."""

from __future__ import annotations

import difflib
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from pydantic import ValidationError

from extractor.errors import ExtractorError
from extractor.facts.draft import FactDraft, FlagDraft, RepairDraft, Span
from extractor.record import vocabulary as v
from extractor.record.facts import Element, Evidence, Laterality
from extractor.record.models import LISTS, CaseRecord, Elements, Flag, Repair, Source
from extractor.speech.transcript import Transcript, Word

KINDS = ("laterality", "elements", *LISTS)


class DraftError(ExtractorError):
    """A draft that fits no place of the record: a defect of a rule, never of the note."""


def build_record(
    transcript: Transcript,
    drafts: Sequence[FactDraft],
    repairs: Sequence[RepairDraft] = (),
    case_id: str = "",
    flags: Sequence[FlagDraft] = (),
) -> CaseRecord:
    """Make the record of one note.

    Facts stand in the order of their first span; ids count up by kind (m1, m2, ...), so the same
    drafts always give the same record. Drafts are not merged, but for the sides and for the
    texts of one element (see `extractor.facts.draft`).

    Raises:
        DraftError: for a draft of an unknown kind, with fields that do not fit, without
            evidence, or with a span outside the text; for a flag that names no draft.
    """
    evidence = _evidence_maker(transcript)
    by_kind: dict[str, list[FactDraft]] = {kind: [] for kind in KINDS}
    for draft in drafts:
        if draft.kind not in by_kind:
            raise DraftError(
                f"internal: a draft of kind {draft.kind!r}{_did_you_mean(draft.kind, KINDS)}; a rule is wrong"
            )
        if not draft.spans:
            raise DraftError(f"internal: {_words(draft)} has no evidence; a rule is wrong")
        by_kind[draft.kind].append(draft)

    ids: dict[str, str] = {}
    parts: dict[str, Any] = {}
    for kind in LISTS:
        parts[kind] = _facts(kind, by_kind[kind], evidence, ids)
    return CaseRecord(
        case_id=case_id,
        source=Source.model_validate(transcript.model_dump(include=set(Source.model_fields))),
        laterality=_laterality(by_kind["laterality"], evidence, ids),
        elements=_elements(by_kind["elements"], evidence, ids),
        flags=_flags(flags, evidence, ids),
        repairs=tuple(
            Repair(heard=r.heard, read_as=r.read_as, why=r.why, evidence=evidence(r.spans))
            for r in sorted(repairs, key=lambda r: _place(r.spans))
        ),
        **parts,
    )


Maker = Callable[[Sequence[Span]], tuple[Evidence, ...]]


def _evidence_maker(transcript: Transcript) -> Maker:
    """Give a function that turns spans into evidence; seconds are those of the words they touch."""
    text = transcript.text
    words = sorted((w for w in transcript.words if w.start_s is not None), key=lambda w: w.start)

    def one(span: Span) -> Evidence:
        if not 0 <= span.start < span.end <= len(text):
            raise DraftError(
                f"internal: rule '{span.rule}' points at characters {span.start} to {span.end} of a text of {len(text)}"
            )
        start_s, end_s = _seconds(_touched(words, span)) if words else (None, None)
        said = text[span.start : span.end]
        return Evidence(start=span.start, end=span.end, text=said, start_s=start_s, end_s=end_s, rule=span.rule)

    def make(spans: Sequence[Span]) -> tuple[Evidence, ...]:
        return tuple([one(span) for span in {(s.start, s.end, s.rule): s for s in spans}.values()])

    return make


def _seconds(touched: Sequence[Word]) -> tuple[float | None, float | None]:
    """When words were said, as far as that is known."""
    starts = [w.start_s for w in touched if w.start_s is not None]
    ends = [w.end_s for w in touched if w.end_s is not None]
    return min(starts, default=None), max(ends, default=None)


def _touched(words: Sequence[Word], span: Span) -> Sequence[Word]:
    """Give the words that share a character with the span; words lie in order and do not overlap."""
    first, last = 0, len(words)
    while first < last:
        middle = (first + last) // 2
        if words[middle].end <= span.start:
            first = middle + 1
        else:
            last = middle
    end = first
    while end < len(words) and words[end].start < span.end:
        end += 1
    return words[first:end]


def _place(spans: Sequence[Span]) -> tuple[int, int]:
    return (spans[0].start, spans[0].end) if spans else (-1, -1)


def _in_order(drafts: Sequence[FactDraft]) -> list[FactDraft]:
    """Sort by where it was said; facts said by the same words sort by their fields."""
    if len(drafts) < 2:
        return list(drafts)
    places = Counter(_place(draft.spans) for draft in drafts)

    def order(draft: FactDraft) -> tuple[int, int, str]:
        place = _place(draft.spans)
        alone = places[place] == 1
        return (*place, "" if alone else repr(sorted((k, repr(val)) for k, val in draft.fields.items())))

    return sorted(drafts, key=order)


def _words(draft: FactDraft) -> str:
    rule = f" of rule '{draft.spans[0].rule}'" if draft.spans else ""
    return f"a draft of {draft.kind}{rule}"


def _did_you_mean(word: str, known: Sequence[str]) -> str:
    near = difflib.get_close_matches(word, known, n=1)
    return f" (did you mean {near[0]!r}?)" if near else f" (known: {', '.join(known)})"


def _known_fields(draft: FactDraft, known: Sequence[str]) -> None:
    for name in draft.fields:
        if name not in known:
            raise DraftError(f"internal: {_words(draft)} has a field {name!r}{_did_you_mean(name, known)}")


def _reason(error: ValidationError) -> str:
    first = error.errors(include_url=False)[0]
    return f"{'.'.join(str(part) for part in first['loc'])}: {first['msg']}"


def _facts(kind: str, drafts: list[FactDraft], evidence: Maker, ids: dict[str, str]) -> tuple[Any, ...]:
    if not drafts:
        return ()
    letters, model = LISTS[kind]
    known = sorted(set(model.model_fields) - {"id", "evidence", "certainty"})
    ordered = _in_order(drafts)
    if kind == "steps":
        ordered = _steps_in_order(ordered)
    out = []
    for number, draft in enumerate(ordered, 1):
        _known_fields(draft, known)
        fields = dict(draft.fields)
        if kind == "steps":
            fields["order"] = number
        if "compartment_others" in fields:
            fields["compartment_others"] = _said(fields["compartment_others"], evidence, draft)
        identity = f"{letters}{number}"
        try:
            fact = model.model_validate(
                {**fields, "id": identity, "evidence": evidence(draft.spans), "certainty": float(draft.certainty)}
            )
        except ValidationError as error:
            raise DraftError(f"internal: {_words(draft)} does not fit the record: {_reason(error)}") from error
        out.append(fact)
        _name(draft, identity, ids)
    return tuple(out)


def _name(draft: FactDraft, identity: str, ids: dict[str, str]) -> None:
    if not draft.key:
        return
    if ids.setdefault(draft.key, identity) != identity:
        raise DraftError(f"internal: two drafts have the key {draft.key!r}; keys must differ")


def _steps_in_order(drafts: list[FactDraft]) -> list[FactDraft]:
    given = [draft.fields.get("order") for draft in drafts]
    if all(order is None for order in given):
        return drafts
    if not all(isinstance(order, int) and not isinstance(order, bool) for order in given):
        raise DraftError("internal: some steps have an order and others have none; give it to all or to none")
    return sorted(drafts, key=lambda draft: int(str(draft.fields["order"])))


def _said(others: object, evidence: Maker, draft: FactDraft) -> list[dict[str, object]]:
    """Give {value, spans} as {value, evidence}."""
    if not isinstance(others, (list, tuple)):
        raise DraftError(f"internal: {_words(draft)}: compartment_others is a list of {{value, spans}}")
    out = []
    for other in others:
        if not isinstance(other, Mapping) or set(other) != {"value", "spans"}:
            raise DraftError(f"internal: {_words(draft)}: compartment_others is a list of {{value, spans}}")
        out.append({"value": other["value"], "evidence": evidence(other["spans"])})
    return out


def _laterality(drafts: list[FactDraft], evidence: Maker, ids: dict[str, str]) -> Laterality | None:
    """Take the side with most evidence, on a tie the one said first; keep the others beside it."""
    sides: dict[str, list[FactDraft]] = {}
    for draft in _in_order(drafts):
        _known_fields(draft, ("value", "joint"))
        sides.setdefault(str(draft.fields.get("value")), []).append(draft)
        _name(draft, "side", ids)
    if not sides:
        return None
    said = {side: evidence([span for draft in of for span in draft.spans]) for side, of in sides.items()}
    best = max(said, key=lambda side: len(said[side]))
    try:
        return Laterality.model_validate(
            {
                "id": "side",
                "value": best,
                "joint": next((joint for draft in sides[best] if (joint := draft.fields.get("joint"))), None),
                "others": [{"value": side, "evidence": found} for side, found in said.items() if side != best],
                "certainty": float(max(draft.certainty for draft in sides[best])),
                "evidence": said[best],
            }
        )
    except ValidationError as error:
        raise DraftError(f"internal: {_words(sides[best][0])} does not fit the record: {_reason(error)}") from error


def _elements(drafts: list[FactDraft], evidence: Maker, ids: dict[str, str]) -> Elements:
    by_name: dict[str, list[FactDraft]] = {}
    for draft in _in_order(drafts):
        _known_fields(draft, ("name", "text"))
        by_name.setdefault(str(draft.fields.get("name")), []).append(draft)
    out: dict[str, Element] = {}
    for name, same in by_name.items():
        if name not in v.ELEMENTS:
            raise DraftError(f"internal: {_words(same[0])} is named {name!r}{_did_you_mean(name, v.ELEMENTS)}")
        texts = [draft.fields.get("text") for draft in same]
        if not all(isinstance(text, str) for text in texts):
            raise DraftError(f"internal: {_words(same[0])} has no text")
        out[name] = Element(
            id=name,
            text="; ".join(dict.fromkeys(str(text) for text in texts)),
            certainty=float(min(draft.certainty for draft in same)),
            evidence=evidence([span for draft in same for span in draft.spans]),
        )
        for draft in same:
            _name(draft, name, ids)
    return Elements.model_validate(out)


def _flags(drafts: Sequence[FlagDraft], evidence: Maker, ids: dict[str, str]) -> tuple[Flag, ...]:
    out = []
    for number, draft in enumerate(sorted(drafts, key=lambda d: (_place(d.spans), d.check, d.message)), 1):
        if draft.check not in v.CHECK_SEVERITY:
            raise DraftError(
                f"internal: a flag of check {draft.check!r}{_did_you_mean(draft.check, tuple(v.CHECK_SEVERITY))}"
            )
        for key in draft.fact_keys:
            if key not in ids:
                raise DraftError(f"internal: a flag {draft.check} points at a draft {key!r} that is not there")
        out.append(
            Flag(
                id=f"r{number}",
                check=draft.check,
                severity=v.CHECK_SEVERITY[draft.check],
                message=draft.message,
                facts=tuple(dict.fromkeys(ids[key] for key in draft.fact_keys)),
                evidence=evidence(draft.spans),
                suggestion=draft.suggestion,
                origin="reading",
            )
        )
    return tuple(out)
