"""The sound itself is asked: sentences spoken by flite, a synthesizer that has nothing to do with the recognizer."""

from __future__ import annotations

import subprocess

import pytest

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.second_reading import second_reading
from extractor.second_reading.slots import Slot
from extractor.second_reading.sound import score_slots, with_offers
from extractor.second_reading.stretches import stretches
from extractor.speech.audio import read_whole
from extractor.speech.model import load_model
from extractor.speech.transcript import Transcript, Word
from tests.machine import need_command

pytestmark = pytest.mark.speech


@pytest.fixture(scope="module")
def model():
    return load_model()


def _spoken(folder, text: str, voice: str = "slt"):
    path = folder / "said.wav"
    subprocess.run([need_command("flite"), "-voice", voice, "-t", text, "-o", str(path)], check=True)
    return path


def _as_heard(text: str, seconds: float) -> Transcript:
    """A transcript as if `text` had been heard, its words spread evenly."""
    words, at = [], 0
    each = seconds / len(text.split())
    for number, word in enumerate(text.split()):
        start = text.index(word, at)
        at = start + len(word)
        words.append(Word(start=start, end=at, start_s=number * each, end_s=(number + 1) * each, probability=0.5))
    return Transcript(text=text, words=tuple(words), kind="audio", language="en")


@pytest.mark.parametrize("said, heard", [("eighteen", "80"), ("eighty", "18"), ("fifteen", "50"), ("nine", "5")])
def test_the_sound_speaks_for_the_number_said(tmp_path, model, said, heard):
    figures = {"eighteen": "18", "eighty": "80", "fifteen": "15", "nine": "9"}[said]
    path = _spoken(tmp_path, f"The tear was {said} millimeters long in the posterior horn.")
    samples = read_whole(path)
    transcript = _as_heard(f"The tear was {heard} millimeters long in the posterior horn.", len(samples) / 16_000)
    start = transcript.text.index(heard)
    slot = Slot(start, start + len(heard), heard, (figures,), ("m1",), True)
    (odds,) = score_slots([slot], transcript, samples, model, load_grammar())
    best = max(zip(odds.log_odds, odds.slot.rivals, strict=True))
    assert best[0] > 0
    assert figures in best[1].split() or said in best[1].split()


class _Counting:
    """A recognizer that keeps what texts it was asked about."""

    def __init__(self, model, at_once=1):
        self._model, self.asked, self.at_once = model, [], at_once

    def __getattr__(self, name):
        return getattr(self._model, name)

    def piece_probabilities(self, states, start, sequences):
        self.asked += [self._model.tokens.decode(list(pieces)) for pieces in sequences]
        return self._model.piece_probabilities(states, start, sequences)


def test_what_the_ear_rules_out_is_not_asked_of_the_decoder(tmp_path, model):
    said = "The tourniquet was let down after fifteen minutes."
    path = _spoken(tmp_path, said)
    samples = read_whole(path)
    transcript = _as_heard(said.replace("fifteen", "50"), len(samples) / 16_000)
    start = transcript.text.index("50")
    rivals = ("15", "eleven hundred and eleven")
    slot = Slot(start, start + 2, "50", rivals, ("m1",), True)
    counting = _Counting(model)
    read_anew: list[str] = []

    def worth_scoring(slots):
        read_anew.extend(rival for slot in slots for rival in slot.rivals)
        return slots

    (odds,) = score_slots([slot], transcript, samples, counting, load_grammar(), worth_scoring)
    assert "15" in read_anew and "eleven hundred and eleven" not in read_anew
    asked = " ".join(counting.asked)
    assert " 50 " in asked and " 15 " in asked and "eleven hundred" not in asked
    assert "15" in odds.slot.rivals and "eleven hundred and eleven" not in odds.slot.rivals
    assert len(odds.log_odds) == len(odds.ear) == len(odds.slot.rivals)


