"""Any text at all is read: no exception, evidence that lies in the text, no knee facts without a knee, linear growth.

DESIGN.md, section 3, and the brief of the work: random characters, emoji, right-to-left script, control characters,
and a megabyte of 'mm mm mm'.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from types import FrameType

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from extractor.grammar.packs import load_grammar
from extractor.language.annotate import annotate
from extractor.pipeline import extract
from extractor.record import CaseRecord
from extractor.record.models import LISTS
from extractor.speech.transcript import Transcript

GOLD = Path(__file__).resolve().parents[1] / "gold"
TRADE = (
    "none nothing neither it that had been when after before because instead than so but other same there too only was "
    "knee left right meniscus medial lateral rim graft defect root posterior superior inferior anterior white blue "
    "suture tape tied to and no not if could rasped cut marked measured millimeters mm cm by two ten 19 2-0 "
    "1/2 3.5 degrees tourniquet minutes was were the of from , . ; : ( ) ? \n - – / x × ° % # 🦵 שמאל ½"
).split(" ")
ODD = [
    "",
    " ",
    "\n\n\t \r\n",
    "\x00\x01\x1b[31m knee \x7f",
    "uh um er",
    "🦵🏽👩‍⚕️ 19 🩹 knee mm",
    "הברך השמאלית נותחה, מניסקוס 19 מ\"מ",
    "الركبة اليسرى ١٩ مم",
    "膝関節 左 19 mm 半月板",
    "\u202eknee thgir eht\u202c left",
    "k\u0301n\u0308ee mensi\u200bcus \ufeffleft\u00a0knee \u00ad",
    "½ inch ⅔ cm ² mm ㎜ ㎝ knee",
    "mm mm mm",
    "no no no, not not if if could could knee",
    "1 2 3 4 5 6 7 8 9 10 by by by 11 mm knee",
    "1e999 mm 99999999999999999999999999999 mm 0.0000000000000001 mm -5 mm knee",
    "nineteen hundred million billion trillion and a half mm knee",
    "(((((((((((((((((( knee ))))))))))))))))))",
    "........................ knee ???????????? !!!!!!!!!!!",
    "left left right right left right knee knee knee",
    "\ud7ff\ue000\uffff\U0010ffff knee",
]  # fmt: skip


def read(text: str) -> CaseRecord:
    """Read a text, and check that every fact and flag points at what stands in it."""
    record = extract(Transcript(text=text), load_grammar())
    facts = [fact for kind in LISTS for fact in getattr(record, kind)]
    facts += [record.laterality] if record.laterality else []
    assert all(fact.evidence for fact in facts)
    for entry in [*facts, *record.flags, *record.repairs]:
        for piece in entry.evidence:
            assert 0 <= piece.start < piece.end <= len(text)
            assert text[piece.start : piece.end] == piece.text
    return record


@pytest.mark.parametrize("text", ODD, ids=range(len(ODD)))
def test_odd_text_is_read(text: str) -> None:
    read(text)


@settings(max_examples=150, deadline=None)
@given(st.text(max_size=120) | st.text(st.characters(categories=["Cc", "Cf", "Co", "Cn", "M", "N", "S", "Z"])))
def test_any_characters_are_read(text: str) -> None:
    """Half a surrogate pair is no character: no file of text or transcript can hold it."""
    note = annotate(text, load_grammar())
    assert note.tokens.text == text
    read(text)


@settings(max_examples=150, deadline=None)
@given(st.lists(st.sampled_from(TRADE), max_size=60).map(" ".join))
def test_any_words_of_the_trade_are_read(text: str) -> None:
    read("Knee " + text)


@settings(max_examples=30, deadline=None)
@given(st.binary(max_size=200).map(lambda b: b.decode("utf-8", errors="replace")))
def test_bytes_that_are_no_text_are_read(text: str) -> None:
    read(text)


@settings(max_examples=40, deadline=None)
@given(st.data())
def test_a_note_broken_anywhere_is_read(data: st.DataObject) -> None:
    """Recognition may end, or begin, in the middle of a word."""
    path = data.draw(st.sampled_from(sorted(GOLD.glob("n*.yaml"))))
    text = yaml.safe_load(path.read_text(encoding="utf-8"))["note"]
    start = data.draw(st.integers(0, len(text)))
    read(text[start : data.draw(st.integers(start, min(len(text), start + 700)))])


@pytest.mark.parametrize("text", ODD[1:5])
def test_text_about_nothing_gives_nothing(text: str) -> None:
    record = read(text)
    assert record.laterality is None and not record.flags
    assert not any(getattr(record, kind) for kind in LISTS)


NOTES = "\n".join(yaml.safe_load(path.read_text(encoding="utf-8"))["note"] for path in sorted(GOLD.glob("n0*.yaml")))
LONG = {
    "mm mm mm": ("mm ", 1200),
    "notes one after another": (NOTES + "\n", 1),
    "no blanks": ("kneemeniscus", 1200),
    "blank lines": ("knee\n\n\n \n", 200),
    "commas": ("left knee, medial meniscus, lateral meniscus, ", 60),
    "questions": ("Trim the meniscus? ", 120),
    "steps": ("The meniscal rim was rasped. ", 100),
    "findings": ("The medial meniscus was torn. ", 100),
    "measurements": ("The meniscus defect measured nineteen millimeters. ", 160),
    "sizes": ("The meniscus graft was cut at eighteen by ten millimeters. ", 120),
    "devices": ("An eight millimeter cannula was placed in the knee. ", 160),
    "screws": ("a seven by twenty screw in the femur and nine by twenty in the tibia of the knee, ", 80),
    "sutures": ("White suture at the posterior superior meniscus and blue at the anterior inferior. ", 100),
    "sutures in one sentence": ("white at the posterior superior meniscus, blue at the anterior inferior, ", 100),
    "ties": ("The meniscus posterior superior suture was tied to the posterior inferior. ", 160),
    "ties in one sentence": ("meniscus posterior superior tied to posterior inferior, ", 160),
    "stitches": ("Two inside-out vertical mattress stitches of the meniscus. ", 240),
    "one sentence": ("the meniscus defect was nine millimeters and the rim was two millimeters and then ", 60),
    "one list": ("defect nine millimeters, rim two millimeters, left knee, ", 80),
    "no punctuation": ("the meniscus was torn we trimmed the rim ", 160),
    "history": ("In the past he had a left knee meniscus repair, ten millimeters. ", 80),
    "steps at places": ("An eight millimeter cannula was placed in the knee, white tape passed at the back. ", 160),
    "grades": ("Grade two changes of the medial femoral condyle. ", 320),
    "corrections": ("The meniscus defect was nine millimeters. No, ten. Scratch that. ", 120),
    "corrected sutures": ("White in the meniscus posterior superior, no, blue. ", 120),
    "not done": ("We did not trim the meniscus, I left the rim as it was. ", 120),
    "procedures": ("Partial medial meniscectomy, ACL reconstruction, lateral meniscus repair. ", 80),
    "tunnels": ("A tibial tunnel of ten millimeters, a femoral one of nine, for the ACL graft. ", 80),
    "plan": ("Weight bearing as tolerated for six weeks, a brace from zero to ninety degrees. ", 80),
    "headings": ("PROCEDURE: arthroscopy of the knee\nFINDINGS: torn meniscus\n\n", 80),
    "typed": ("1. L knee: meniscus defect 19 x 9 mm, rim 2 mm.\n", 120),
}
MOST = 4.2


def work(text: str) -> int:
    """Lines that Python runs to read a text, each turn of a loop counted: the same on any machine at any time."""
    lines = 0

    def count(frame: FrameType, event: str, arg: object) -> Callable[..., object]:
        nonlocal lines
        lines += event == "line"
        return count

    before = sys.gettrace()
    sys.settrace(count)
    try:
        read(text)
    finally:
        sys.settrace(before)
    return lines


@pytest.mark.parametrize("name", LONG)
def test_work_grows_with_the_length_of_the_text(name: str) -> None:
    """For four times the text a linear reader does four times the work, a quadratic one sixteen times.

    Work is counted, not timed, so that a busy machine changes nothing; `python -m benchmarks text` has the times.
    """
    unit, times = LONG[name]
    read(unit)  # what is built once is built
    assert work(unit * 4 * times) < MOST * work(unit * times)


def test_tokens_are_in_proportion_to_the_text() -> None:
    text = "the rim was rasped 19mm, "
    assert len(annotate(text * 200, load_grammar()).words) == 200 * len(annotate(text, load_grammar()).words)
