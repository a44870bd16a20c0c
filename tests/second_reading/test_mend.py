"""Repairs by the sound: taken where sound and grammar agree, listed, and never of a number or a side."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import Grammar, load_grammar
from extractor.pipeline import extract
from extractor.record.models import CaseRecord
from extractor.second_reading.mend import repaired, repairs_of
from extractor.second_reading.slots import Slot
from extractor.second_reading.solve import Answer, Doubt, solve
from extractor.second_reading.suggest import changed
from extractor.second_reading.weighing import weighing_of
from extractor.speech.transcript import Transcript

NOTE = (
    "Left knee, lateral meniscus transplant. Native sutures next, two of them, white in the back on shop, green in the "
    "back underneath. The tear was 30 millimeters long."
)


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    return load_grammar()


def answers(grammar: Grammar, doubts: list[Doubt], text: str = NOTE) -> tuple[CaseRecord, list[Answer]]:
    base = extract(Transcript(text=text), grammar)
    read = lambda changes: extract(Transcript(text=changed(text, changes)), grammar)  # noqa: E731
    return base, solve(doubts, base, read, weighing_of(grammar).against)


def doubt(heard: str, rival: str, nats: float, text: str = NOTE, *, number: bool = False) -> Doubt:
    start = text.index(heard)
    return Doubt(Slot(start, start + len(heard), heard, (rival,), (), number), (heard, rival), (0.0, nats, -50.0))


def taken(grammar: Grammar, doubts: list[Doubt], text: str = NOTE) -> list[tuple[str, str, bool]]:
    base, found = answers(grammar, doubts, text)

    def read(changes: dict[Slot, str]) -> CaseRecord:
        return extract(Transcript(text=changed(text, changes)), grammar)

    return [(r.heard, r.read_as, r.settled) for r in repairs_of(base, found, text, weighing_of(grammar), read)]


def test_a_word_is_read_as_what_the_sound_says_where_a_fact_comes_of_it(grammar: Grammar) -> None:
    assert taken(grammar, [doubt("shop", "top", 4.0)]) == [("shop", "top", True)]
    ((_, _, settled),) = taken(grammar, [doubt("shop", "top", -0.5)])
    assert not settled


@pytest.mark.parametrize(
    ("heard", "rival", "nats", "number"),
    [
        ("shop", "top", -6.0, False),  # the sound is against it
        ("underneath", "beneath", 4.0, False),  # nothing comes of it
        ("green", "grin", 4.0, False),  # a fact would be lost
        ("30", "13", 4.0, True),  # a number
        ("Left", "Right", 4.0, False),  # the side
    ],
)
def test_nothing_else_is_put_in_place(grammar: Grammar, heard: str, rival: str, nats: float, number: bool) -> None:
    assert taken(grammar, [doubt(heard, rival, nats, number=number)]) == []


def test_the_same_word_heard_again_is_read_the_same(grammar: Grammar) -> None:
    text = "Left knee, lateral meniscus transplant. The slot is 9 millimeters while. The graft is 9 millimeters while."
    second = text.rindex("while")
    again = Doubt(Slot(second, second + 5, "while", ("wide",), (), False), ("while", "wide"), (0.0, -3.0, -50.0))
    assert taken(grammar, [again], text) == []
    assert [r[:2] for r in taken(grammar, [doubt("while", "wide", 3.0, text), again], text)] == [("while", "wide")] * 2


def test_a_repair_is_listed_keeps_the_text_and_is_flagged_where_it_is_not_sure(grammar: Grammar) -> None:
    base, found = answers(grammar, [doubt("shop", "top", -0.5)])
    repairs = repairs_of(
        base, found, NOTE, weighing_of(grammar), lambda c: extract(Transcript(text=changed(NOTE, c)), grammar)
    )
    after = extract(Transcript(text=NOTE), grammar, repairs=repairs)
    (new,) = [s for s in after.sutures if s.surface == "superior"]
    assert any("shop" in e.text for e in new.evidence)
    assert all(NOTE[e.start : e.end] == e.text for s in after.sutures for e in s.evidence)
    assert [(r.heard, r.read_as) for r in after.repairs] == [("shop", "top")]
    assert [f.facts for f in after.flags if f.check == "term-uncertain"] == [(new.id,)]
    assert changed(NOTE, repaired(repairs)) == NOTE.replace("shop", "top")
