"""Solving together: exact, and nothing changed by itself."""

from __future__ import annotations

import itertools
import math

import pytest

from extractor.grammar.limits import limits_of
from extractor.grammar.packs import load_grammar
from extractor.language.annotate import annotate
from extractor.pipeline import extract
from extractor.second_reading.slots import Slot, find_slots
from extractor.second_reading.solve import Doubt, cost_of, solve
from extractor.second_reading.suggest import changed, flags_of
from extractor.second_reading.weighing import in_noise, noise_of, scores, weighing_of
from extractor.speech.transcript import Transcript, Word

NOTE = (
    "Left knee, lateral meniscus, segmental allograft transplant. The defect measured 19 millimeters along the rim. "
    "It was 9 millimeters from the rim to the free edge. The graft was cut at 8 millimeters long by 9 millimeters wide."
)


@pytest.fixture(scope="module")
def grammar():
    return load_grammar()


def _slot(word: str, after: str, rivals: tuple[str, ...], facts: tuple[str, ...] = ("m1",)) -> Slot:
    start = NOTE.index(f"{word} {after}")
    return Slot(start, start + len(word), word, rivals, facts, True)


def _solved(grammar, doubts):
    base = extract(Transcript(text=NOTE), grammar)
    weighing = weighing_of(grammar)
    read = lambda changes: extract(Transcript(text=changed(NOTE, changes)), grammar)  # noqa: E731
    return base, solve(doubts, base, read, weighing.against)


def test_the_case_decides_where_the_sound_does_not(grammar):
    cut = _slot("8", "millimeters long", ("18", "80"))
    base, (answer,) = _solved(grammar, [Doubt(cut, ("8", "18", "80"), (0.0, -1.0, -1.0, -6.0))])
    assert any(flag.check == "graft-length-mismatch" for flag in base.flags)
    assert answer.alone[0] > answer.alone[1] == pytest.approx(answer.alone[2])
    # 19 less the usual 1 mm is 18
    assert answer.together[1] > answer.together[0]
    assert answer.together[1] > answer.together[2]
    assert any("graft-length-mismatch" in name for name in answer.settled)


def test_marginals_are_those_of_the_whole_table(grammar):
    cut = _slot("8", "millimeters long", ("18",))
    defect = _slot("19", "millimeters along", ("9",))
    doubts = [Doubt(cut, ("8", "18"), (0.0, -1.5, -5.0)), Doubt(defect, ("19", "9"), (0.0, -0.5, -4.0))]
    base, answers = _solved(grammar, doubts)
    against = weighing_of(grammar).against

    def nats(choice: tuple[int, int]) -> float:
        text = NOTE
        for doubt, r in sorted(zip(doubts, choice, strict=True), key=lambda pair: -pair[0].slot.start):
            if r < 2:
                text = text[: doubt.slot.start] + doubt.readings[r] + text[doubt.slot.end :]
        record = extract(Transcript(text=text), grammar)
        lost = max(0, len(base.measurements) - len(record.measurements))
        cost = sum(against.get(flag.check, 0.0) for flag in record.flags) + lost * against["fact-lost"]
        return sum(doubt.nats[r] for doubt, r in zip(doubts, choice, strict=True)) - cost

    table = {choice: math.exp(nats(choice)) for choice in itertools.product(range(3), range(3))}
    total = sum(table.values())
    for place, answer in enumerate(answers):
        for r in range(3):
            share = sum(weight for choice, weight in table.items() if choice[place] == r) / total
            assert answer.together[r] == pytest.approx(share, abs=1e-9)


def test_readings_that_share_no_check_are_not_read_together_and_weigh_as_if_they_were(grammar):
    text = NOTE + " The tourniquet was inflated to 250 millimeters of mercury."
    at = text.index("250")
    cut = _slot("8", "millimeters long", ("18",))
    cuff = Slot(at, at + 3, "250", ("950",), ("m5",), True)
    doubts = [Doubt(cut, ("8", "18"), (0.0, -1.0, -6.0)), Doubt(cuff, ("250", "950"), (0.0, -0.5, -5.0))]
    base = extract(Transcript(text=text), grammar)
    tried = []

    def read(changes):
        tried.append(len(changes))
        return extract(Transcript(text=changed(text, changes)), grammar)

    against = weighing_of(grammar).against
    answers = solve(doubts, base, read, against)
    assert tried and max(tried) == 1
    table = {}
    for choice in itertools.product(range(2), repeat=2):
        changes = {d.slot: d.readings[r] for d, r in zip(doubts, choice, strict=True) if r}
        cost = cost_of(extract(Transcript(text=changed(text, changes)), grammar), base, against)
        table[choice] = math.exp(sum(d.nats[r] for d, r in zip(doubts, choice, strict=True)) - cost)
    for place, answer in enumerate(answers):
        shares = [sum(w for choice, w in table.items() if choice[place] == r) for r in range(len(answer.together) - 1)]
        own = answer.together[:-1]  # without something else, which is in no table
        assert own[1] / own[0] == pytest.approx(shares[1] / shares[0])
        assert shares[1] / shares[0] != pytest.approx(math.exp(doubts[place].nats[1]))  # the checks did speak


