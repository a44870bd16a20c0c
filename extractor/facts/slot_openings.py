"""Where the words of a sentence's first number begin: in its own sentence, or in one before that it answers."""

from __future__ import annotations

from extractor.facts.case import Case
from extractor.language.clauses import Span
from extractor.language.quantities import Quantity

SAYS_NO_MORE = frozenset(
    {"about", "exactly", "that", "is", "it", "'s", "okay", "right", "so", "and", "now", "there", ","}
)
"""Words before a number that say nothing of what it is."""
READS = frozenset({"out", "at", "to", "was", "i", "we"})
"""... and those that only lead up to it where a sentence opens, beside those of `read-off`: 'It came out at'."""
REMARK = 5
"""Words of a remark before a number that stands alone, at most: 'hold on, nine millimeters'."""
ANNOUNCED = 2
"""Sentences between what is to be measured and a number that stands alone, at most."""
RULER = "ruler"


def opening(case: Case, sentence: Span, first: Quantity) -> int:
    """A sentence that is nothing but a quantity, or answers a question, also takes the one before as its words."""
    if first.start < sentence.start:
        sentence = case.sentence(first.start)  # 'It came out at seventeen. Sorry. Eighteen.'
    said = case.words[_remark(case, sentence, first) : first.start]
    lead = [w for w in said if w not in SAYS_NO_MORE]
    if {",", "there"}.isdisjoint(case.words[sentence.start : first.start]):
        read_off = READS | case.grammar.plain_words("read-off")
        lead = [w for w in lead if w not in read_off]
    tail = [w for w in case.words[first.end : sentence.end] if w.isalpha()]
    before = case.note.segments.sentences[max(0, sentence.number - 1)]
    asked = sentence.number > 0 and case.words[before.end - 1] == "?"
    answers = (asked or not tail) if not lead else asked and _names_what(case, before, sentence, first)
    others = [q for q in case.numbers(before.start, before.end) if q != first]  # a count may open there
    if sentence.number and answers and not any(q.dimension for q in others):
        return before.start if lead else _announced(case, before)
    if sentence.number and answers and not lead:
        return _left_open(case, others[-1], before) or sentence.start
    return sentence.start


def _left_open(case: Case, last: Quantity, before: Span) -> int | None:
    """'Eighteen millimeters along the rim, and the width. Hold on. Nine.': the size that a sentence ends by naming."""
    named = [c for c in case.within("dimension", last.end, before.end) if case.words[c.start - 1] == "the"]
    paused = named and any(case.words[i] == "," for i in range(last.end, named[-1].start))
    return named[-1].start if paused and case.words[named[-1].end : before.end] == ["."] else None


def _remark(case: Case, sentence: Span, first: Quantity) -> int:
    """'Turn the probe, eight millimeters': where a few words before a pause end that name nothing measured."""
    pauses = [i for i in range(sentence.start, first.start) if case.words[i] == ","]
    if not pauses or pauses[-1] - sentence.start > REMARK or _sized_within(case, sentence.start, first.start):
        return sentence.start
    return pauses[-1] + 1


def _sized_within(case: Case, start: int, end: int) -> bool:
    named = [c for name in ("dimension", "thing", "structure", "device") for c in case.within(name, start, end)]
    return any(c.name != RULER for c in named)


def _announced(case: Case, before: Span) -> int:
    """'Ruler along the rim. Hold it flat. Eighteen millimeters.': where it was said what would be measured.

    Between it and the number nothing is named that may have sizes, and no other size is told.
    """
    sentences = case.note.segments.sentences
    for sentence in reversed(sentences[max(0, before.number - ANNOUNCED) : before.number + 1]):
        if case.within("dimension", sentence.start, sentence.end):
            return sentence.start
        sized = any(q.dimension for q in case.numbers(sentence.start, sentence.end))
        if sized or _sized_within(case, sentence.start, sentence.end):
            break
    return before.start


def _names_what(case: Case, asked: Span, answer: Span, first: Quantity) -> bool:
    """'How long is it? With the probe, from the back, thirty millimeters': the question names what is measured."""
    own = case.within("dimension", answer.start, answer.end) or case.within("thing", first.end, answer.end)
    return not own and bool(case.within("dimension", asked.start, asked.end))
