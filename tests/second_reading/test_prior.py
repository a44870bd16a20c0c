"""What is proposed first by what is usual of a value. Ranges and steps are common practice, no source."""

from __future__ import annotations

import math

import pytest

from extractor.grammar.limits import limits_of
from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.record.models import CaseRecord
from extractor.second_reading.prior import value_prior
from extractor.second_reading.slots import Slot, primary_facts
from extractor.second_reading.solve import Doubt, solve
from extractor.second_reading.suggest import changed, flags_of
from extractor.second_reading.weighing import weighing_of
from extractor.speech.transcript import Transcript

GRAMMAR = load_grammar()
LIMITS = limits_of(GRAMMAR.folders)
WEIGHING = weighing_of(GRAMMAR)
NOTE = "Left knee, lateral meniscus, segmental allograft transplant. "


def heard(text: str, number: str, *rivals: tuple[str, float]) -> dict[str, str | None]:
    """The suggestions of a note's flags, where the sound says of `number` that it may have been a rival."""
    record = extract(Transcript(text=text), GRAMMAR)
    doubts: list[Doubt] = []
    if number:
        start = text.index(f" {number} ") + 1
        facts = tuple(f.id for f in primary_facts(record) if any(e.start <= start < e.end for e in f.evidence))
        slot = Slot(start, start + len(number), number, tuple(r for r, _ in rivals), facts, True)
        doubts = [Doubt(slot, (number, *(r for r, _ in rivals)), (0.0, *(n for _, n in rivals), -9.0))]

    def read(changes: dict[Slot, str]) -> CaseRecord:
        return extract(Transcript(text=changed(text, changes)), GRAMMAR)

    answers = solve(doubts, record, read, WEIGHING.against)  # type: ignore[arg-type]
    after = flags_of(record, answers, Transcript(text=text), WEIGHING, LIMITS)
    return {flag.check: flag.suggestion for flag in after.flags}


@pytest.mark.parametrize(
    ("what", "likelier", "less"),
    [
        ("tourniquet.pressure", 250, 255),  # in tens
        ("blood_loss.volume", 50, 16),
        ("tunnel.diameter", 8.5, 8.45),
        ("defect.root_distance", 13, 30),
        ("graft.width", 10, 24),
        ("rim.width", 2, 6),
        ("tourniquet.time", 47, 247),
    ],
)
def test_what_is_usual_and_round_is_likelier(what: str, likelier: float, less: float) -> None:
    limit = LIMITS.measurements[what]
    assert value_prior([likelier], limit, WEIGHING.prior) > value_prior([less], limit, WEIGHING.prior)


def test_what_cannot_be_is_never_proposed() -> None:
    assert value_prior([22], LIMITS.measurements["rim.width"], WEIGHING.prior) == -math.inf


@pytest.mark.parametrize(
    ("said", "first"),
    [
        (
            "The defect starts 13 millimeters from the posterior root. The graft was cut 30 millimeters from its root.",
            "The distance from the graft's posterior root to the cut 13 mm, or",
        ),
        (
            "The defect starts 30 millimeters from the posterior root. The graft was cut 13 millimeters from its root.",
            "The distance from the posterior root to the defect 13 mm, or",
        ),
        (
            "The defect is 20 millimeters long and 10 millimeters wide. The graft was cut 24 millimeters wide.",
            "The width of the graft 10 mm, or",
        ),
    ],
)
def test_of_two_ways_out_the_more_usual_value_comes_first(said: str, first: str) -> None:
    assert any((told or "").startswith(first) for told in heard(NOTE + said, "").values())


def test_what_was_said_beside_a_number_that_cannot_be_comes_first() -> None:
    text = "Left knee. Lateral meniscus has a radial tear of the body, goes 390 percent of the width, maybe 95 percent."
    told = heard(text, "390", ("39", -7.0))["value-implausible"] or ""
    assert told.startswith("About 95%")
    assert "39%, by the sound" in told


def test_of_a_number_without_unit_what_can_be_comes_first_with_the_unit() -> None:
    text = "Left knee. The medial meniscus tear is longitudinal, posterior horn. Length 80 , repaired with two sutures."
    told = heard(text, "80", ("18", -2.0))
    assert (told.get("unit-missing") or "").startswith("The length of the tear 18 mm, by the sound.")
    assert "number-uncertain" not in told
