"""What others did to a case, in a sentence; and lines of the trail in words."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import Any

from extractor.grammar.limits import Limits
from extractor.record.models import facts_by_id
from extractor.review.models import Sheet
from extractor.review.show.words import name_of, plain, value_of
from extractor.review.store.trail import Line

DID = {
    "accept": "accepted", "change": "changed", "reject": "rejected", "add": "added", "answer": "answered a question on",
    "undo": "undid the last change", "sign": "signed the case", "amend": "opened the case for amendment",
    "addendum": "added a dictated addendum", "read": "read the note",
}  # fmt: skip


def told_since(lines: Sequence[Line], sheet: Sheet | None, limits: Limits) -> str:
    """Tell the later of two writers what the earlier one did."""
    if not lines or sheet is None:
        return "The case changed since you saw it. Your change is not kept yet."
    last = lines[-1]
    detail = json.loads(last.detail)
    fact = facts_by_id(sheet.record).get(detail.get("fact", ""))
    about = f" {name_of(fact, limits)} ({value_of(fact)})" if fact else ""
    if last.act == "answer":
        about = f" “{detail.get('question', '')}” with “{detail.get('answer', '')}”"
    more = f" and did {len(lines) - 1} more" if len(lines) > 1 else ""
    return f"{last.who} {DID.get(last.act, last.act)}{about}{more} since you saw the case. Your change is not kept yet."


def detail_words(detail: Mapping[str, Any]) -> list[tuple[str, str]]:
    """A line's detail as pairs of words, what is empty left out."""
    return [(key.replace("_", " "), _flat(value)) for key, value in detail.items() if value not in (None, "")]


def _flat(value: Any) -> str:
    if not isinstance(value, Mapping):
        return plain(value) if isinstance(value, str) and " " not in value and "_" in value else str(value)
    told = {k: v for k, v in value.items() if v not in (None, [], "", False)}
    return ", ".join(
        f"{plain(k)} ({_flat(v)})" if isinstance(v, Mapping) else f"{plain(k)} {_flat(v)}" for k, v in told.items()
    )
