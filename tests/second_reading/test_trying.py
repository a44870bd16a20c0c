"""Other readings of words, tried together: the same comes of it as when each is tried alone, in fewer readings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import yaml

from extractor.grammar.packs import load_grammar
from extractor.language.annotate import annotate
from extractor.pipeline import extract
from extractor.record.models import CaseRecord
from extractor.second_reading.slots import Slot, find_slots
from extractor.second_reading.suggest import changed
from extractor.second_reading.trying import Trying
from extractor.second_reading.weighing import weighing_of
from extractor.speech.transcript import Transcript

GOLD = Path(__file__).parents[1] / "gold"
WORDS = ("white", "posterior", "eighteen", "depth", "tied", "left")


class Reader:
    """Reads a note with other words in some slots, and counts how often."""

    def __init__(self, text: str) -> None:
        self.text, self.times, self.grammar = text, 0, load_grammar()

    def __call__(self, changes: Mapping[Slot, str]) -> CaseRecord:
        self.times += 1
        return extract(Transcript(text=changed(self.text, changes)), self.grammar)


def test_together_tells_the_same_as_alone() -> None:
    grammar = load_grammar()
    against = weighing_of(grammar).against
    same = tried = 0
    readings = [0, 0]
    for name in ("n01", "n50", "n130", "n290"):
        text: str = yaml.safe_load((GOLD / f"{name}.yaml").read_text(encoding="utf-8"))["note"]
        record = extract(Transcript(text=text), grammar)
        slots = [s for s in find_slots(record, annotate(text, grammar), grammar) if s.number or not s.facts][::3]
        slots = [replace(s, rivals=s.rivals[:2]) for s in slots + _open_slots(text, slots)]
        together, alone = Reader(text), Reader(text)
        found = Trying(record, together, against).worth_hearing(slots)
        for slot, kept in zip(slots, found, strict=True):
            (expected,) = Trying(record, alone, against).worth_hearing([slot])
            tried += len(slot.rivals)
            same += sum((rival in kept.rivals) == (rival in expected.rivals) for rival in slot.rivals)
        readings = [readings[0] + together.times, readings[1] + alone.times]
    # What agrees with the rest of the case only together with another change may differ.
    assert same >= 0.98 * tried
    assert readings[0] < 0.6 * readings[1]


def test_what_was_tried_is_not_tried_again() -> None:
    text = "Left knee. The defect was eighteen millimeters long. The graft was cut at eighteen millimeters."
    grammar = load_grammar()
    record = extract(Transcript(text=text), grammar)
    start = text.index("eighteen")
    slot = Slot(start, start + 8, "eighteen", ("eighty",), (), True)
    read = Reader(text)
    trying = Trying(record, read, weighing_of(grammar).against)
    assert trying.worth_hearing([slot]) == trying.worth_hearing([slot])
    assert read.times == 1


def test_a_number_said_twice_is_tried_in_both_places() -> None:
    text = (
        "Left knee, segmental transplant of the lateral meniscus. The defect was 18 millimeters long and "
        "40 millimeters from the posterior root. The graft was marked 40 millimeters from its posterior root."
    )
    grammar = load_grammar()
    record = extract(Transcript(text=text), grammar)
    slots = [Slot(at, at + 2, "40", ("14",), ("m",), True) for at in (text.index("40"), text.rindex("40"))]
    against = weighing_of(grammar).against
    alone = [Trying(record, Reader(text), against).worth_hearing([slot])[0].rivals for slot in slots]
    both = [slot.rivals for slot in Trying(record, Reader(text), against).worth_hearing(slots)]
    beside = Trying(record, Reader(text), against).worth_hearing(slots[1:], slots)[0].rivals
    assert alone == [(), ()]
    assert both == [("14",), ("14",)]
    assert beside == ("14",)


def _open_slots(text: str, taken: list[Slot]) -> list[Slot]:
    """Every ninth word as one that was heard badly, with words of the trade as rivals."""
    found: list[Slot] = []
    at = 0
    for number, word in enumerate(text.split()):
        start = text.index(word, at)
        at = start + len(word)
        free = not any(s.start < at and start < s.end for s in taken)
        if number % 9 == 4 and word.isalpha() and free:
            found.append(Slot(start, at, word, WORDS[number % 5 : number % 5 + 2], (), False, open=True, ask=True))
    return found