def test_several_stretches_asked_about_at_once_give_the_same(tmp_path, model):
    said = [
        "The tear was eighteen millimeters long in the posterior horn.",
        "The tourniquet was let down after fifteen minutes of work.",
        "The defect of the lateral meniscus was thirty millimeters long.",
    ]
    samples = read_whole(_spoken(tmp_path, " ".join(said)))
    transcript = _as_heard(" ".join(said), len(samples) / 16_000)
    slots = [
        Slot(at, at + len(word), word, rivals, ("m1",), True, ask=True)
        for word, rivals in (("eighteen", ("80",)), ("fifteen", ("50",)), ("thirty", ("13",)))
        for at in [transcript.text.index(word)]
    ]
    several = _Counting(model, at_once=3)
    assert len(stretches(slots, transcript)) == 3
    one_by_one = score_slots(slots, transcript, samples, model, load_grammar())
    assert score_slots(slots, transcript, samples, several, load_grammar()) == one_by_one


def test_left_and_right_are_told_apart(tmp_path, model):
    path = _spoken(tmp_path, "This is the right knee and the lateral meniscus.")
    samples = read_whole(path)
    transcript = _as_heard("This is the left knee and the lateral meniscus.", len(samples) / 16_000)
    start = transcript.text.index("left")
    slot = Slot(start, start + 4, "left", ("right",), ("side",), False)
    (odds,) = score_slots([slot], transcript, samples, model, load_grammar())
    assert odds.log_odds[0] > 0


def test_a_wrong_number_is_flagged_with_the_right_one_and_not_changed(tmp_path, model):
    grammar = load_grammar()
    said = "Left knee, medial meniscus repair. The tear was eighteen millimeters long in the posterior horn."
    path = _spoken(tmp_path, said)
    transcript = _as_heard(said.replace("eighteen", "60"), len(read_whole(path)) / 16_000)
    record = extract(transcript, grammar)
    after = second_reading(record, path, transcript, model, grammar)
    assert after.model_copy(update={"flags": ()}) == record.model_copy(update={"flags": ()})
    (tear,) = [m for m in after.measurements if m.what == "tear.length"]
    assert tear.value == 60
    about = [flag for flag in after.flags if tear.id in flag.facts and flag.severity in ("stop", "review")]
    assert about


@pytest.mark.parametrize("said, heard", [("eighty eight", "8"), ("thirty seven", "57"), ("twelve", "20")])
def test_the_decoder_is_asked_for_numbers_that_no_list_names(tmp_path, model, said, heard):
    figures = {"eighty eight": "88", "thirty seven": "37", "twelve": "12"}[said]
    samples = read_whole(_spoken(tmp_path, f"The tourniquet was let down after {said} minutes of work."))
    transcript = _as_heard(f"The tourniquet was let down after {heard} minutes of work.", len(samples) / 16_000)
    start = transcript.text.index(heard)
    slot = Slot(start, start + len(heard), heard, (), ("m1",), True, ask=True)
    (odds,) = score_slots([slot], transcript, samples, model, load_grammar())
    best = max(zip(odds.log_odds, odds.slot.rivals, strict=True))
    assert best[0] > 0 and figures in best[1].split()


def test_a_word_of_the_trade_is_heard_where_another_was_written(tmp_path, model):
    samples = read_whole(_spoken(tmp_path, "The white tape was passed through the posterior horn of the graft."))
    transcript = _as_heard("The wide tape was passed through the posterior horn of the graft.", len(samples) / 16_000)
    start = transcript.text.index("wide")
    slot = Slot(start, start + 4, "wide", (), (), False, open=True, ask=True)
    (odds,) = score_slots([slot], transcript, samples, model, load_grammar())
    nats = dict(zip(odds.slot.rivals, odds.log_odds, strict=True))
    assert nats["white"] > -2  # as near as what was written, or nearer


def test_what_the_decoder_offers_comes_first_and_brings_its_unit():
    slot = Slot(0, 3, "1.2", ("12", "1"), ("m1",), True)
    offered = with_offers(slot, " meters from its root", ["8 millimeters from", "eight millimeters", "no number"])
    assert offered.heard == "1.2 meters"
    assert offered.end == len("1.2 meters")
    assert offered.rivals == ("8 millimeters", "12 meters", "1 meters")
