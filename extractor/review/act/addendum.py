"""A note read again with words added: what a person did stays, a spoken correction takes the place of what it corrects.

Both versions stay in the store; here only the newer one is made.
"""

from __future__ import annotations

import re
from typing import Any

from extractor.language.quantity_words import QuantityWords
from extractor.record.facts import Evidence, Known, Measurement, Said
from extractor.record.models import LISTS, CaseRecord, Flag, Review, facts_by_id
from extractor.review.act.facts import fields_of, made_of, replaced
from extractor.review.act.primary import state_of
from extractor.review.act.reading import Reader
from extractor.review.models import BY_HAND, NotePart, Sheet
from extractor.speech.transcript import Transcript

SAME = {
    "measurements": ("what", "site", "when"), "sutures": ("tissue", "region", "surface"), "devices": ("kind", "site"),
    "grafts": ("source",), "plan": ("item",), "procedures": ("code",), "findings": ("structure", "finding"),
}  # fmt: skip
"""Fields by which a correction names the thing it corrects."""


def joined(sheet: Sheet | None, more: Transcript, part: NotePart) -> tuple[Transcript, NotePart]:
    """Put an addendum's words behind those of the note; characters and seconds go on counting."""
    if sheet is None:
        return more, part.model_copy(update={"start": 0, "end": len(more.text)})
    old = sheet.transcript
    start = len(old.text.rstrip()) + 2
    offset = sum(p.seconds or 0.0 for p in sheet.parts)
    words = [w.moved(start, offset) for w in more.words]
    text = old.text.rstrip() + "\n\n" + more.text
    seconds = (old.seconds or 0.0) + (more.seconds or 0.0)
    transcript = old.model_copy(
        update={"text": text, "words": (*old.words, *words), "seconds": seconds or None,
                "speech_model": old.speech_model or more.speech_model}
    )  # fmt: skip
    return transcript, part.model_copy(update={"start": start, "end": len(text), "offset_s": offset})


def read_again(sheet: Sheet, transcript: Transcript, part: NotePart, reader: Reader, words: QuantityWords) -> Sheet:
    """Read the whole note again and carry over what was done with it.

    A fact read as before keeps its id, its changes and its state. A fact that the addendum tells after a
    word of correction takes the place of the one it corrects, which is then not yet read. Facts that a
    person added, or that only the earlier reading had and a person kept, stay.
    """
    old = sheet.record
    new = reader.read(transcript, old.case_id)
    ids: dict[str, str] = {}
    out = new
    for kind in LISTS:
        out = out.model_copy(update={kind: _matched(kind, old, new, ids)})
    if old.laterality:
        out = _side(out, old)
    for name in type(old.elements).model_fields:
        kept, again = getattr(old.elements, name), getattr(new.elements, name)
        if kept and (again is None or state_of(old, name) != "unreviewed"):
            out = replaced(out, "elements", kept)
    flags = tuple(_renamed(flag, ids) for flag in new.flags if flag.origin != "check")
    out = out.model_copy(update={"review": dict(old.review), "flags": flags})
    if _corrects(transcript.text[part.start : part.end], words):
        out = _superseded(out, part, set(facts_by_id(old)))
    return sheet.model_copy(
        update={"record": reader.check(out), "transcript": transcript, "parts": (*sheet.parts, part)}
    )


def _as_read(record: CaseRecord, fact: Known) -> dict[str, Any]:
    review = record.review.get(fact.id)
    fields = review.before if review and review.before and review.state == "edited" else fields_of(fact)
    return {k: v for k, v in fields.items() if k != "order"}


def _place(evidence: tuple[Evidence, ...]) -> tuple[int, int]:
    return evidence[0].start, evidence[0].end


