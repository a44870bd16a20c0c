"""What was said, sentence by sentence: seconds in the margin, words behind facts, doubtful words, repairs."""

from __future__ import annotations

import re
from dataclasses import dataclass

from extractor.record.models import facts_by_id
from extractor.review.models import Sheet

DOUBTFUL = 0.5
"""A word the recognizer gave a lower probability than this is underlined. This project's choice, no source."""
SENTENCE = re.compile(r"(?:[^.!?\n]|[.!?](?![.!?\s]|$))*(?:[.!?]+(?=\s|$)|\n|$|[.!?]+)\s*")
WORD = re.compile(r"\S+")
LONGEST = 240
"""A stretch without a full stop is broken after so many characters, between words."""


@dataclass(frozen=True)
class WordView:
    """One word, with the space after it."""

    start: int
    end: int
    text: str
    sound: str
    fact: str
    doubtful: int | None
    read_as: str
    space: str


@dataclass(frozen=True)
class Line:
    """One sentence."""

    start: int
    end: int
    clock: str
    sound: str
    words: tuple[WordView, ...]


@dataclass(frozen=True)
class SaidPart:
    """The words of one dictation."""

    title: str
    sound: str | None
    offset_s: float
    seconds: float | None
    lines: tuple[Line, ...]
    number: int


def said_of(sheet: Sheet) -> list[SaidPart]:
    """Lay the transcript out for the page."""
    text = sheet.transcript.text
    words = _words(sheet)
    out = []
    for number, part in enumerate(sheet.parts):
        title = f"Addendum of {part.at[:10]}" if part.addendum else ""
        lines = tuple(_line(first, last, words) for first, last in sentences(text, part.start, part.end))
        shown = tuple(line for line in lines if line.words)
        out.append(SaidPart(title, part.sound, part.offset_s, part.seconds, shown, number))
    return out


def sentences(text: str, start: int, end: int) -> list[tuple[int, int]]:
    """Cut a stretch of text into sentences, none longer than can be read at a glance."""
    found = []
    at = start
    while at < end:
        match = SENTENCE.match(text, at, end)
        last = match.end() if match and match.end() > at else end
        while last - at > LONGEST and (cut := text.rfind(" ", at, at + LONGEST)) > at:
            found.append((at, cut + 1))
            at = cut + 1
        found.append((at, last))
        at = last
    return found


def sentence_at(text: str, place: int) -> tuple[int, int]:
    """The sentence that holds a character, without the space around it."""
    for start, end in sentences(text, 0, len(text)):
        if start <= place < end:
            while start < end and text[start].isspace():
                start += 1
            return start, start + len(text[start:end].rstrip())
    return 0, 0


def _words(sheet: Sheet) -> list[WordView]:
    text = sheet.transcript.text
    facts = _fact_at(sheet)
    repairs = {e.start: (e.end, r.read_as) for r in sheet.record.repairs for e in r.evidence[:1]}
    timed = {w.start: w for w in sheet.transcript.words}
    spans = [(w.start, w.end) for w in sheet.transcript.words]
    if not spans:
        spans = [m.span() for m in WORD.finditer(text)]
    else:  # an addendum that was typed has no timed words
        covered = max(end for _, end in spans)
        spans += [m.span() for m in WORD.finditer(text, covered)]
    out: list[WordView] = []
    for number, (start, end) in enumerate(spans):
        if out and out[-1].end >= end:
            continue  # within a repair of several words, which is shown as one
        word = timed.get(start)
        low = word.probability if word and word.probability is not None and word.probability < DOUBTFUL else None
        read_as, sound = "", f"{word.start_s:.2f}-{word.end_s:.2f}" if word and word.start_s is not None else ""
        last = number
        if start in repairs:
            until, read_as = repairs[start]
            while last + 1 < len(spans) and spans[last + 1][0] < until:
                last += 1
            end = spans[last][1]
            read_as += text[until:end] if until < end else ""
        following = spans[last + 1][0] if last + 1 < len(spans) else len(text)
        fact = next((f for at in range(start, end) if (f := facts.get(at))), "")
        doubtful = None if low is None else round(low * 100)
        space = " " if following > end else ""
        out.append(WordView(start, end, text[start:end], sound, fact, doubtful, read_as, space))
    return out


def _fact_at(sheet: Sheet) -> dict[int, str]:
    """Which fact the words at each character tell; of several the one with the fewest words."""
    found: dict[int, tuple[int, str]] = {}
    for identity, fact in facts_by_id(sheet.record).items():
        first = fact.evidence[0]
        for at in range(first.start, first.end):
            length = first.end - first.start
            if at not in found or length < found[at][0]:
                found[at] = (length, identity)
    return {at: identity for at, (_, identity) in found.items()}


def _line(start: int, end: int, words: list[WordView]) -> Line:
    inside = tuple(w for w in words if start <= w.start < end)
    timed = [w.sound for w in inside if w.sound]
    first = float(timed[0].split("-")[0]) if timed else None
    clock = "" if first is None else f"{int(first) // 60}:{int(first) % 60:02d}"
    sound = f"{timed[0].split('-')[0]}-{timed[-1].split('-')[1]}" if timed else ""
    return Line(start, end, clock, sound, inside)