def test_a_slot_stays_in_doubt_however_many_others_there_are(grammar):
    text = NOTE + " The tourniquet was let down at 250 minutes. Blood loss 10 cc. The rim was 40 millimeters wide."
    numbers = {"19": ("90", "18", "9"), "8": ("18", "80", "88"), "250": ("50", "150", "215"), "40": ("4", "14", "2")}
    doubts = []
    for heard, rivals in numbers.items():
        start = text.index(f" {heard} ") + 1
        slot = Slot(start, start + len(heard), heard, rivals, ("m1",), True)
        doubts.append(Doubt(slot, (heard, *rivals), (0.0, -2.0, -2.1, -2.2, -6.0)))
    read = lambda changes: extract(Transcript(text=changed(text, changes)), grammar)  # noqa: E731
    base = extract(Transcript(text=text), grammar)
    together = solve(doubts, base, read, weighing_of(grammar).against)
    for doubt, answer in zip(doubts, together, strict=True):
        (alone,) = solve([doubt], base, read, weighing_of(grammar).against)
        assert sum(answer.together) == pytest.approx(1.0)
        assert all(share > 0 for share in answer.together)
        assert answer.best_rival == alone.best_rival
        assert answer.doubtful > 0.5 * alone.doubtful


def test_no_fact_is_changed_and_the_flag_gets_its_suggestion(grammar):
    base = extract(Transcript(text=NOTE), grammar)
    (graft,) = [m for m in base.measurements if m.what == "graft.ap_length"]
    cut = _slot("8", "millimeters long", ("18",), (graft.id,))
    base, answers = _solved(grammar, [Doubt(cut, ("8", "18"), (0.0, 0.0, -6.0))])
    transcript = Transcript(text=NOTE)
    after = flags_of(base, answers, transcript, weighing_of(grammar), limits_of(grammar.folders))
    assert after.model_copy(update={"flags": ()}) == base.model_copy(update={"flags": ()})
    (flag,) = [f for f in after.flags if f.check == "graft-length-mismatch"]
    assert flag.suggestion is not None
    assert "18 mm" in flag.suggestion
    assert "sound" in flag.suggestion


def test_what_the_sound_would_settle_is_proposed_first(grammar):
    base = extract(Transcript(text=NOTE), grammar)
    (graft,) = [m for m in base.measurements if m.what == "graft.ap_length"]
    cut = _slot("8", "millimeters long", ("18", "80"), (graft.id,))
    base, answers = _solved(grammar, [Doubt(cut, ("8", "18", "80"), (0.0, 0.0, -9.0, -9.0))])
    after = flags_of(base, answers, Transcript(text=NOTE), weighing_of(grammar), limits_of(grammar.folders))
    (flag,) = [f for f in after.flags if f.check == "graft-length-mismatch"]
    (before,) = [f for f in base.flags if f.check == "graft-length-mismatch"]
    assert flag.suggestion == f"The length of the graft 18 mm, by the sound: that would settle it. {before.suggestion}"


def test_of_two_numbers_that_do_not_fit_the_less_surely_heard_is_proposed_first(grammar):
    def proposed(unsure: str) -> str:
        words, at = [], 0
        for said in NOTE.split():
            start = NOTE.index(said, at)
            at = start + len(said)
            context = NOTE[start : start + 24]
            words.append(Word(start=start, end=at, probability=0.3 if context.startswith(unsure) else 0.98))
        record = extract(Transcript(text=NOTE, words=tuple(words), kind="audio"), grammar)
        (flag,) = [f for f in record.flags if f.check == "graft-length-mismatch"]
        return flag.suggestion or ""

    assert proposed("8 millimeters long").startswith("The length of the graft 18 mm")
    assert proposed("19 millimeters").startswith("The length of the defect 9 mm")
    assert proposed("none").startswith("The length of the graft 18 mm")


@pytest.mark.parametrize("likelier", ["8", "19"])
def test_of_two_proposals_by_the_sound_the_likelier_comes_first(grammar, likelier):
    base = extract(Transcript(text=NOTE), grammar)
    (graft,) = [m for m in base.measurements if m.what == "graft.ap_length"]
    (defect,) = [m for m in base.measurements if m.what == "defect.ap_length"]
    odds = {"8": -3.0, "19": -3.0} | {likelier: 2.0}
    doubts = [
        Doubt(_slot("19", "millimeters along", ("9",), (defect.id,)), ("19", "9"), (0.0, odds["19"], -9.0)),
        Doubt(_slot("8", "millimeters long", ("18",), (graft.id,)), ("8", "18"), (0.0, odds["8"], -9.0)),
    ]
    base, answers = _solved(grammar, doubts)
    after = flags_of(base, answers, Transcript(text=NOTE), weighing_of(grammar), limits_of(grammar.folders))
    (flag,) = [f for f in after.flags if f.check == "graft-length-mismatch"]
    places = [(flag.suggestion or "").index(f"{told}, by the sound") for told in ("graft 18 mm", "defect 9 mm")]
    assert (places[0] < places[1]) == (likelier == "8")


