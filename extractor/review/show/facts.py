"""One fact as the page shows it."""

from __future__ import annotations

from dataclasses import dataclass

from extractor.checks.words import number, with_unit
from extractor.grammar.limits import Limits
from extractor.record.facts import Evidence, Known, Measurement
from extractor.record.models import CaseRecord
from extractor.review.act.primary import is_primary, state_of
from extractor.review.models import BY_HAND
from extractor.review.show.bar import Bar, bar_of
from extractor.review.show.words import STATE_WORDS, before_words, name_of, value_of


@dataclass(frozen=True)
class FactView:
    """A fact ready to be written into the page."""

    id: str
    kind: str
    name: str
    value: str
    state: str
    sign: str
    word: str
    before: str | None
    by_addendum: bool
    earlier: str
    spans: str
    sound: str
    rule: str
    words: str
    primary: bool
    unsure: bool
    bar: Bar | None
    note: str
    asked: bool


def fact_view(record: CaseRecord, kind: str, fact: Known, limits: Limits, asked: set[str]) -> FactView:
    """Make the view of one fact; `asked` holds ids that an open question is about."""
    state = state_of(record, fact.id)
    by_hand = fact.evidence[0].rule == BY_HAND
    shown = "added" if by_hand and state in ("accepted", "edited") else state
    sign, word = STATE_WORDS[shown]
    measured = fact if isinstance(fact, Measurement) else None
    before = before_words(record, fact)
    earlier = ""
    if measured and measured.earlier_values and not before:
        earlier = ", ".join(with_unit(number(n), measured.unit) for n in measured.earlier_values)
    notes = [measured.role, measured.when, measured.purpose] if measured else []
    return FactView(
        id=fact.id,
        kind=kind,
        name=name_of(fact, limits),
        value=value_of(fact),
        state=shown,
        sign=sign,
        word=word,
        before=before,
        by_addendum=before is not None and state == "unreviewed",
        earlier=earlier,
        spans=spans_of(fact.evidence),
        sound=sound_of(fact.evidence),
        rule="" if by_hand else (fact.evidence[0].rule or "").replace("<", "").replace(">", ""),
        words=fact.evidence[0].text,
        primary=is_primary(fact, kind),
        unsure=fact.certainty < 0.6,
        bar=bar_of(measured, limits) if measured else None,
        note=", ".join(note for note in notes if note and note != "observed"),
        asked=fact.id in asked,
    )


def spans_of(evidence: tuple[Evidence, ...]) -> str:
    """Where something was said, for the page: '330-351 359-366', the first being the words themselves."""
    return " ".join(f"{e.start}-{e.end}" for e in evidence if e.end > e.start)


def sound_of(evidence: tuple[Evidence, ...]) -> str:
    """The seconds of the first evidence, for hearing it: '12.3-14.1', or nothing."""
    first = next((e for e in evidence if e.start_s is not None and e.end_s is not None), None)
    return f"{first.start_s:.2f}-{first.end_s:.2f}" if first else ""
