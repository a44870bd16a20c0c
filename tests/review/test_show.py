"""The case as the page shows it."""

from __future__ import annotations

from extractor.record.facts import Evidence, Suture, Tie
from extractor.record.models import CaseRecord, Repair
from extractor.review.act.reading import Reader
from extractor.review.models import NotePart, Sheet
from extractor.review.show.said import said_of, sentence_at, sentences
from extractor.review.show.sheet import sheet_view
from extractor.review.show.square import squares_of
from extractor.speech.transcript import Transcript, Word
from tests.review.notes import CLEAN

HERE = (Evidence(start=0, end=1, text="x", rule="r"),)


def suture(number: int, tissue: str, region: str, surface: str, color: str, **more: str) -> Suture:
    return Suture(id=f"s{number}", tissue=tissue, region=region, surface=surface, color=color, evidence=HERE, **more)  # type: ignore[arg-type]


def test_the_squares_show_each_position_once_and_where_native_and_graft_differ() -> None:
    record = CaseRecord(
        case_id="c",
        sutures=(
            suture(1, "native", "posterior", "superior", "blue"),
            suture(2, "native", "posterior", "inferior", "white", form="tape"),
            suture(3, "graft", "posterior", "superior", "blue"),
            suture(4, "graft", "posterior", "inferior", "green", form="tape"),
        ),
        ties=(Tie(id="t1", between=("posterior-superior", "posterior-inferior"), evidence=HERE),),
    )
    native, graft = squares_of(record)
    assert {c.position: c.fact for c in native.cells if c.fact} == {
        "posterior-superior": "s1",
        "posterior-inferior": "s2",
    }
    differing = {c.position for square in (native, graft) for c in square.cells if c.differs}
    assert differing == {"posterior-inferior"}
    (tie,) = graft.ties
    ends = {c.position: (c.x, c.y) for c in graft.cells}
    assert tie.x1 == tie.x2 == ends["posterior-superior"][0] + 48  # drawn straight down, between the two
    assert ends["posterior-superior"][1] < tie.y1 < tie.y2 < ends["posterior-inferior"][1] + 96
    assert not native.ties


def test_a_bar_puts_the_value_where_it_lies_in_its_range(reader: Reader) -> None:
    view = sheet_view(_sheet(reader, CLEAN), reader.limits)
    facts = {f.name: f for group in view.groups for f in group.facts}
    bar = facts["length of the tear"].bar
    assert bar is not None
    limit = reader.limits.measurements["tear.length"]
    assert limit.possible
    low, high = limit.possible
    assert abs(bar.low / 160 - (12 - low) / (high - low)) < 0.01 and bar.level == "usual"


def test_every_fact_of_a_record_stands_on_the_sheet_once(reader: Reader) -> None:
    from extractor.record.models import facts_by_id

    sheet = _sheet(reader, CLEAN)
    view = sheet_view(sheet, reader.limits)
    shown = [f.id for f in view.procedures] + ([view.side.id] if view.side else [])
    shown += [f.id for group in view.groups for f in (*group.facts, *group.apart)]
    assert sorted(shown) == sorted(facts_by_id(sheet.record))
    assert "surgeon" in view.missing and "procedure" not in view.missing


def _sheet(reader: Reader, text: str) -> Sheet:
    transcript = Transcript(text=text)
    part = NotePart(recording="r", start=0, end=len(text), at="2026-01-02T03:04:05+00:00")
    return Sheet(record=reader.read(transcript, "c"), transcript=transcript, parts=(part,))


def test_sentences_cover_the_text_and_none_is_too_long_to_read() -> None:
    text = "One. Two point 2.5 is kept whole!  Three\n\n" + "word " * 200
    found = sentences(text, 0, len(text))
    assert "".join(text[a:b] for a, b in found) == text
    assert all(b - a <= 241 for a, b in found)
    assert [text[a:b] for a, b in found][1].strip() == "Two point 2.5 is kept whole!"
    assert text[slice(*sentence_at(text, 6))] == "Two point 2.5 is kept whole!"


def test_doubtful_words_seconds_and_repairs_of_several_words_are_shown() -> None:
    text = "Seen from femoral condial, fine."
    words = [(0, 4), (5, 9), (10, 17), (18, 26), (27, 32)]
    transcript = Transcript(
        text=text,
        words=tuple(
            Word(start=a, end=b, start_s=61.0 + n, end_s=62.0 + n, probability=0.2 if n == 1 else 0.9)
            for n, (a, b) in enumerate(words)
        ),
    )
    evidence = (Evidence(start=10, end=25, text="femoral condial", rule="repair"),)
    repair = Repair(heard="femoral condial", read_as="femoral condyle", why="sounds alike", evidence=evidence)
    part = NotePart(recording="r", start=0, end=len(text), at="2026-01-02T03:04:05+00:00")
    sheet = Sheet(record=CaseRecord(case_id="c", repairs=(repair,)), transcript=transcript, parts=(part,))
    (line,) = said_of(sheet)[0].lines
    assert line.clock == "1:01"
    assert [(w.text, w.read_as) for w in line.words] == [
        ("Seen", ""), ("from", ""), ("femoral condial,", "femoral condyle,"), ("fine.", "")
    ]  # fmt: skip
    assert [w.doubtful for w in line.words] == [None, 20, None, None]