def test_what_leans_on_a_doubtful_number_is_asked_about_with_it(grammar):
    fits = NOTE.replace("8 millimeters long", "18 millimeters long")
    base = extract(Transcript(text=fits), grammar)
    (defect,) = [m for m in base.measurements if m.what == "defect.ap_length"]
    (graft,) = [m for m in base.measurements if m.what == "graft.ap_length"]
    start = fits.index("19")
    doubt = Doubt(Slot(start, start + 2, "19", ("9",), (defect.id,), True), ("19", "9"), (0.0, 0.5, -9.0))
    read = lambda changes: extract(Transcript(text=changed(fits, changes)), grammar)  # noqa: E731
    weighing = weighing_of(grammar)
    answers = solve([doubt], base, read, weighing.against)
    after = flags_of(base, answers, Transcript(text=fits), weighing, limits_of(grammar.folders))
    (flag,) = [f for f in after.flags if f.check == "number-uncertain"]
    assert set(flag.facts) == {defect.id, graft.id}


def test_a_doubt_that_changes_nothing_is_not_asked(grammar):
    cut = _slot("9", "millimeters wide", ("nine",))
    base, answers = _solved(grammar, [Doubt(cut, ("9", "nine"), (0.0, 3.0, -9.0))])
    after = flags_of(base, answers, Transcript(text=NOTE), weighing_of(grammar), limits_of(grammar.folders))
    assert [(f.id, f.message) for f in after.flags] == [(f.id, f.message) for f in base.flags]
    assert after.model_copy(update={"flags": ()}) == base.model_copy(update={"flags": ()})


def test_slots_stand_on_primary_facts_and_two_numbers_may_be_one(grammar):
    text = NOTE + " The tourniquet was let down at 50 8 minutes. He was 34 years old."
    slots = find_slots(extract(Transcript(text=text), grammar), annotate(text, grammar), grammar)
    heard = {slot.heard for slot in slots}
    assert {"Left", "left"} & heard or "left" in {h.lower() for h in heard}
    assert "50 8" in heard
    assert "34" not in heard
    assert all(text[s.start : s.end].lower() == s.heard.lower() for s in slots)
    assert all(a.end <= b.start for a, b in itertools.pairwise(slots))


@pytest.mark.parametrize(
    ("said", "heard", "whole"),
    [
        ("The tourniquet was let down at 50 8 minutes.", "50 8", "58"),
        ("The tourniquet was let down at 100 12 minutes.", "100 12", "112"),
        ("Under anesthesia the knee flexed to 140. 5 degrees of flexion.", "140. 5", "145"),
        ("The tourniquet was let down at 50, eight minutes.", "50, eight", "58"),
        ("Tourniquet time was 9 to 5 minutes.", "9 to 5", "95"),  # no span goes down
        ("Tourniquet time was six or four minutes.", "six or four", "64"),
        ("The hole was 3 to 4 millimeters from the edge.", None, None),
        ("The tourniquet was up for 40. 2 stitches were put in the posterior horn.", None, None),
        ("Brace locked at 30 degrees. 5 minutes of tourniquet time.", None, None),
    ],
)
def test_two_numbers_may_be_one(grammar, said, heard, whole):
    text = f"{NOTE} {said}"
    slots = find_slots(extract(Transcript(text=text), grammar), annotate(text, grammar), grammar)
    assert [(s.heard, s.split) for s in slots if s.split] == ([(heard, whole)] if heard else [])


def test_a_number_is_doubted_more_in_a_recording_badly_heard_all_over(grammar):
    hearing = weighing_of(grammar).hearing
    said = "The rim is 18 mm"
    clear, noisy = (
        Transcript(text=said, words=tuple(_word(said, word, p) for word in said.split())) for p in (0.99, 0.7)
    )
    nothing, more = (in_noise(hearing, noise_of(heard)) for heard in (clear, noisy))
    assert nothing == 0 < more
    assert scores((-2.0,), 0.9, hearing, more)[1:] > scores((-2.0,), 0.9, hearing)[1:]


def _word(text, word, probability):
    start = text.index(word)
    return Word(start=start, end=start + len(word), start_s=0.0, end_s=1.0, probability=probability)


def test_more_doubt_of_the_recognizer_is_more_doubt(grammar):
    hearing = weighing_of(grammar).hearing
    sure, unsure = scores((-2.0,), 0.99, hearing), scores((-2.0,), 0.2, hearing)
    assert unsure[-1] > sure[-1]
    assert scores((1.0,), 0.9, hearing)[1] > scores((-1.0,), 0.9, hearing)[1]
