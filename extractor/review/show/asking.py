"""Open questions as the page asks them, and what comes next when there are none."""

from __future__ import annotations

from dataclasses import dataclass

from extractor.grammar.limits import Limits
from extractor.record.models import Flag
from extractor.review.act.primary import Standing, open_flags, standing
from extractor.review.act.questions import Question, question_of
from extractor.review.models import Settlement, Sheet
from extractor.review.show.facts import sound_of, spans_of
from extractor.review.show.said import sentence_at

GRAVITY = {"stop": ("■", "before signing"), "review": ("▲", "look again"), "note": ("●", "remark")}


@dataclass(frozen=True)
class QuestionView:
    """One question, the sentence it was said in, and where that is."""

    question: Question
    flag: Flag
    sign: str
    gravity: str
    said: tuple[str, ...]
    spans: str
    sound: str
    number: int


@dataclass(frozen=True)
class AskingView:
    """The region of questions."""

    questions: tuple[QuestionView, ...]
    settled: tuple[Settlement, ...]
    standing: Standing
    state: str
    may_change: bool


def asking_view(sheet: Sheet, state: str, limits: Limits, *, may_change: bool) -> AskingView:
    """Lay the questions of a case out, most harmful first."""
    views = []
    for number, flag in enumerate(open_flags(sheet)):
        question = question_of(sheet, flag, limits)
        sign, gravity = GRAVITY[flag.severity]
        said = tuple(dict.fromkeys(_sentence(sheet, e.start) for e in question.rests_on if e.end > e.start))[:4]
        views.append(
            QuestionView(
                question, flag, sign, gravity, said, spans_of(question.rests_on), sound_of(question.rests_on), number
            )
        )
    settled = tuple(s for s in sheet.settled.values() if not any(s.message == v.flag.message for v in views))
    return AskingView(tuple(views), settled, standing(sheet), state, may_change)


def _sentence(sheet: Sheet, place: int) -> str:
    start, end = sentence_at(sheet.transcript.text, place)
    return sheet.transcript.text[start:end]
