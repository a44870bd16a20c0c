"""Answering a question: what the chosen answer does to the record, and that it was given."""

from __future__ import annotations

from extractor.errors import InputError
from extractor.record.facts import Evidence
from extractor.record.models import CaseRecord, Flag
from extractor.review.act import facts as do
from extractor.review.act.fields import kind_of
from extractor.review.act.questions import Choice, question_of
from extractor.review.act.reading import Reader
from extractor.review.models import BY_HAND, Settlement, Sheet

NOWHERE = Evidence(start=0, end=0, text="", rule=BY_HAND)
"""What a fact rests on that a person knows and nobody said."""


def answer(
    sheet: Sheet, flag_id: str, number: int, words: str, reader: Reader, who: str, when: str
) -> tuple[Sheet, str]:
    """Answer a question by the number of a choice.

    Args:
        sheet: the case.
        flag_id: which question.
        number: which choice.
        words: what was typed, where the choice asks for a value or a reason.
        reader: for limits.
        who: who answers.
        when: ISO time.

    Returns:
        The sheet with the answer in force, and the answer in words.

    Raises:
        InputError: where there is no such question or choice, or the words are missing.
    """
    flag = next((flag for flag in sheet.record.flags if flag.id == flag_id), None)
    if flag is None:
        raise InputError("That question is no longer open; look again.")
    choice = next((c for c in question_of(sheet, flag, reader.limits).choices if c.number == number), None)
    if choice is None:
        raise InputError(f"That question has no choice {number}.")
    words = words.strip()
    if choice.asks and not words:
        raise InputError(f"Type {choice.asks}.")
    record = _applied(sheet.record, flag, choice, words, reader, who, when)
    said = choice.label if not choice.asks or choice.kind == "open" else f"{choice.asks}: {words}"
    settlement = Settlement(
        check=flag.check, message=flag.message, answer=said, who=who, at=when,
        reason=words if choice.kind == "open" else None,
    )  # fmt: skip
    settled = {**sheet.settled, flag.id: settlement}
    return sheet.model_copy(update={"record": record, "settled": settled}), said


def _applied(
    record: CaseRecord, flag: Flag, choice: Choice, words: str, reader: Reader, who: str, when: str
) -> CaseRecord:
    typed = dict(choice.typed)
    if choice.kind == "keep":
        for fact in choice.rejects:
            record = do.mark(record, fact, "rejected", who, when)
        for fact in [choice.fact] if choice.fact else flag.facts:
            if kind_of(record, fact) not in (None, "claims"):
                record = do.mark(record, fact, "accepted", who, when)
        return record
    if choice.kind == "reject" and choice.fact:
        return do.mark(record, choice.fact, "rejected", who, when)
    if choice.kind == "set" and choice.fact:
        return do.change(record, choice.fact, typed, reader.limits, who, when)
    if choice.kind in ("value", "add"):
        return _given(record, flag, choice, words, reader, who, when)
    return record


def _given(
    record: CaseRecord, flag: Flag, choice: Choice, words: str, reader: Reader, who: str, when: str
) -> CaseRecord:
    typed = dict(choice.typed)
    limits = reader.limits
    place = flag.evidence[0] if flag.evidence else NOWHERE
    if flag.check == "element-missing":
        typed = {"name": choice.fact or "", "text": words or typed.get("text", "")}
        return do.add(record, "elements", typed, place, limits, who, when)[0]
    if flag.check == "step-missing":
        return do.add(record, "steps", typed, place, limits, who, when)[0]
    if flag.check == "side-missing":
        if record.laterality:  # rejected before: the knee is there to be changed
            return do.change(record, record.laterality.id, typed, limits, who, when)
        return do.add(record, "laterality", typed, NOWHERE, limits, who, when)[0]
    if flag.check == "graft-identifier-missing":
        if choice.fact:
            return do.change(record, choice.fact, {"identifier": words}, limits, who, when)
        return do.add(record, "grafts", {"identifier": words}, place, limits, who, when)[0]
    if choice.fact:
        return do.change(record, choice.fact, {"value": words}, limits, who, when)
    return record
