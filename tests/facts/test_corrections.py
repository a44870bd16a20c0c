"""What is put right aloud: at once, across full stops, or sentences later with the thing named again."""

from __future__ import annotations

import pytest

from extractor.grammar.packs import load_grammar
from extractor.pipeline import extract
from extractor.record import CaseRecord
from extractor.speech.transcript import Transcript


def record(text: str) -> CaseRecord:
    return extract(Transcript(text=text), load_grammar())


def values(text: str, what: str) -> list[tuple[float | None, tuple[float, ...]]]:
    return [(m.value, m.earlier_values) for m in record(text).measurements if m.what == what]


@pytest.mark.parametrize(
    ("said", "side"),
    [
        ("Left knee, sorry, correction, right knee", "right"),
        ("Left knee, no, right knee", "right"),
        ("Right knee. Wait. Left knee", "left"),
        ("left knee no wait right knee", "right"),
        ("Left knee arthroscopy. The meniscus is torn. Correction, it is the right knee", "right"),
        ("Right medial meniscus repair. Scratch that. Left medial meniscus repair", "left"),
        ("This is a left, I mean right, knee arthroscopy", "right"),
    ],
)
def test_a_side_put_right_is_the_side_and_no_conflict(said: str, side: str) -> None:
    read = record(f"{said}. The meniscus was repaired.")
    assert read.laterality is not None
    assert read.laterality.value == side
    assert not any(f.check == "side-conflict" for f in read.flags)


@pytest.mark.parametrize(
    "said",
    [
        "Left knee. The meniscus is torn. Wait, the tourniquet on the right thigh is leaking.",
        "Right knee. No effusion. Left knee fine, meniscus torn.",
        "Left knee, meniscus transplant. Sorry for the noise. Time-out confirmed the right knee.",
    ],
)
def test_a_halt_is_no_correction_of_the_side(said: str) -> None:
    assert any(f.check == "side-conflict" for f in record(said).flags)


@pytest.mark.parametrize(
    ("said", "value", "earlier"),
    [
        ("The defect is twenty four. Wait. Twenty six. No, make that twenty five millimeters long.", 25, (24, 26)),
        ("The defect is eighteen millimeters long. Correction. The defect is nineteen millimeters long.", 19, (18,)),
        ("The defect was twenty millimeters long. Strike the last. It was twenty two millimeters long.", 22, (20,)),
        ("Defect length twelve millimeters. Scratch that. Fourteen millimeters.", 14, (12,)),
        ("The defect is twelve millimeters long. No. Fourteen millimeters.", 14, (12,)),
    ],
)
def test_a_length_put_right(said: str, value: float, earlier: tuple[float, ...]) -> None:
    assert values(f"Right knee, meniscus. {said}", "defect.ap_length") == [(value, earlier)]


def test_a_thing_named_again_after_a_correction_replaces_what_was_said_of_it() -> None:
    said = (
        "Right knee, meniscus transplant. The graft was marked at twenty and cut at eighteen millimeters. "
        "Then the rim was rasped. Correction, the graft was cut at nineteen millimeters."
    )
    read = record(said)
    lengths = {m.role: (m.value, m.earlier_values) for m in read.measurements if m.what == "graft.ap_length"}
    assert lengths == {"target": (20, ()), "made": (19, (18,))}
    assert not any(f.check == "value-conflict" for f in read.flags)


def test_a_correction_of_one_thing_leaves_the_others() -> None:
    said = (
        "Right knee, meniscus. The defect is eighteen millimeters long. Correction, the rim was two millimeters wide."
    )
    assert values(said, "defect.ap_length") == [(18, ())]
    assert values(said, "rim.width") == [(2, ())]


def test_a_correction_that_names_another_thing_does_not_take_the_bare_number_before_it() -> None:
    said = "Right knee. Meniscus defect length 18. Correction, the graft was cut at 19. All in millimeters."
    assert values(said, "defect.ap_length") == [(18, ())]
    assert values(said, "graft.ap_length") == [(19, ())]


