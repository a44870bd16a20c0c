"""What the rules hand on: facts before they get ids, seconds and a place in the record.

The facts layer writes drafts; `extractor.record.build_record` makes the record of them. A draft's
`fields` are named as in the record (contract, section 1), without `id`, `evidence` and `certainty`.
One draft is one fact: drafts are never merged, except those of `laterality` and of one element.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from extractor.language.values import value


@value(frozen=True, slots=True)
class Span:
    """Characters `start:end` of the transcript's text, and the rule that read them."""

    start: int
    end: int
    rule: str


@value(frozen=True, slots=True)
class FactDraft:
    """One fact as read.

    kind: laterality | procedures | findings | measurements | sutures | ties | steps | devices |
        grafts | plan | elements | claims.
    fields: as in the record. Besides those of the contract:
        laterality {value, joint}: one draft a side said (or one a mention); the side said most often
            becomes the record's, any other goes to its `others`.
        procedures {compartment_others: [{value, spans}]}: other compartments said for it, `spans`
            being Span values.
        elements {name, text}: said twice with another text, the texts are joined.
        claims {what, tissue, count}: a number that was announced ("four sutures"), not a fact.
        measurements of what "graft.allowance" (role "reference", mm): how much shorter the graft
            is cut; purpose "habit", or "case" where it was said for this case, which wins.
        steps {order}: give it to all steps or to none; without it the order told is taken.
    spans: where it was said. The first is the place itself and orders the facts; the others are
        what it rests on (context).
    key: a name by which a FlagDraft points at this draft.
    """

    kind: str
    fields: Mapping[str, object]
    spans: tuple[Span, ...]
    certainty: float = 1.0
    key: str = ""


@dataclass(frozen=True)
class FlagDraft:
    """A doubt that arose in reading (unread-number, number-uncertain, term-uncertain, ...).

    `fact_keys` name the drafts it concerns by their `key`.
    """

    check: str
    message: str
    spans: tuple[Span, ...]
    fact_keys: tuple[str, ...] = ()
    suggestion: str | None = None


@dataclass(frozen=True)
class RepairDraft:
    """A change made to the recognised words: what was heard, what it is read as, and why."""

    heard: str
    read_as: str
    why: str
    spans: tuple[Span, ...] = field(default=())
