"""One act of a reviewer, from request to the next version. The web page and the machine side both come through here."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from extractor.errors import InputError
from extractor.record.models import LISTS, CaseRecord, facts_by_id
from extractor.review.act import facts as do
from extractor.review.act.fields import NOT_ADDED
from extractor.review.act.primary import standing
from extractor.review.act.propose import evidence_at
from extractor.review.act.reading import Reader
from extractor.review.act.settle import NOWHERE, answer
from extractor.review.act.summary import summarize
from extractor.review.models import Person, Sheet, State
from extractor.review.store.cases import Case, Change, read_version
from extractor.review.store.clock import now
from extractor.review.store.connect import Store

Words = Annotated[str, Field(max_length=2000)]


class Act(BaseModel):
    """What a person does. Which fields are needed depends on `do`."""

    model_config = ConfigDict(extra="forbid")

    do: Literal["accept", "change", "reject", "add", "answer", "undo", "sign", "amend"]
    fact: str | None = Field(default=None, max_length=80, description="accept, change, reject: the fact's id")
    kind: str | None = Field(default=None, max_length=40, description="add: which list of the record")
    fields: dict[str, Words] = Field(default_factory=dict, max_length=20, description="change, add: fields as typed")
    start: int | None = Field(default=None, ge=0, description="add: first character of the words it rests on")
    end: int | None = Field(default=None, ge=0, description="add: character after the last")
    flag: str | None = Field(default=None, max_length=400, description="answer: the flag's id")
    choice: int | None = Field(default=None, ge=1, le=9, description="answer: number of the choice")
    words: Words = Field(default="", description="answer: value or reason; amend: the reason")


@dataclass(frozen=True)
class Done:
    """What an act came to: the change to keep, and where the page looks next."""

    change: Change
    fact: str | None = None
    said: str = ""


CLOSED = ("signed", "amended")


def perform(act: Act, case: Case, person: Person, reader: Reader, store: Store) -> Done:
    """Carry an act out on a case as it stands, without writing it.

    Raises:
        InputError: where it cannot be done; one sentence.
    """
    if not person.may_change:
        raise InputError("A researcher reads and does not change; sign in as a surgeon or scribe.")
    if case.sheet is None:
        raise InputError("Nothing was recognized of this case yet; wait for it.")
    if case.row.state in CLOSED and act.do != "amend":
        raise InputError("The case is signed; open an amendment, with its reason, to change it.")
    if case.row.state not in CLOSED and act.do == "amend":
        raise InputError("Only a signed case is amended; this one is open.")
    return ACTS[act.do](act, case, case.sheet, person, reader, store)


Maker = Callable[[Act, Case, Sheet, Person, Reader, Store], Done]


def _open_state(case: Case) -> State:
    return "amending" if case.row.state == "amending" else "in-review"


def _checked(sheet: Sheet, record: CaseRecord, reader: Reader) -> Sheet:
    return sheet.model_copy(update={"record": reader.check(record)})


def _done(act: Act, case: Case, sheet: Sheet, reader: Reader, detail: dict[str, Any], fact: str | None) -> Done:
    change = Change(
        sheet=sheet, summary=summarize(sheet), act=act.do, detail=detail, state=_open_state(case),
        undo_to=case.row.version,
    )  # fmt: skip
    return Done(change, fact)


def _about(record: CaseRecord, fact_id: str) -> dict[str, Any] | None:
    fact = facts_by_id(record).get(fact_id)
    return do.fields_of(fact) if fact else None


def _mark(act: Act, case: Case, sheet: Sheet, person: Person, reader: Reader, store: Store) -> Done:
    fact = act.fact or ""
    state: Literal["accepted", "rejected"] = "accepted" if act.do == "accept" else "rejected"
    record = do.mark(sheet.record, fact, state, person.name, now())
    return _done(act, case, _checked(sheet, record, reader), reader, {"fact": fact, "says": _about(record, fact)}, fact)


def _change(act: Act, case: Case, sheet: Sheet, person: Person, reader: Reader, store: Store) -> Done:
    fact = act.fact or ""
    record = do.change(sheet.record, fact, act.fields, reader.limits, person.name, now())
    detail = {"fact": fact, "before": _about(sheet.record, fact), "after": _about(record, fact)}
    return _done(act, case, _checked(sheet, record, reader), reader, detail, fact)


def _add(act: Act, case: Case, sheet: Sheet, person: Person, reader: Reader, store: Store) -> Done:
    kind = act.kind or ""
    if kind not in LISTS and kind not in ("elements", "laterality") or kind in NOT_ADDED[:1]:
        raise InputError("Choose what kind of fact to add.")
    place = NOWHERE if act.start is None or act.end is None else evidence_at(sheet, act.start, act.end)
    record, fact = do.add(sheet.record, kind, act.fields, place, reader.limits, person.name, now())
    detail = {"fact": fact, "after": _about(record, fact), "words": place.text}
    return _done(act, case, _checked(sheet, record, reader), reader, detail, fact)


def _answer(act: Act, case: Case, sheet: Sheet, person: Person, reader: Reader, store: Store) -> Done:
    flag = next((f for f in sheet.record.flags if f.id == act.flag), None)
    new, said = answer(sheet, act.flag or "", act.choice or 0, act.words, reader, person.name, now())
    detail: dict[str, Any] = {"flag": act.flag, "question": flag.message if flag else "", "answer": said}
    if act.words:
        detail["words"] = act.words
    changed = {f: after for f in facts_by_id(new.record) if (after := _about(new.record, f)) != _about(sheet.record, f)}
    if changed:
        detail["before"] = {f: _about(sheet.record, f) for f in changed}
        detail["after"] = changed
    return _done(act, case, _checked(new, new.record, reader), reader, detail, None)


def _undo(act: Act, case: Case, sheet: Sheet, person: Person, reader: Reader, store: Store) -> Done:
    if case.undo_to is None:
        raise InputError("There is nothing to undo.")
    if case.author != person.name:
        raise InputError(f"The last change is {case.author}'s; ask them, or change it yourself.")
    earlier = read_version(store, case.row.id, case.undo_to)
    assert earlier.sheet is not None
    change = Change(
        sheet=earlier.sheet, summary=summarize(earlier.sheet), act="undo", detail={"to": case.undo_to},
        state=_open_state(case), undo_to=earlier.undo_to, author=earlier.author,
    )  # fmt: skip
    return Done(change, _touched(sheet.record, earlier.sheet.record))


def _touched(a: CaseRecord, b: CaseRecord) -> str | None:
    """The first fact that two versions tell differently."""
    for fact in (*facts_by_id(b), *facts_by_id(a)):
        if _about(a, fact) != _about(b, fact) or a.review.get(fact) != b.review.get(fact):
            return fact
    return None


def _sign(act: Act, case: Case, sheet: Sheet, person: Person, reader: Reader, store: Store) -> Done:
    left = standing(sheet)
    if left.stops:
        raise InputError(f"{left.stops} questions must be settled before signing." if left.stops > 1 else
                         "One question must be settled before signing.")  # fmt: skip
    if left.unread:
        raise InputError(f"{len(left.unread)} facts must be read before signing." if len(left.unread) > 1 else
                         "One fact must be read before signing.")  # fmt: skip
    signed = sheet.model_copy(update={"amending": None})
    state: State = "amended" if case.row.state == "amending" else "signed"
    detail: dict[str, Any] = {"role": person.role}
    if sheet.amending:
        detail["reason"] = sheet.amending
    change = Change(sheet=signed, summary=summarize(signed), act="sign", detail=detail, state=state, signs=True)
    return Done(change)


def _amend(act: Act, case: Case, sheet: Sheet, person: Person, reader: Reader, store: Store) -> Done:
    reason = act.words.strip()
    if not reason:
        raise InputError("Type the reason for the amendment.")
    opened = sheet.model_copy(update={"amending": reason})
    change = Change(sheet=opened, summary=summarize(opened), act="amend", detail={"reason": reason}, state="amending")
    return Done(change)


ACTS: dict[str, Maker] = {
    "accept": _mark, "reject": _mark, "change": _change, "add": _add, "answer": _answer, "undo": _undo, "sign": _sign,
    "amend": _amend,
}  # fmt: skip
