"""Facts that rest on words heard badly, words inside a fact's own, and numbers whose opening was swallowed.

Common practice, no source: the wordings are such as recognized dictation showed.
"""

from __future__ import annotations

import pytest

from extractor.grammar.limits import limits_of
from extractor.grammar.packs import Grammar, load_grammar
from extractor.language.annotate import annotate
from extractor.pipeline import extract
from extractor.second_reading.change import gained, lost, spoiled
from extractor.second_reading.garbled import garbled_flags
from extractor.second_reading.slots import Slot, find_slots
from extractor.second_reading.solve import Doubt, solve
from extractor.second_reading.suggest import changed
from extractor.second_reading.unplaced import unplaced_flags
from extractor.second_reading.weighing import weighing_of
from extractor.speech.transcript import Transcript, Word

OPENS = "Right knee, ACL reconstruction. "


@pytest.fixture(scope="module")
def grammar() -> Grammar:
    return load_grammar()


def heard(text: str, badly: tuple[str, ...]) -> Transcript:
    """A transcript half a second a word, some words of it heard badly."""
    words: list[Word] = []
    at = 0
    for number, said in enumerate(text.split()):
        start = text.index(said, at)
        at = start + len(said)
        sure = 0.3 if said.strip(".,") in badly else 0.99
        words.append(Word(start=start, end=at, start_s=number / 2, end_s=number / 2 + 0.4, probability=sure))
    return Transcript(text=text, words=tuple(words))


@pytest.mark.parametrize(
    ("said", "badly", "asked"),
    [
        ("The knee by that 55 degrees of flexion.", ("by", "that"), ("knee.flexion_angle",)),
        ("The knee was held at 55 degrees of flexion.", (), ()),
        (
            "The knee was held at 55 degrees of flexion. Thank you all very much indeed.",
            ("Thank", "much", "indeed"),
            (),
        ),
        ("Tourniquet time was 61 minutes.", ("Tourniquet", "time"), ("tourniquet.time",)),
    ],
)
def test_a_fact_on_words_heard_badly_is_asked_about(
    grammar: Grammar, said: str, badly: tuple[str, ...], asked: tuple[str, ...]
) -> None:
    transcript = heard(OPENS + said, badly)
    record = extract(transcript, grammar)
    flags = list(garbled_flags(record, transcript, limits_of(grammar.folders), weighing_of(grammar).garbled))
    names = {m.id: m.what for m in record.measurements}
    assert tuple(names[fact] for flag in flags for fact in flag.facts) == asked
    assert all(flag.severity == "review" and flag.evidence[0].text in said for flag in flags)


def test_nothing_is_asked_of_words_without_probability_or_of_facts_asked_about(grammar: Grammar) -> None:
    limits, doubt = limits_of(grammar.folders), weighing_of(grammar).garbled
    text = OPENS + "The knee by that 55 degrees of flexion."
    transcript = heard(text, ("by", "that"))
    record = extract(transcript, grammar)
    (flag,) = garbled_flags(record, transcript, limits, doubt)
    assert not list(garbled_flags(record.model_copy(update={"flags": (flag,)}), transcript, limits, doubt))
    assert not list(garbled_flags(record, Transcript(text=text), limits, doubt))


def test_of_what_was_heard_badly_the_other_number_is_proposed(grammar: Grammar) -> None:
    limits, weighing = limits_of(grammar.folders), weighing_of(grammar)
    text = OPENS + "The knee by that 55 degrees of flexion."
    transcript = heard(text, ("by", "that"))
    record = extract(transcript, grammar)
    at = text.index("55")
    slot = Slot(at, at + 2, "55", ("65",), (record.measurements[0].id,), True)
    read = lambda changes: extract(Transcript(text=changed(text, changes)), grammar)  # noqa: E731
    answers = solve([Doubt(slot, ("55", "65"), (0.0, -5.0, -9.0))], record, read, weighing.against)
    (flag,) = garbled_flags(record, transcript, limits, weighing.garbled, answers)
    assert flag.suggestion is not None
    assert "65 degrees, by the sound" in flag.suggestion


# Common practice, no source: who says of one tunnel which it is says it of the next.
@pytest.mark.parametrize(
    ("said", "asked"),
    [
        (
            "Femoral tunnel drilled, diameter 10, depth 30. It was cycled. Then we drilled the tunnel, 9 millimeters.",
            1,
        ),
        ("Femoral tunnel drilled, diameter 10. Tibial tunnel drilled, diameter 9.", 0),
        ("The tunnel was drilled to 9 millimeters.", 0),
    ],
)
def test_a_measurement_without_a_place_is_asked_about_where_its_kind_has_one(
    grammar: Grammar, said: str, asked: int
) -> None:
    record = extract(Transcript(text=OPENS + said), grammar)
    record = record.model_copy(update={"flags": ()})
    flags = list(unplaced_flags(record, limits_of(grammar.folders)))
    assert len(flags) == asked
    bare = {m.id for m in record.measurements if m.what.startswith("tunnel.") and m.site is None}
    assert all(set(flag.facts) == bare and flag.severity == "review" for flag in flags)


BACK = (
    "Left knee, medial meniscus repair. Then six stitches, inside-out, two-oh. Posterior horn on {}, a blue one and "
    "next to it a white one. Posterior horn underneath, one green."
)


def test_what_only_tells_more_of_a_suture_spoils_none(grammar: Grammar) -> None:
    less, more = (extract(Transcript(text=BACK.format(word)), grammar) for word in ("pop", "top"))
    assert gained(less, more) and lost(less, more)
    assert not spoiled(less, more)
    assert spoiled(more, less)


def test_a_word_among_those_of_a_fact_may_be_one_of_the_trade(grammar: Grammar) -> None:
    slots = _slots(BACK.format("pop"), grammar)
    assert [s.rivals for s in slots if s.heard == "pop" and s.among] == [("top",)]


@pytest.mark.parametrize(
    ("said", "slot"),
    [
        ("Tourniquet to eight minutes.", "to eight"),
        ("Tourniquet aided three minutes.", "aided three"),
        ("Tourniquet up to 75 millimeters of mercury.", "to 75"),
        ("The knee went from 0 to 90 degrees.", "90"),  # a span, and no part of a number
        ("Tourniquet time 88 minutes.", "88"),
    ],
)
def test_a_word_before_a_number_may_have_been_its_opening(grammar: Grammar, said: str, slot: str) -> None:
    assert slot in [s.heard for s in _slots(OPENS + said, grammar) if s.number]


def test_a_zero_may_open_a_span(grammar: Grammar) -> None:
    slots = _slots(OPENS + "The range at the end was not to 120 degrees.", grammar)
    assert [s.rivals for s in slots if s.heard == "not"] == [("0",)]
    assert not [s for s in _slots(OPENS + "It was not to be repaired.", grammar) if s.heard == "not"]


def _slots(text: str, grammar: Grammar) -> list[Slot]:
    return find_slots(extract(Transcript(text=text), grammar), annotate(text, grammar), grammar)