def test_a_correction_after_a_full_stop_stays_with_the_thing_measured() -> None:
    said = (
        "Right knee meniscus transplant. A rim of two millimeters was left. "
        "The slot in the tibia was made nine. No, 8 millimeters wide and 10 millimeters deep."
    )
    assert values(said, "slot.width") == [(8, (9,))]
    assert values(said, "slot.depth") == [(10, ())]
    assert values(said, "rim.width") == [(2, ())]


@pytest.mark.parametrize(
    ("said", "what", "value", "earlier"),
    [
        ("The rim: one millimeter. Two. It's two millimeters.", "rim.width", 2, {1}),
        ("The rim is three millimeters. Four. Call it four millimeters.", "rim.width", 4, {3}),
        ("The defect is ten millimeters deep. Eleven. Eleven millimeters.", "defect.width", 11, {10}),
        ("Defect width nine. Sorry, that was the wrong end. Defect width ten.", "defect.width", 10, {9}),
        ("Defect width nine. No, I held the ruler askew. The width is ten.", "defect.width", 10, {9}),
        ("Defect width nine. Hang on, let me turn the ruler. It is ten millimeters wide.", "defect.width", 10, {9}),
        (
            "The defect along the rim: nine, ten, kind of ten and a half, no, call it ten.",
            "defect.ap_length",
            10,
            {10.5},
        ),
        ("Defect length is twelve, thirteen, no, twelve millimeters.", "defect.ap_length", 12, {13}),
    ],
)
def test_a_length_looked_at_again(said: str, what: str, value: float, earlier: set[float]) -> None:
    found = values(f"Right knee, meniscus transplant. {said}", what)
    assert [v for v, _ in found] == [value]
    assert earlier <= set(found[0][1])


def test_a_number_said_alone_behind_a_length_is_asked_about() -> None:
    read = record("Right knee, meniscus transplant. The rim is three millimeters. Four.")
    assert "number-uncertain" in {f.check for f in read.flags}


def test_what_is_explained_without_a_word_of_correction_is_a_conflict() -> None:
    read = record("Right knee, meniscus transplant. Defect width nine. The ruler lay askew. Defect width ten.")
    assert "value-conflict" in {f.check for f in read.flags}


NATIVE = "Left knee meniscus transplant. Native: posterior superior white, posterior inferior blue, "


@pytest.mark.parametrize(
    "said",
    [
        "Left knee meniscus transplant. Native: posterior superior white. Correction. Posterior superior is green. "
        "Posterior inferior blue.",
        "Left knee meniscus transplant. Native: posterior superior black. Sorry, green. Posterior inferior blue.",
        "Left knee meniscus transplant. Native: posterior superior black, no, green, posterior inferior blue.",
        "Left knee meniscus transplant. Native: green posterior inferior, I mean posterior superior, blue posterior "
        "inferior.",
    ],
)
def test_a_suture_put_right(said: str) -> None:
    read = record(said)
    assert {(s.region, s.surface, s.color) for s in read.sutures} == {
        ("posterior", "superior", "green"),
        ("posterior", "inferior", "blue"),
    }


@pytest.mark.parametrize(
    "said",
    [
        "Posterior superior tied to anterior inferior, no, to posterior inferior. Anterior superior tied to anterior "
        "inferior.",
        "Posterior superior tied to posterior inferior. Anterior superior tied to posterior inferior. Correction. "
        "Anterior superior tied to anterior inferior. Posterior superior tied to posterior inferior.",
        "Posterior superior, tied to posterior inferior. Anterior superior, to anterior inferior.",
    ],
)
def test_a_tie_put_right(said: str) -> None:
    read = record(f"{NATIVE}anterior superior green, anterior inferior purple. {said}")
    assert {frozenset(t.between) for t in read.ties} == {
        frozenset({"posterior-superior", "posterior-inferior"}),
        frozenset({"anterior-superior", "anterior-inferior"}),
    }


@pytest.mark.parametrize("said", ["Green, I beg your pardon.", "Oh, it is green.", "Correction, it is green."])
def test_a_color_seen_anew_is_the_color(said: str) -> None:
    read = record(f"Right knee. The native meniscus, posterior superior suture, blue. {said}")
    assert [s.color for s in read.sutures] == ["green"]
