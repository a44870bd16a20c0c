"""Numbers of stitches put right: 'three, no, four', 'Four horizontals. Hang on, count again. Five'."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from extractor.facts.case import Case
from extractor.facts.stitch_counts import Head, is_count, told
from extractor.facts.stitch_sums import SUMMING
from extractor.language.clauses import Span
from extractor.language.corrections import only_fillers, taken_back
from extractor.language.quantities import Quantity

ANEW = frozenset({
    "only", "just", "that", "that's", "it", "'s", "is", "was", "were", "there", "we", "i", "put", "in", "used", "make",
    "them", "a", "total", "of", "i've", "'ve", "have", "got", "counted", "so", "then", "and", "the", "to",
    "'m", "am", "wrong",
})  # fmt: skip
"""Plain words between a word of correction and the number that holds: 'no, sorry, there were only four'."""
PLACING = frozenset(
    {"they", "numbered", "placed", "needed", "took", "altogether", "all", "count", "number", "times", "x"}
)
COUNTING = frozenset({"count", "recount", "recounting", "counting"})
"""In a sentence before a number these say that it is counted anew: 'Let me count again. Five.'"""
IN_FACT = (["actually"], ["in", "fact"], ["in", "reality"], ["really"], ["now", "that", "i", "count"])
STOPS = frozenset({",", ".", ";", "\n", ")"})
TALK = 9
"""Tokens of a sentence that only says that there is something to put right, at most: 'Hang on, count again.'"""


def with_recounts(case: Case, sentence: Span, heads: Sequence[Head]) -> list[Head]:
    """The heads of a sentence without those that are taken back, or with the number told instead.

    A number that names its stitches or their place anew stands for itself; one that does not is of the head before.
    """
    out: list[Head] = []
    for head in heads:
        old = out[-1] if out else None
        if old is None or head.way != "counted" or not _instead(case, old.end, head.start):
            out.append(head)
        elif head.noun or told(case, head.end, sentence):
            out[-1] = replace(head, noun=head.noun or old.noun)
        else:
            out[-1] = replace(old, count=head.count)
    opens = {h.start for h in heads}
    for n, head in enumerate(out):
        stop = out[n + 1].start if n + 1 < len(out) else sentence.end
        for q in case.numbers(head.end, stop):
            if q.start not in opens and _bare(case, q, sentence) and _instead(case, head.end, q.start):
                out[n] = replace(head, count=int(q.value or 0))
    return out


def _bare(case: Case, q: Quantity, sentence: Span) -> bool:
    return is_count(q) and (q.end >= sentence.end or case.words[q.end] in STOPS)


def _instead(case: Case, start: int, end: int) -> bool:
    """Whether a number right before token `end` is told instead of what ends at `start`."""
    if _put_right(case.words[start:end]):
        return True
    cue = taken_back(case.words, start, end)
    return cue is not None and only_fillers(case.words, cue[1], end, ANEW)


def _put_right(between: Sequence[str]) -> bool:
    """'..., actually it was', '..., in fact there were': ahead of a bare number these take back the one before."""
    pause = max((i for i, w in enumerate(between) if w in {",", ";", "-"}), default=-1)
    said = list(between[pause + 1 :])
    leads = next((lead for lead in IN_FACT if said[: len(lead)] == lead), None)
    return pause >= 0 and leads is not None and all(w in ANEW for w in said[len(leads) :]) and len(said) > len(leads)


def recount(case: Case, sentence: Span) -> Quantity | None:
    """The number that a sentence puts in place of one told just before, and says no more, as in 'Correction: nine'."""
    numbers = [q for q in case.numbers(sentence.start, sentence.end) if is_count(q)]
    if len(numbers) != 1 or not _bare(case, numbers[0], sentence):
        return None
    (q,) = numbers
    nothing_else = only_fillers(case.words, sentence.start, q.start, ANEW) and only_fillers(
        case.words, q.end, sentence.end, ANEW
    )
    return q if nothing_else and counted_again(case, q.start) else None


def lone_number(case: Case, sentence: Span) -> Quantity | None:
    """The bare number that is all a sentence says: 'Four.', 'Four of them.', 'I put in four'."""
    numbers = [q for q in case.numbers(sentence.start, sentence.end) if is_count(q)]
    if len(numbers) != 1 or not only_fillers(case.words, sentence.start, numbers[0].start, ANEW | PLACING):
        return None
    return numbers[0] if only_fillers(case.words, numbers[0].end, sentence.end, ANEW | PLACING) else None


def summed_up(case: Case, sentence: Span) -> int | None:
    """The number that a sentence says and nothing more, as in 'That makes five'."""
    numbers = [q for q in case.numbers(sentence.start, sentence.end) if is_count(q)]
    if len(numbers) != 1 or not _bare(case, numbers[0], sentence) or numbers[0].start == sentence.start:
        return None
    (q,) = numbers
    ahead = only_fillers(case.words, sentence.start, q.start, ANEW | SUMMING)
    behind = only_fillers(case.words, q.end, sentence.end, ANEW)
    return int(q.value or 0) if ahead and behind else None


def counted_again(case: Case, token: int) -> bool:
    """Whether what leads up to a token takes back what was counted before: in its sentence or in a few words."""
    sentence = case.sentence(token)
    if _instead(case, sentence.start, token):
        return True
    before = case.note.segments.sentences[max(0, sentence.number - 1)]
    few = 0 < sentence.number and before.end - before.start <= TALK
    plain = few and only_fillers(case.words, sentence.start, token, ANEW)
    said = case.words[before.start : before.end]
    anew = taken_back(case.words, before.start, before.end) or not COUNTING.isdisjoint(said)
    return plain and not case.numbers(before.start, before.end) and bool(anew)
