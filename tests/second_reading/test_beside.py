"""Badly heard words after a number: which are listened to again, and what comes of what the decoder offers."""

from __future__ import annotations

from dataclasses import replace

import pytest

from extractor.grammar.limits import limits_of
from extractor.grammar.packs import Grammar, load_grammar
from extractor.language.annotate import annotate
from extractor.pipeline import extract
from extractor.second_reading.beside import slots_beside
from extractor.second_reading.slots import Slot
from extractor.second_reading.solve import Doubt, solve
from extractor.second_reading.sound import with_near
from extractor.second_reading.suggest import changed, flags_of
from extractor.second_reading.weighing import weighing_of
from extractor.speech.transcript import Transcript, Word

NOTE = (
    "Left knee, lateral meniscus transplant, keyhole technique. A slot was fashioned in the tibia, 9 millimeters wide "
    "and 1 centimeter tear. Graft seated."
)


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    return load_grammar()


def heard(unsure: tuple[str, ...], text: str = NOTE) -> Transcript:
    words, at = [], 0
    for word in text.split():
        start = text.index(word, at)
        at = start + len(word)
        words.append(Word(start=start, end=at, probability=0.3 if word in unsure else 0.99))
    return Transcript(text=text, words=tuple(words), kind="audio")


@pytest.mark.parametrize(
    ("unsure", "found"),
    [
        (("tear.",), ["tear"]),
        (("tear.", "wide"), ["wide", "tear"]),
        (("Graft", "fashioned", "meniscus"), []),
        (("millimeters",), []),
        ((), []),
    ],
)
def test_only_badly_heard_words_just_after_a_number_are_listened_to(
    grammar: Grammar, unsure: tuple[str, ...], found: list[str]
) -> None:
    slots = slots_beside(heard(unsure), annotate(NOTE, grammar), [], 0.8, 0.0)
    assert [slot.heard for slot in slots] == found
    assert all(NOTE[slot.start : slot.end] == slot.heard for slot in slots)


def test_other_words_are_listened_to_where_they_were_heard_worse_the_worst_first(grammar: Grammar) -> None:
    note = annotate(NOTE, grammar)
    assert [s.heard for s in slots_beside(heard(("fashioned", "tear.")), note, [], 0.8, 0.6)] == ["fashioned", "tear"]
    everything = slots_beside(heard(tuple(NOTE.split())), note, [], 0.0, 0.6)
    assert 0 < len(everything) < len(NOTE.split()) / 2
    assert not [s.heard for s in everything if s.heard in ("9", "1", "millimeters", "centimeter")]


def test_a_word_that_opens_the_next_sentence_and_one_that_is_asked_about_already_are_left(grammar: Grammar) -> None:
    text = NOTE.replace("tear. Graft", "deep. It is 8. Graft")
    assert not slots_beside(heard(("Graft",), text), annotate(text, grammar), [], 0.8, 0.0)
    taken = [Slot(NOTE.index("tear"), NOTE.index("tear") + 4, "tear", ("tier",), (), False)]
    assert not slots_beside(heard(("tear.",)), annotate(NOTE, grammar), taken, 0.8, 0.0)


def asked(grammar: Grammar, rival: str, nats: float) -> list[tuple[str, tuple[str, ...], str, str | None]]:
    """What is flagged where `rival` may have been said instead of the tear."""
    base = extract(Transcript(text=NOTE), grammar)
    start = NOTE.index("tear")
    doubt = Doubt(Slot(start, start + 4, "tear", (rival,), (), False, open=True), ("tear", rival), (0.0, nats, -50.0))
    weighing = weighing_of(grammar)
    answers = solve(
        [doubt], base, lambda changes: extract(Transcript(text=changed(NOTE, changes)), grammar), weighing.against
    )
    after = flags_of(base, answers, heard(()), weighing, limits_of(grammar.folders))
    assert after.model_copy(update={"flags": ()}) == base.model_copy(update={"flags": ()})
    names = {m.id: m.what for m in base.measurements}
    return [
        (f.check, tuple(names[i] for i in f.facts), f.message, f.suggestion)
        for f in after.flags
        if f.origin == "second-reading"
    ]


def test_the_flag_names_what_would_be_read_and_points_at_what_would_not(grammar: Grammar) -> None:
    ((check, facts, message, suggestion),) = asked(grammar, "deep", -0.5)
    assert check == "term-uncertain"
    assert facts == ("tear.length",)
    assert "it may have been deep" in message and "10 mm would be read" in message
    assert suggestion and "'deep'" in suggestion


@pytest.mark.parametrize(("rival", "nats"), [("deep", -6.0), ("tears", 1.0)])
def test_an_unlikely_word_and_one_that_changes_nothing_are_not_asked_about(
    grammar: Grammar, rival: str, nats: float
) -> None:
    assert asked(grammar, rival, nats) == []


def test_the_nearest_numbers_are_rivals_and_of_a_list_those_that_the_decoder_cannot_say_at_once() -> None:
    slot = Slot(0, 3, "180 minutes", ("118", "80", "18"), ("m1",), True, ask=True)
    near = with_near(slot, (80, 180, 18, 8, 1, 2), (1, 2, 8, 18, 80, 180))
    assert near.rivals == ("80 minutes", "18 minutes", "8 minutes", "1 minutes", "118")
    assert with_near(replace(slot, heard="8", rivals=("18",)), (88,), (8, 18, 88)).rivals == ("88",)
    assert with_near(replace(slot, heard="eight minutes", rivals=()), (88, 2), (2, 88)).rivals == (
        "88 minutes",
        "two minutes",
    )