def _matched(kind: str, old: CaseRecord, new: CaseRecord, ids: dict[str, str]) -> tuple[Known, ...]:
    """The new reading's facts of a kind under their old ids, and old ones that a person keeps."""
    before = list(getattr(old, kind))
    facts: list[Known] = []
    taken = {fact.id for fact in before}
    used: set[str] = set()
    for fact in getattr(new, kind):
        fields = {k: v for k, v in fields_of(fact).items() if k != "order"}
        like = next(
            (o for o in before if o.id not in used and _place(o.evidence) == _place(fact.evidence)
             and _as_read(old, o) == fields), None,
        )  # fmt: skip
        if like:
            used.add(like.id)
            ids[fact.id] = like.id
            facts.append(like)
            continue
        letters = LISTS[kind][0]
        identity = fact.id
        while identity in taken:
            number = max(int(re.sub(r"\D", "", i) or 0) for i in taken) + 1
            identity = f"{letters}{number}"
        taken.add(identity)
        ids[fact.id] = identity
        facts.append(fact.model_copy(update={"id": identity}))
    for fact in before:
        by_hand = fact.evidence[0].rule == BY_HAND
        if fact.id not in used and (by_hand or state_of(old, fact.id) != "unreviewed"):
            facts.append(fact)
    return tuple(facts)


def _side(record: CaseRecord, old: CaseRecord) -> CaseRecord:
    kept = old.laterality
    if kept is None or (record.laterality and state_of(old, kept.id) == "unreviewed"):
        return record
    said = record.laterality.others if record.laterality else ()
    if record.laterality and record.laterality.value != kept.value:
        said = (*said, *_other_side(record))
    others = {o.value: o for o in (*kept.others, *said) if o.value != kept.value}
    return record.model_copy(update={"laterality": kept.model_copy(update={"others": tuple(others.values())})})


def _other_side(record: CaseRecord) -> tuple[Any, ...]:
    side = record.laterality
    return (Said(value=side.value, evidence=side.evidence),) if side else ()


def _renamed(flag: Flag, ids: dict[str, str]) -> Flag:
    return flag.model_copy(update={"facts": tuple(ids.get(fact, fact) for fact in flag.facts)})


def _corrects(text: str, words: QuantityWords) -> bool:
    tokens = re.findall(r"[a-z']+", text.lower())
    return any(words.correction.at(tokens, i) for i in range(len(tokens)))


def _superseded(record: CaseRecord, part: NotePart, known: set[str]) -> CaseRecord:
    """Put what the addendum tells anew over what a person had kept of the same thing.

    The reading itself takes a correction as far back as it can; what it then tells rests on both places.
    """
    for kind, keys in SAME.items():
        told = [f for f in getattr(record, kind) if any(e.start >= part.start for e in f.evidence)]
        for fact in [f for f in told if f.id not in known]:
            key = [getattr(fact, name) for name in keys]
            older = [
                o for o in getattr(record, kind)
                if [getattr(o, name) for name in keys] == key and o.id in known and o.evidence[0].start < part.start
                and o.evidence[0].rule != BY_HAND and state_of(record, o.id) != "rejected"
            ]  # fmt: skip
            if len(older) == 1:
                record = _put_over(record, kind, older[0], fact)
    return record


def _put_over(record: CaseRecord, kind: str, old: Known, new: Known) -> CaseRecord:
    """Give the old fact what the correction says; what it leaves unsaid stays."""
    fields = {**fields_of(old), **{k: v for k, v in fields_of(new).items() if v not in (None, [], False)}}
    if isinstance(old, Measurement) and isinstance(new, Measurement):
        said = [n for n in (*old.earlier_values, old.value, *new.earlier_values) if n is not None and n != new.value]
        fields |= {"value": new.value, "low": new.low, "high": new.high, "approximate": new.approximate,
                   "earlier_values": tuple(dict.fromkeys(said))}  # fmt: skip
    if kind == "steps":
        fields.pop("order", None)
    evidence = tuple(dict.fromkeys((*new.evidence, *old.evidence)))
    made = made_of(kind, fields, old.model_copy(update={"evidence": evidence}))
    record = record.model_copy(update={kind: tuple(f for f in getattr(record, kind) if f.id != new.id)})
    record = replaced(record, kind, made)
    flags = tuple(_renamed(flag, {new.id: old.id}) for flag in record.flags)
    review = {**record.review, old.id: Review(state="unreviewed", before=fields_of(old))}
    return record.model_copy(update={"review": review, "flags": flags})
